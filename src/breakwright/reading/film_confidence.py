"""How sure a stretch of frames is of the one value it was given."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_evidence import Evidence, Label
from breakwright.reading.film_segments import lies_between
from breakwright.reading.film_viterbi import Pace, Stretch

__all__ = ["ACCEPTED", "Sureness", "distinct_frames", "sureness_of"]

# A value is told as one from here on; below it is 'unreadable'. The frames of one value have
# their faults in common, so n of them weigh as sqrt(n). At most so sure anything is.
ACCEPTED = 0.97
_MOST = 0.9995
_NOTHING_ELSE = 1e-4
# What is left of the confidence in a value that was shown for less than half a refresh, in one
# that could be the mixture of its neighbours, in a spike: common practice, no source.
_TOO_SHORT = 0.8
_MIXTURE = 0.4
_SPIKE = 0.9
_SPIKE_JUMPS = 6.0
_ENOUGH = 2.5
_FIRM = 2


@dataclass(frozen=True, slots=True)
class Sureness:
    """``confidence`` (0 to 1) that the value is right; ``agreeing`` distinct frames say it, the
    last of them being ``last``."""

    confidence: float
    agreeing: int
    last: int


def distinct_frames(change: NDArray[np.float32]) -> NDArray[np.bool_]:
    """Return for each frame whether it is a picture of its own, not the one before sent again.

    A frame without any change at all is a copy, unless such frames are usual: then the film is
    drawn or cleaned, and stillness tells nothing.
    """
    still = change == 0.0
    if len(still):
        still[0] = False
    return ~still if still.mean() < 0.3 else np.ones(len(change), bool)


def sureness_of(
    story: Sequence[Stretch],
    place: int,
    *,
    evidence: Evidence,
    distinct: Sequence[bool],
    times: NDArray[np.float64],
    pace: Pace,
) -> Sureness:
    """Return how sure the value of ``story[place]`` is."""
    stretch = story[place]
    label = stretch.label
    frames = range(stretch.first, stretch.stop)
    agree = [frame for frame in frames if evidence.best[frame] == label]
    count = sum(distinct[frame] for frame in agree)
    last = agree[-1] if agree else stretch.first
    if count == 0:
        return Sureness(0.0, 0, last)
    likelier = _likelier_point(story, place, pace)
    confidence = _against_rivals(label, frames, evidence, count * pace.weight, likelier)
    confidence *= _of_its_length(story, place, times, pace, count)
    return Sureness(min(confidence, _MOST), count, last)


def _against_rivals(
    label: Label,
    frames: range,
    evidence: Evidence,
    count: float,
    likelier: Callable[[Label], float],
) -> float:
    """Against every other reading, and against none of them being right."""
    rivals: dict[Label, float] = {}
    own = nothing = floors = 0.0
    told = 0
    for frame in frames:
        floor = evidence.floors[frame]
        logs = evidence.frames[frame]
        if label not in logs and evidence.best[frame].value is None:
            continue  # glare, a hand: it says nothing about which number stands there
        told += 1
        floors += floor
        own += max(logs.get(label, floor), floor)
        spoken = sum(math.exp(log) for other, log in logs.items() if other.value is not None)
        nothing += math.log(max(1.0 - spoken, _NOTHING_ELSE))
        for other, log in logs.items():
            if other != label and other.value is not None and log > floor:
                rivals[other] = rivals.get(other, 0.0) + log - floor
    if told == 0:
        return 0.0
    weight = math.sqrt(max(count, 1.0)) / told
    odds = math.exp(min((nothing - own) * weight, 50.0))
    for other, gain in rivals.items():
        odds += math.exp(min((gain + floors - own) * weight + likelier(other), 50.0))
    return 1.0 / (1.0 + odds)


def _likelier_point(story: Sequence[Stretch], place: int, pace: Pace) -> Callable[[Label], float]:
    """How much likelier (nats) the neighbours make a rival that has the same digits and its point
    elsewhere: that is what the digits themselves cannot tell."""
    label = story[place].label
    beside = [story[n].label for n in (place - 1, place + 1) if 0 <= n < len(story)]
    values = [other for other in beside if other.value is not None]

    def likelier(rival: Label) -> float:
        if rival.value is None or _digits(rival) != _digits(label):
            return 0.0
        return sum(pace.change(other, label) - pace.change(other, rival) for other in values)

    return likelier


def _digits(label: Label) -> str:
    return label.text.replace(".", "").lstrip("-0")


def _of_its_length(
    story: Sequence[Stretch], place: int, times: NDArray[np.float64], pace: Pace, count: int
) -> float:
    stretch = story[place]
    if place in (0, len(story) - 1):
        return 1.0
    before, after = story[place - 1].label, story[place + 1].label
    value = stretch.label.value
    if before.value is None or after.value is None or value is None:
        return 1.0
    # One frame after a gap may as well be torn; two are not, and the value came in the gap.
    near = times[max(stretch.began - (count >= _FIRM), 0) : stretch.began + 1].tolist()
    shown_for = float(times[story[place + 1].began]) - pace.earliest(near)[-1]
    refresh = pace.refresh or 0.12
    early = shown_for < 0.8 * refresh - 0.5 * pace.apart
    if not early or after.value <= pace.zero:
        return 1.0
    # A number that its neighbours mix to, or that stands out from both, and that left early.
    mixed = stretch.label.text not in (before.text, after.text) and lies_between(
        stretch.label.text, before.text, after.text
    )
    low, high = sorted((before.value, after.value))
    jumps = min(abs(value - before.value), abs(value - after.value)) / pace.jump
    inside = low <= value <= high
    # What no mixture can look like, seen often enough on the way up, was late and is no ghost.
    late = inside and not mixed and count * pace.weight >= _ENOUGH
    short = shown_for < 0.5 * refresh - 0.5 * pace.apart
    share = _TOO_SHORT if short and not late else 1.0
    if mixed:
        share *= _MIXTURE
    if not inside and jumps > _SPIKE_JUMPS:
        share *= _SPIKE
    return share
