"""Two films of one pull as one reading, on the first one's clock."""

import math
from dataclasses import replace

from breakwright.model.errors import ImpossibleValue
from breakwright.model.film import DisplayTrace, FilmDoubt, FilmFacts, FilmReading, Shown, Span
from breakwright.reading.film_read import reading_of
from breakwright.reading.film_samples import clock_slack

__all__ = ["CLOCK_UNCERTAIN", "joined"]

CLOCK_UNCERTAIN = "clock-uncertain"


def joined(
    first: FilmReading, second: FilmReading, *, offset: float, uncertainty: float
) -> FilmReading:
    """Return both films' displays as one reading; what happens at t in ``second`` happened at
    t + ``offset`` on the clock of ``first``, within ``uncertainty`` (s).

    A value of the second film came, at the earliest, ``uncertainty`` before it was seen, and could
    surely be read ``uncertainty`` after: so the windows of the sum, and of all that follows, grow.
    Where only one film runs the other's displays are out of sight. Raises ImpossibleValue where
    the films do not overlap, a display is in both, or the numbers are no times.
    """
    if not math.isfinite(offset) or not 0.0 <= uncertainty < math.inf:
        raise ImpossibleValue(
            f"an offset of {offset} s within {uncertainty} s: both must be finite, and the second "
            "not negative"
        )
    names = {trace.mark.name for trace in first.displays}
    twice = sorted(names & {trace.mark.name for trace in second.displays})
    if twice:
        raise ImpossibleValue(
            f"both films have a display {twice[0]!r}; give each display a name of its own"
        )
    moved = [_moved(trace, offset, uncertainty) for trace in second.displays]
    starts, ends = _limits([*first.displays, *moved])
    if max(starts) >= min(ends):
        raise ImpossibleValue(
            f"with an offset of {offset:g} s the two films do not overlap: the first runs for "
            f"{first.facts.duration:g} s, the second for {second.facts.duration:g} s"
        )
    start, end = min(starts), max(ends)
    displays = [_filled(trace, start, end) for trace in (*first.displays, *moved)]
    whole = reading_of(_facts(first.facts, second.facts, end), displays)
    doubt = FilmDoubt(CLOCK_UNCERTAIN, start, end, amount=uncertainty)
    return replace(whole, doubts=(doubt, *whole.doubts))


def _moved(trace: DisplayTrace, offset: float, uncertainty: float) -> DisplayTrace:
    late = offset + uncertainty
    spans = tuple(
        replace(
            span,
            start=span.start + late,
            end=span.end + late,
            since=span.since + offset - uncertainty,
        )
        for span in trace.spans
    )
    return replace(trace, spans=spans)


def _limits(displays: list[DisplayTrace]) -> tuple[list[float], list[float]]:
    with_spans = [trace for trace in displays if trace.spans]
    if len(with_spans) < len(displays) or not displays:
        raise ImpossibleValue("one of the two films has a display without a single frame")
    return (
        [trace.spans[0].start for trace in with_spans],
        [trace.spans[-1].end for trace in with_spans],
    )


def _filled(trace: DisplayTrace, start: float, end: float) -> DisplayTrace:
    spans = list(trace.spans)
    slack = clock_slack(trace)
    if spans[0].start > start:
        spans.insert(0, replace(_unseen(start, spans[0].start), since=start - slack))
    if spans[-1].end < end:
        spans.append(_unseen(spans[-1].end, end))
    return replace(trace, spans=tuple(spans))


def _unseen(start: float, end: float) -> Span:
    return Span(start, end, Shown.OUT_OF_SIGHT, None, "", 1.0, 0, start)


def _facts(first: FilmFacts, second: FilmFacts, end: float) -> FilmFacts:
    early = [facts.ended_early for facts in (first, second) if facts.ended_early is not None]
    return replace(
        first,
        duration=max(end, first.duration),
        frames=first.frames + second.frames,
        sound=first.sound and second.sound,
        ended_early="; ".join(early) or None,
    )
