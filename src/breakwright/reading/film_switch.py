"""A number that changes by a fixed factor at once: another unit, or a point that moved."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from breakwright.model.film import DisplayTrace, Span

__all__ = ["Switch", "switched_spans", "switches_of", "tenfold_of"]

# lb in kg and back; kgf to N and back. A jump must meet a factor within half a per cent and the
# display's step, and the number must be large enough to tell, and stay there for a while.
_FACTORS = (2.2046226218, 1.0 / 2.2046226218, 9.80665, 1.0 / 9.80665)
_WITHIN = 0.005
_LEAST_STEPS = 20.0
_STAYS_S = 1.0
_TEN = (10.0, 0.1)
_TEN_WITHIN = 0.04
# The others count as still where they moved by less than this share of their largest value.
_STILL = 0.02


@dataclass(frozen=True, slots=True)
class Switch:
    """From ``before`` to ``after`` (numbers of spans) the number changed by ``factor``."""

    before: int
    after: int
    factor: float


def switches_of(trace: DisplayTrace, others: Sequence[DisplayTrace]) -> tuple[Switch, ...]:
    """Return where ``trace`` went to another unit: at once, while ``others`` held still, and for
    longer than an intermediate value of a fall would stay."""
    return _jumps(trace, others, factors=_FACTORS, within=_WITHIN)


def tenfold_of(trace: DisplayTrace, others: Sequence[DisplayTrace]) -> tuple[Switch, ...]:
    """Return where the number of ``trace`` jumped by ten or a tenth at once."""
    return _jumps(trace, others, factors=_TEN, within=_TEN_WITHIN)


def switched_spans(trace: DisplayTrace, others: Sequence[DisplayTrace]) -> frozenset[int]:
    """Return the numbers of the spans that are in another unit than the film began with, or off
    by ten."""
    jumps = sorted(
        (*switches_of(trace, others), *tenfold_of(trace, others)), key=lambda jump: jump.after
    )
    odd: set[int] = set()
    factor, since = 1.0, 0
    for jump in jumps:
        if abs(factor - 1.0) > 0.02:
            odd.update(range(since, jump.after))
        factor *= jump.factor
        since = jump.after
    if abs(factor - 1.0) > 0.02:
        odd.update(range(since, len(trace.spans)))
    return frozenset(odd)


def _jumps(
    trace: DisplayTrace,
    others: Sequence[DisplayTrace],
    *,
    factors: Sequence[float],
    within: float,
) -> tuple[Switch, ...]:
    shown = [(place, span) for place, span in enumerate(trace.spans) if span.value]
    found: list[Switch] = []
    for number, ((a, old), (b, new)) in enumerate(pairwise(shown)):
        if old.corrected or new.corrected or not old.value or not new.value:
            continue
        least = min(abs(old.value), abs(new.value))
        if least < _LEAST_STEPS * trace.step:
            continue
        before = _rise(shown, number - 1, trace.refresh)
        after = _rise(shown, number + 1, trace.refresh)
        slack = within * abs(old.value) + trace.step
        for factor in factors:
            # Between the two the load went on as it had done.
            gone_on = new.value / factor - old.value
            low, high = sorted((0.0, 1.6 * before))
            if (
                low - slack <= gone_on <= high + slack + trace.step / factor
                and abs(after / factor - before) <= 0.5 * abs(before) + 2.0 * slack
                and _stays(trace.spans, b)
                and _still(others, old.end - _STAYS_S, new.start + _STAYS_S)
            ):
                found.append(Switch(a, b, factor))
                break
    return tuple(found)


def _rise(shown: Sequence[tuple[int, Span]], number: int, refresh: float | None) -> float:
    """How much the value number ``number`` changed to the next, in one refresh."""
    if not 0 <= number < len(shown) - 1:
        return 0.0
    old, new = shown[number][1], shown[number + 1][1]
    refreshes = 1.0 if not refresh else max(1.0, round((new.start - old.start) / refresh))
    return ((new.value or 0.0) - (old.value or 0.0)) / refreshes


def _stays(spans: Sequence[Span], place: int) -> bool:
    """Whether the new number neither falls on nor goes back at once."""
    value, start = spans[place].value, spans[place].start
    assert value is not None
    for span in spans[place:]:
        if span.value is not None and not 0.5 < span.value / value < 2.0:
            return span.start - start >= _STAYS_S
    return spans[-1].end - start >= _STAYS_S


def _still(others: Sequence[DisplayTrace], start: float, end: float) -> bool:
    for other in others:
        values = [s.value for s in other.spans if s.value is not None]
        near = [
            s.value for s in other.spans if s.value is not None and s.start < end and s.end > start
        ]
        moved = max(near) - min(near) if near else 0.0
        # What one display gives the load by another unit, the other doesn't show.
        if moved > max(_STILL * max(map(abs, values)), 4.0 * other.step) and not _steady(near):
            return False
    return True


def _steady(values: Sequence[float]) -> bool:
    """Whether the values go one way in like steps, as a pull that goes on does."""
    moves = [b - a for a, b in pairwise(values)]
    total = abs(sum(moves))
    return total > 0.0 and max(map(abs, moves)) <= 0.5 * total
