"""What a person should look at, found in the traces and the breaks alone: so it can be made anew
after a correction. ``docs/messages.md`` has a paragraph for each code."""

from collections.abc import Iterator, Sequence

from breakwright.model.film import (
    Break,
    DisplayTrace,
    FilmDoubt,
    FilmFacts,
    PeakWindow,
    Shown,
    Span,
)
from breakwright.model.trial import Ending
from breakwright.reading.film_doubts_peak import doubts_at_peak
from breakwright.reading.film_frozen import standstills_of
from breakwright.reading.film_pulls import Pull
from breakwright.reading.film_samples import Samples, newtons_per
from breakwright.reading.film_switch import switches_of, tenfold_of
from breakwright.reading.film_texts import is_number

__all__ = ["doubts_of"]

# Shares and times of common practice, no source: next to nothing read; a loss by hand and not by
# a break (s); a load that is not zero after it; a value below zero that is no drift.
_NEVER = 0.05
_SLOW_FALL_S = 1.5
_LEFT_SHARE = 0.1
_STILL_ON = 0.5
_BELOW_STEPS = 5.0
_BELOW_S = 1.0
_SLOW_REFRESH_SHARE = 0.1
_STOOD_REFRESHES = 1.9
_MISPLACED_S = 0.5


def doubts_of(
    facts: FilmFacts,
    displays: Sequence[DisplayTrace],
    samples: Sequence[Samples],
    pulls: Sequence[Pull],
    breaks: Sequence[Break],
) -> tuple[FilmDoubt, ...]:
    """Return every doubt, in the order of the film, those about a display by its name."""
    found: list[FilmDoubt] = []
    for trace in displays:
        others = [other for other in displays if other is not trace]
        found += _of_display(trace, others)
    for still in standstills_of(displays):
        trace = displays[still.display]
        span = trace.spans[still.span]
        amount = span.end - span.start if still.why == "frozen" else span.value
        found.append(
            FilmDoubt(still.why.value, still.start, still.end, trace.mark.name, amount, span.text)
        )
    for one, pull in zip(breaks, pulls, strict=True):
        found += doubts_at_peak(one, displays, samples)
        found += _of_break(one, pull, displays, samples)
    found += _of_film(facts, displays, breaks)
    return tuple(sorted(found, key=lambda doubt: (doubt.start, doubt.code, doubt.display or "")))


def _of_display(trace: DisplayTrace, others: Sequence[DisplayTrace]) -> Iterator[FilmDoubt]:
    name, spans = trace.mark.name, trace.spans
    if not spans:
        return
    start, end = spans[0].start, spans[-1].end
    read = sum(span.end - span.start for span in spans if span.shown is Shown.VALUE)
    over = sum(span.end - span.start for span in spans if span.shown is Shown.OVER_RANGE)
    if read + over < _NEVER * (end - start):
        why = "lost" if trace.lost > 0.5 else "no-contrast" if trace.dim > 0.5 else "no-digits"
        yield FilmDoubt("never-read", start, end, name, 1.0 - (read + over) / (end - start), why)
    for jump in switches_of(trace, others):
        yield _jumped("unit-switched", trace, jump.before, jump.after, jump.factor)
    for jump in tenfold_of(trace, others):
        yield _jumped("decimals-doubtful", trace, jump.before, jump.after, jump.factor)
    off = [span for span in spans if span.value is not None and _decimals(span) != trace.decimals]
    off = off or _misplaced(trace)
    if off:
        factor = 10.0 ** (trace.decimals - _decimals(off[0]))
        yield FilmDoubt("decimals-doubtful", off[0].start, off[-1].end, name, factor, off[0].text)
    capacity = trace.mark.capacity
    beyond = [s for s in spans if capacity and s.value is not None and s.value > capacity]
    if capacity and beyond:
        worst = max(beyond, key=lambda span: span.value or 0.0)
        if worst.value is not None and worst.value > capacity + trace.step:
            yield FilmDoubt(
                "beyond-capacity", worst.start, worst.end, name, worst.value, worst.text
            )
    below = [s for s in spans if s.value is not None and s.value < -_BELOW_STEPS * trace.step]
    if sum(span.end - span.start for span in below) > _BELOW_S:
        least = min(below, key=lambda span: span.value or 0.0)
        yield FilmDoubt("below-zero", below[0].start, below[-1].end, name, least.value, least.text)


