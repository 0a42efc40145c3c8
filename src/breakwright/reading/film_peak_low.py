"""The lower end of a peak: the largest load that all displays together surely showed.

Values of two displays come at two times. While the load rises both may be added, for the earlier
one has only grown since; where a display shows less afterwards, without the piece having broken,
load may have gone from one display to the other between the two times, and the smaller value is
taken (but for the display whose value came last).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from breakwright.reading.film_samples import Samples

__all__ = ["FALLEN", "FIRM", "Together", "firm_load", "together_at"]

# So many frames must agree on a value, for it to be one; a value that falls below this share of
# the one before it is the piece's break and no slip.
FIRM = 2
FALLEN = 0.5


@dataclass(frozen=True, slots=True)
class Together:
    """At ``time`` (s) the displays surely bore ``loads`` (N) at one moment, None where one told
    nothing; their sum is ``load``; ``places`` are the samples that say so."""

    time: float
    places: tuple[int, ...]
    loads: tuple[float | None, ...]
    load: float


def together_at(displays: Sequence[Samples], time: float) -> Together:
    """Return what the displays surely bore together at ``time``; a display that tells nothing
    adds nothing."""
    places = _before_break(displays, [one.at(time) for one in displays], time)
    least: list[float | None] = []
    gained: list[tuple[float, float, float]] = []
    for one, place in zip(displays, places, strict=True):
        own = firm_load(one, place)
        if own is None:
            least.append(None)
            continue
        sample, after = one.samples[place], one.next_load(place)
        changing = (
            place == one.at(time) and time > sample.until and after is not None and after < own
        )
        slipped = (
            len(displays) > 1 and after is not None and FALLEN * own < after < own - one.step / 2.0
        )
        low = after if after is not None and (changing or slipped) else own
        least.append(low)
        gained.append((sample.came, sample.since, 0.0 if changing else own - low))
    if gained:
        newest = max(gained)
        # Where it cannot be told which value came last, none of them has that right for sure.
        candidates = [gain for start, _, gain in gained if start >= newest[1]]
        bonus = min(candidates)
        if bonus > 0.0:
            last = max(
                (number for number, low in enumerate(least) if low is not None),
                key=lambda number: displays[number].samples[places[number]].came,
            )
            least[last] = (least[last] or 0.0) + bonus
    return Together(
        time, tuple(places), tuple(least), sum(load for load in least if load is not None)
    )


def _before_break(displays: Sequence[Samples], places: Sequence[int], time: float) -> Sequence[int]:
    """Where one display shows the fall in the frame in which another shows a last rise, the rise
    was measured first: the one that fell still bore what it had shown."""
    came = [one.samples[place].came == time for one, place in zip(displays, places, strict=True)]
    fell = [
        fresh and _falls(one, place)
        for one, place, fresh in zip(displays, places, came, strict=True)
    ]
    last = [
        fresh and not gone and _falls(one, place + 1)
        for one, place, fresh, gone in zip(displays, places, came, fell, strict=True)
    ]
    if not any(fell) or not any(last):
        return places
    return [place - 1 if gone else place for place, gone in zip(places, fell, strict=True)]


def _falls(one: Samples, place: int) -> bool:
    if not 0 < place < len(one.samples):
        return False
    before, now = one.samples[place - 1].load, one.samples[place].load
    return before is not None and now is not None and now <= FALLEN * before


def firm_load(one: Samples, place: int) -> float | None:
    """The load of sample ``place``; of one on which too few frames agree, no more than those
    beside it bear out."""
    sample = one.samples[place]
    if sample.load is None or sample.agreeing >= FIRM:
        return sample.load
    before = one.samples[place - 1].load if place > 0 else None
    return None if before is None else min(before, sample.load)
