"""Displays that stand still while another one moves: hung, or holding their peak."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from breakwright.model.film import DisplayTrace, Span

__all__ = ["Standstill", "Why", "standstills_of", "with_frozen"]

# No change for so many refreshes and s while another display goes through so much of its range
# and so many steps. Common practice, no source.
_REFRESHES = 8.0
_LEAST_S = 1.5
_MOVED_SHARE = 0.08
_MOVED_STEPS = 8.0
_FELL_TO = 0.3
_AT_PEAK = 0.9
# A scale alone that stood so long at its peak before it went to zero may have held it.
_ALONE_REFRESHES = 20.0
_ALONE_S = 4.0


class Why(StrEnum):
    FROZEN = "frozen"
    HELD = "held-after-break"


@dataclass(frozen=True, slots=True)
class Standstill:
    """Span number ``span`` of display number ``display`` did not change from ``start`` to ``end``
    (s)."""

    display: int
    span: int
    start: float
    end: float
    why: Why


def standstills_of(displays: Sequence[DisplayTrace]) -> tuple[Standstill, ...]:
    """Return every value that stood suspiciously long."""
    found: list[Standstill] = []
    for number, trace in enumerate(displays):
        others = [other for other in displays if other is not trace]
        highest = max((span.value for span in trace.spans if span.value is not None), default=0.0)
        long = max(_REFRESHES * (trace.refresh or 0.25), _LEAST_S)
        for place, span in enumerate(trace.spans):
            if span.value is None or span.corrected or span.end - span.start < long:
                continue
            why = _why(trace, place, others, highest)
            if why is not None:
                found.append(Standstill(number, place, span.start, span.end, why))
    return tuple(found)


def with_frozen(displays: Sequence[DisplayTrace]) -> tuple[DisplayTrace, ...]:
    """Return the traces with ``frozen`` set on the spans that may have hung, and only there."""
    hung = {(s.display, s.span) for s in standstills_of(displays) if s.why is Why.FROZEN}
    return tuple(
        replace(
            trace,
            spans=tuple(
                span
                if span.frozen == ((number, place) in hung)
                else replace(span, frozen=(number, place) in hung)
                for place, span in enumerate(trace.spans)
            ),
        )
        for number, trace in enumerate(displays)
    )


def _why(
    trace: DisplayTrace, place: int, others: Sequence[DisplayTrace], highest: float
) -> Why | None:
    span = trace.spans[place]
    assert span.value is not None
    zero = 3.0 * trace.step
    at_peak = span.value > zero and span.value >= _AT_PEAK * highest
    if not others:
        alone = max(_ALONE_REFRESHES * (trace.refresh or 0.25), _ALONE_S)
        falls = place + 1 == len(trace.spans) or _next_value(trace.spans, place) <= zero
        stood = span.end - span.start >= alone
        return Why.HELD if at_peak and stood and falls and place > 0 else None
    for other in others:
        # What the other did at the ends may have been the same change, a refresh later.
        late = 2.0 * (other.refresh or 0.25) + (trace.refresh or 0.25)
        inside = [
            s
            for s in other.spans
            if s.value is not None and s.start < span.end - late and s.end > span.start + late
        ]
        whole = max((s.value for s in other.spans if s.value is not None), default=0.0)
        much = max(_MOVED_SHARE * whole, _MOVED_STEPS * other.step)
        fall = _fall_in(other, span)
        until = fall - late if fall is not None and at_peak else span.end
        if _moved([s for s in inside if s.start < until]) > much:
            if abs(span.value) > zero or _unloaded_all_along(trace, span, other):
                return Why.FROZEN
        elif fall is not None and at_peak and place > 0 and span.end - fall > late:
            # It went along until the other's fall: what it shows is its peak.
            return Why.HELD
    return None


def _moved(spans: Sequence[Span]) -> float:
    values = [s.value for s in spans if s.value is not None]
    return max(values) - min(values) if values else 0.0


def _fall_in(other: DisplayTrace, span: Span) -> float | None:
    """When ``other`` fell to nearly nothing while ``span`` stood."""
    top = 0.0
    for s in other.spans:
        if s.value is None or s.end <= span.start - 1.0:
            continue
        if s.start >= span.end:
            break
        if top > _MOVED_STEPS * other.step and s.value <= _FELL_TO * top:
            return s.start
        top = max(top, s.value)
    return None


def _next_value(spans: Sequence[Span], place: int) -> float:
    for span in spans[place + 1 :]:
        if span.value is not None:
            return span.value
    return 0.0


def _unloaded_all_along(trace: DisplayTrace, span: Span, other: DisplayTrace) -> bool:
    """Whether it stood at zero over a whole pull of the other, from zero up and back."""
    if any(s.value is not None and abs(s.value) > 3.0 * trace.step for s in trace.spans):
        return False
    inside = [
        s.value
        for s in other.spans
        if s.value is not None and s.start < span.end and s.end > span.start
    ]
    top = max(inside)
    return inside[0] < 0.1 * top and inside[-1] < 0.1 * top
