"""What a film told, in sentences: the plain thing first, then what should be looked at."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from breakwright.model.film import (
    Break,
    DisplayTrace,
    FilmDoubt,
    FilmReading,
    PeakWindow,
    Shown,
    Span,
)
from breakwright.model.loadtyped import rounded_down, rounded_up
from breakwright.model.trial import Ending
from breakwright.model.units import ForceUnit, from_newtons
from breakwright.report.film_doubt_table import FILM_DOUBTS, Counted

__all__ = [
    "break_lines",
    "doubt_words",
    "film_lines",
    "film_unit",
    "peak_words",
    "seconds",
    "shown_words",
    "value_words",
]

_COUNTS = ("no display", "one display", "two displays", "three displays", "four displays")
_SHOWN: Mapping[Shown, str] = MappingProxyType(
    {
        Shown.BLANK: "dark",
        Shown.OVER_RANGE: "out of range",
        Shown.UNREADABLE: "not readable",
        Shown.OUT_OF_SIGHT: "out of sight",
    }
)
_LOST: Mapping[Shown, str] = MappingProxyType(
    {
        Shown.BLANK: "went dark",
        Shown.OVER_RANGE: "ran out of range",
        Shown.UNREADABLE: "could no longer be read",
        Shown.OUT_OF_SIGHT: "went out of sight",
    }
)
_ENDED: Mapping[Ending, str] = MappingProxyType(
    {
        Ending.OVER_RANGE: "a display ran out of range",
        Ending.SCREEN_LOST: "a display was lost before the end",
        Ending.STOPPED: "the loading was stopped, or the film ends, before it broke",
        Ending.RIG_FAILED: "the rig gave way before the piece did",
        Ending.BROKE: "a display stood at the end of its range",
    }
)
_WHY = MappingProxyType(
    {
        "no-contrast": "its digits had no contrast",
        "lost": "it could not be found",
        "no-digits": "there were no digits",
        "blank": "it went dark",
        "out-of-sight": "it went out of sight",
    }
)


def film_unit(reading: FilmReading) -> ForceUnit:
    """Return the unit in which people are shown the sum: the first display's."""
    units = [trace.mark.unit for trace in reading.displays]
    return ForceUnit(units[0]) if units and units[0] is not None else ForceUnit.N


def film_lines(reading: FilmReading, unit: ForceUnit) -> tuple[str, ...]:
    """Return everything that a person is told of a film, a sentence a line, the peak first."""
    lines = [line for found in reading.breaks for line in break_lines(found, reading, unit)]
    if not reading.breaks:
        lines.append("No break was found in this film.")
    return (*lines, *(doubt_words(doubt, reading, unit) for doubt in reading.doubts))


def break_lines(found: Break, reading: FilmReading, unit: ForceUnit) -> tuple[str, ...]:
    """Return what one pull told: its peak, what each display showed then, slips before it."""
    first, last = found.moment
    which = f"Pull {found.number}: " if len(reading.breaks) > 1 else "Peak: "
    when = f"at {seconds(first)}"
    if last - first >= 0.005:
        when = f"between {seconds(first)} and {seconds(last)}"
    lines = [
        f"{which}{peak_words(found, reading, unit)}. The load fell {when}.",
        _windows(found, reading),
    ]
    if found.rate is not None:
        rate = rounded_up(from_newtons(found.rate, unit), digits=3)
        lines.append(f"Loading rate before the peak: {rate} {unit.value} a second.")
    if found.slips:
        times = ", ".join(seconds(t) for t in found.slips)
        lines.append(f"Slips (the load fell and rose again) at {times}.")
    return tuple(lines)


def peak_words(found: Break, reading: FilmReading, unit: ForceUnit) -> str:
    """Return the peak of the simultaneous sum as a range or as 'at least', with the reason."""
    low = rounded_down(from_newtons(found.lower, unit))
    if found.upper is None:
        return f"at least {low} {unit.value}: {_why_open(found, reading)}"
    high = rounded_up(from_newtons(found.upper, unit))
    count = len(found.windows)
    many = _COUNTS[count] if count < len(_COUNTS) else f"{count} displays"
    between = f"{low} {unit.value}" if low == high else f"between {low} and {high} {unit.value}"
    return f"{between}, read off {many}"


