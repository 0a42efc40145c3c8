"""A person's word on what a display showed, put in the place of the machine's."""

import math
from collections.abc import Sequence
from dataclasses import replace

from breakwright.model.errors import ImpossibleValue
from breakwright.model.film import DisplayTrace, FilmReading, Shown, Span, SpanCorrection
from breakwright.reading.film_peak_low import FIRM
from breakwright.reading.film_read import reading_of
from breakwright.reading.film_two import CLOCK_UNCERTAIN

__all__ = ["corrected"]


def corrected(reading: FilmReading, corrections: Sequence[SpanCorrection]) -> FilmReading:
    """Return the reading with ``corrections`` made in their order, a later one over an earlier;
    the sum, the breaks and the doubts are made anew.

    Raises ImpossibleValue for a display that is not in the film, a time outside it, a value that
    is missing, not finite or not wanted, and a correction without a reason.
    """
    traces = {trace.mark.name: trace for trace in reading.displays}
    for correction in corrections:
        _checked(correction, traces)
        trace = traces[correction.display]
        traces[correction.display] = replace(trace, spans=_put(trace, correction))
    again = reading_of(reading.facts, list(traces.values()))
    # How two films were brought together is no matter of the traces.
    kept = tuple(doubt for doubt in reading.doubts if doubt.code == CLOCK_UNCERTAIN)
    return replace(again, doubts=(*kept, *again.doubts))


def _checked(correction: SpanCorrection, traces: dict[str, DisplayTrace]) -> None:
    name = correction.display
    if name not in traces:
        known = ", ".join(repr(one) for one in traces) or "none"
        raise ImpossibleValue(f"there is no display {name!r} in this film; it has {known}")
    spans = traces[name].spans
    first, last = (spans[0].start, spans[-1].end) if spans else (0.0, 0.0)
    if not first <= correction.start < correction.end <= last + 1e-6:
        raise ImpossibleValue(
            f"a correction of {name!r} goes from {correction.start} to {correction.end} s; the "
            f"film shows it from {first} to {last} s, and the end comes after the start"
        )
    value = correction.value
    if (correction.shown is Shown.VALUE) != (value is not None):
        raise ImpossibleValue(
            f"a correction of {name!r} says {correction.shown.value!r} with the value {value}: a "
            "value needs a number, and nothing else has one"
        )
    if value is not None and not math.isfinite(value):
        raise ImpossibleValue(f"a correction of {name!r} has the value {value}, which is no number")
    if not correction.reason.strip():
        raise ImpossibleValue(f"a correction of {name!r} has no reason; say why in a few words")


def _put(trace: DisplayTrace, correction: SpanCorrection) -> tuple[Span, ...]:
    start, end = correction.start, correction.end
    value = correction.value
    text = "" if value is None else f"{value:.{trace.decimals}f}"
    new = Span(
        start=start,
        end=end,
        shown=correction.shown,
        value=value,
        text=text,
        confidence=1.0,
        agreeing=FIRM,
        since=start,
        corrected=True,
    )
    before, after = [], []
    for span in trace.spans:
        if span.start < start:
            before.append(replace(span, end=min(span.end, start)))
        elif span.start == start:
            new = replace(new, since=min(span.since, start))
        if span.end > end:
            later = max(span.start, end)
            since = span.since if span.start >= end else later
            after.append(replace(span, start=later, since=max(since, start)))
    if before and math.isclose(before[-1].end, before[-1].start):
        before.pop()
    return (*before, new, *after)