def _misplaced(trace: DisplayTrace) -> list[Span]:
    """Where a number stood long with its point in another place and was taken for none."""
    found = [
        span
        for span in trace.spans
        if span.shown is Shown.UNREADABLE
        and not span.corrected
        and is_number(span.text)
        and "." in span.text
        and _decimals(span) != trace.decimals
    ]
    long = sum(span.end - span.start for span in found) >= _MISPLACED_S
    return found if long else []


def _jumped(code: str, trace: DisplayTrace, before: int, after: int, factor: float) -> FilmDoubt:
    old, new = trace.spans[before], trace.spans[after]
    text = f"{old.text} {new.text}"
    return FilmDoubt(code, old.start, new.end, trace.mark.name, factor, text)


def _decimals(span: Span) -> int:
    return len(span.text.rpartition(".")[2]) if "." in span.text else 0


def _of_break(
    one: Break, pull: Pull, displays: Sequence[DisplayTrace], samples: Sequence[Samples]
) -> Iterator[FilmDoubt]:
    whole = sum(window.lower * newtons_per(trace) for window, trace in _paired(one, displays))
    if not pull.gone:
        left = _load_at(samples, one.end)
        code = "cut-under-load" if left > _STILL_ON * whole else "drop-without-break"
        yield FilmDoubt(code, min(one.moment[1], one.end), one.end, amount=left)
    first = min(trace.spans[0].start for trace in displays)
    if one.start <= first + 0.05 and one.rate is not None:
        loads = [s.samples[0].load or 0.0 for s in samples]
        if sum(loads) > _LEFT_SHARE * whole:
            yield FilmDoubt("cut-under-load", first, one.peak_at, amount=sum(loads))
    if one.ending is Ending.BROKE:
        fell = one.moment[1]
        if fell - one.peak_at > _SLOW_FALL_S or pull.end - fell > 2.0 * _SLOW_FALL_S:
            left = _load_at(samples, fell + _SLOW_FALL_S)
            if pull.gone and pull.end - fell > 2.0 * _SLOW_FALL_S and left > _LEFT_SHARE * whole:
                yield FilmDoubt("drop-without-break", fell, pull.end, amount=left)
            if fell - one.peak_at > _SLOW_FALL_S and _sinking(samples, one.peak_at, fell, whole):
                yield FilmDoubt("slow-fall", one.peak_at, fell, amount=fell - one.peak_at)
    for trace, held in zip(displays, samples, strict=True):
        if one.rate is None or trace.refresh is None or whole <= 0.0:
            continue
        window = next(w for w in one.windows if w.display == trace.mark.name)
        rise = 0.0 if window.upper is None else (window.upper - window.lower) * held.factor
        last = held.samples[held.at(one.peak_at)]
        # A load that stood still for several refreshes was shown often enough.
        stood = last.end - last.came > _STOOD_REFRESHES * trace.refresh
        if rise > _SLOW_REFRESH_SHARE * whole and not stood:
            yield FilmDoubt(
                "slow-refresh", one.peak_at, one.moment[1], trace.mark.name, trace.refresh
            )


def _paired(
    one: Break, displays: Sequence[DisplayTrace]
) -> Iterator[tuple[PeakWindow, DisplayTrace]]:
    return iter(zip(one.windows, displays, strict=True))


def _load_at(samples: Sequence[Samples], time: float) -> float:
    return sum(one.samples[one.at(time)].load or 0.0 for one in samples)


def _sinking(samples: Sequence[Samples], start: float, end: float, whole: float) -> bool:
    """Whether the load sank step by step rather than holding and then going at once."""
    middle = _load_at(samples, (start + end) / 2.0)
    late = _load_at(samples, start + 0.9 * (end - start))
    return late < 0.9 * whole and late <= middle < whole


def _of_film(
    facts: FilmFacts, displays: Sequence[DisplayTrace], breaks: Sequence[Break]
) -> Iterator[FilmDoubt]:
    if facts.ended_early is not None:
        yield FilmDoubt("ended-early", facts.duration, facts.duration, text=facts.ended_early)
    if not breaks:
        loads = [
            span.value * newtons_per(trace)
            for trace in displays
            for span in trace.spans
            if span.value is not None
        ]
        yield FilmDoubt("no-break", 0.0, facts.duration, amount=max(loads, default=None))
    gaps = {
        (span.start, span.end)
        for trace in displays
        for span in trace.spans
        if span.shown is Shown.UNREADABLE
        and span.agreeing == 0
        and not (span.corrected or span.text)
    }
    for start, end in sorted(gaps):
        yield FilmDoubt("gap-in-film", start, end, amount=end - start)