def shown_words(span: Span, trace: DisplayTrace) -> str:
    """Return what a display showed during a span: '20.70 kgf', 'dark'."""
    if span.shown is not Shown.VALUE or span.value is None:
        return _SHOWN.get(span.shown, span.shown.value)
    return value_words(span.value, trace)


def value_words(value: float, trace: DisplayTrace) -> str:
    """Return a value of a display with its decimals and unit."""
    unit = "" if trace.mark.unit is None else f" {trace.mark.unit}"
    return f"{value:.{trace.decimals}f}{unit}"


def doubt_words(doubt: FilmDoubt, reading: FilmReading, unit: ForceUnit) -> str:
    """Return one doubt as a line: when, what was seen, and what to do about it."""
    told = FILM_DOUBTS[doubt.code]
    trace = _named(doubt.display, reading.displays)
    who = "the sum" if doubt.display is None else f"«{doubt.display}»"
    text = _WHY.get(doubt.text or "", doubt.text or "not known")
    says = told.says.format(who=who, amount=_amount(doubt, told.counted, trace, unit), text=text)
    start, end = seconds(doubt.start), seconds(doubt.end)
    when = start if start == end else f"{start} to {end}"
    return f"{when}: {says}. {told.do}"


def seconds(time: float) -> str:
    """Return a time on the film's clock, to the hundredth of a second.

    >>> seconds(3.0), seconds(75.25)
    ('3.00 s', '1 min 15.25 s')
    """
    if time < 60.0:
        return f"{time:.2f} s"
    minutes, rest = divmod(round(time, 2), 60.0)
    return f"{minutes:.0f} min {rest:05.2f} s"


def _windows(found: Break, reading: FilmReading) -> str:
    parts = []
    for window in found.windows:
        trace = _named(window.display, reading.displays)
        if trace is None:
            continue
        words = value_words(window.lower, trace)
        if window.upper is None and window.lower <= 0.0:
            words = "nothing that could be read"
        elif window.upper is None:
            words = f"at least {words}"
        elif window.upper > window.lower:
            # What may have come before its next number: more decimals than it has would mislead.
            words = f"{words} (up to {value_words(window.upper, trace)} before its next number)"
        parts.append(f"«{window.display}» showed {words}")
    return f"When the sum was largest, at {seconds(found.peak_at)}: " + "; ".join(parts) + "."


def _why_open(found: Break, reading: FilmReading) -> str:
    reasons = [
        _why_open_on(window, _named(window.display, reading.displays), found)
        for window in found.windows
        if window.upper is None
    ]
    return " and ".join(reasons) or _ENDED[found.ending]


def _why_open_on(window: PeakWindow, trace: DisplayTrace | None, found: Break) -> str:
    who = f"«{window.display}»"
    if window.shown is Shown.VALUE:
        return f"the load was not seen to leave {who}"
    span = None if trace is None else trace.spans[window.span]
    if span is not None and span.shown is Shown.VALUE:
        return f"{who} stood at the end of its range"
    ahead = 0.0 if span is None else found.moment[1] - span.start
    when = f"{ahead:.1f} s before the break" if ahead >= 0.05 else "at the break"
    return f"{who} {_LOST[window.shown]} {when}"


def _amount(doubt: FilmDoubt, counted: Counted, trace: DisplayTrace | None, unit: ForceUnit) -> str:
    amount = doubt.amount
    if amount is None:
        return "not known"
    if counted is Counted.VALUE:
        return f"{amount:g}" if trace is None else value_words(amount, trace)
    if counted is Counted.LOAD:
        return f"{rounded_up(from_newtons(amount, unit), digits=4)} {unit.value}"
    if counted is Counted.SECONDS:
        return f"{amount:.2g} s" if amount < 1.0 else f"{amount:.1f} s"
    if counted is Counted.SHARE:
        return f"{100.0 * amount:.0f} %"
    return f"{amount:.4g} times"


def _named(name: str | None, displays: Sequence[DisplayTrace]) -> DisplayTrace | None:
    return next((trace for trace in displays if trace.mark.name == name), None)
