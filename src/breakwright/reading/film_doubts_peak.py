"""Doubts about the moment of a break: what stood on each display when the load was largest."""

from collections.abc import Iterator, Sequence

from breakwright.model.film import Break, DisplayTrace, FilmDoubt, Shown, Span
from breakwright.reading.film_peak_low import FIRM
from breakwright.reading.film_samples import Samples
from breakwright.reading.film_segments import lies_between

__all__ = ["doubts_at_peak"]

# A value is told as surely as this, or it is said.
_SURE = 0.99
# A change that takes more than this share of the refresh leaves little to read.
_MIXING = 0.5
_LOST = {
    Shown.BLANK: "screen-lost",
    Shown.OUT_OF_SIGHT: "screen-lost",
    Shown.UNREADABLE: "unreadable-at-peak",
    Shown.OVER_RANGE: "over-range",
}


def doubts_at_peak(
    one: Break, displays: Sequence[DisplayTrace], samples: Sequence[Samples]
) -> Iterator[FilmDoubt]:
    """Yield what is doubtful about the peak of ``one``, display by display."""
    for trace, held, window in zip(displays, samples, one.windows, strict=True):
        name = trace.mark.name
        if window.upper is None and window.shown in _LOST:
            span = trace.spans[window.span]
            text = span.text if window.shown is Shown.OVER_RANGE else window.shown.value
            amount: float | None = _last_value(trace.spans, window.span)
            if window.shown is Shown.UNREADABLE:
                text, amount = span.text, span.end - span.start
            yield FilmDoubt(_LOST[window.shown], span.start, span.end, name, amount, text or None)
        inside = [n for n, s in enumerate(trace.spans) if one.start <= s.start <= one.moment[1]]
        valued = [n for n in inside if trace.spans[n].value is not None]
        if not valued:
            continue
        place = max(valued, key=lambda n: (trace.spans[n].value or 0.0, n))
        top = trace.spans[place]
        if top.agreeing < FIRM and not top.corrected:
            yield FilmDoubt("lone-peak", top.start, top.end, name, top.value, top.text)
        elif top.confidence < _SURE and not top.corrected:
            yield FilmDoubt("guessed-at-peak", top.start, top.end, name, top.confidence, top.text)
        yield from _lone(trace, held, place, inside)
        yield from _ghosts(trace, held, one)


def _lone(
    trace: DisplayTrace, held: Samples, place: int, inside: Sequence[int]
) -> Iterator[FilmDoubt]:
    """A number above all values of the pull that stood there too shortly to be one."""
    highest = trace.spans[place].value or 0.0
    most, number = max((held.samples[n].hint or 0.0, n) for n in inside)
    if most > (highest + trace.step / 2.0) * held.factor:
        span = trace.spans[number]
        yield FilmDoubt(
            "lone-peak", span.start, span.end, trace.mark.name, most / held.factor, span.text
        )


def _ghosts(trace: DisplayTrace, held: Samples, one: Break) -> Iterator[FilmDoubt]:
    """A change at the peak that took frames of its own, or a number left out as a mixture."""
    place = held.at(one.peak_at)
    spans = trace.spans
    for number in (place - 1, place, place + 1):
        if not 0 < number < len(spans) - 1:
            continue
        span = spans[number]
        if span.shown is not Shown.UNREADABLE or span.corrected or not one.start <= span.start:
            continue
        before, after = spans[number - 1], spans[number + 1]
        known = before.value is not None and after.value is not None and _digits(span.text)
        if known and lies_between(span.text, before.text, after.text):
            yield FilmDoubt("ghost-at-peak", span.start, span.end, trace.mark.name, None, span.text)
    span = spans[place]
    long = max(_MIXING * (trace.refresh or 0.5), 1.5 * held.frame)
    slow = span.shown is Shown.VALUE and span.since < span.start - long
    if slow and place > 0 and spans[place - 1].shown is Shown.VALUE and not span.corrected:
        yield FilmDoubt(
            "ghost-at-peak", span.since, span.start, trace.mark.name, span.value, span.text
        )


def _digits(text: str) -> bool:
    return any(sign.isdigit() for sign in text)


def _last_value(spans: Sequence[Span], place: int) -> float | None:
    values = (span.value for span in reversed(spans[: place + 1]) if span.value is not None)
    return next(values, None)
