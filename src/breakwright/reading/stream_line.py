"""One line of a load cell: at most one load, at most one time, or the reason why there is none."""

import math
import re
from dataclasses import dataclass
from enum import StrEnum

from breakwright.model.units import ForceUnit, to_newtons
from breakwright.reading.stream_words import (
    FORCE_OF,
    MASS_OF,
    NO_NUMBER,
    STATE,
    STATE_OF_TARE,
    TIME_OF,
    Fault,
    Stamps,
)

__all__ = ["Format", "Line", "LineKind", "decimal_mark", "read_header", "read_line"]

# No test reaches such a load: what claims to is a line damaged on its way.
_LARGEST_N = 1e9
_PER_SECOND = {Stamps.S: 1.0, Stamps.MS: 1e3, Stamps.US: 1e6}

_NUMBER = {
    "point": re.compile(r"([+-]?\s*(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?)(?![\d.])", re.ASCII),
    "comma": re.compile(r"([+-]?\s*(?:\d+,?\d*|,\d+)(?:[eE][+-]?\d{1,3})?)(?![\d,])", re.ASCII),
}
_PARTING = {
    "point": re.compile(r"\s*[,;]\s*|\s+"),
    "comma": re.compile(r"\s*;\s*|,\s+|\s+"),
}
_UNIT = re.compile(r"\s*([A-Za-zµ]+)")
_LABEL = re.compile(r"[A-Za-z][A-Za-z_ ]*\s*[:=]\s*", re.ASCII)
_CLOCK = re.compile(
    r"(?:\d{4}-\d\d-\d\d[T ])?(\d{1,2}):(\d\d):(\d\d(?:[.,]\d{1,9})?)"
    r"(?:Z|[+-]\d\d:?\d\d)?(?:\s*[,;]\s*|\s+)",
    re.ASCII,
)
_HEADER_CELL = re.compile(r"[A-Za-zµ][A-Za-zµ_ ()/\[\].]*")
_HEADER_TIMES = ("time", "t", "millis", "micros", "seconds", "elapsed")
_HEADER_LOADS = ("load", "force", "f", "pull", "weight")


class LineKind(StrEnum):
    """``OVER``: the display showed no number, as it does beyond its range. ``TALK``: a line that
    speaks of something else (a header, the tare, a remark)."""

    LOAD = "load"
    OVER = "over"
    TALK = "talk"
    FAULT = "fault"


@dataclass(frozen=True, slots=True)
class Format:
    """What is known of the lines beforehand; None: to be found, or asked.

    ``unit`` holds for lines without one, and says what 'kg' or 'lb' means. ``decimal`` is
    'point' or 'comma'. ``column`` is which number of a line is the load, from 1.
    """

    unit: ForceUnit | None = None
    decimal: str | None = None
    stamps: Stamps | None = None
    column: int | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """``load`` in N; ``stamp`` the device's time in s, None where it gives none that can be
    understood; ``columns`` how many numbers the line held."""

    kind: LineKind
    load: float | None = None
    stamp: float | None = None
    columns: int = 0
    fault: Fault | None = None


@dataclass(frozen=True, slots=True)
class _Item:
    """``value`` None: no number was shown."""

    value: float | None
    word: str


def _fault(fault: Fault) -> Line:
    return Line(LineKind.FAULT, fault=fault)


def decimal_mark(text: str) -> str | None:
    """Return 'point' or 'comma' where ``text`` shows which it is, 'unclear' where it may be
    either, None where no mark stands in it.

    >>> [decimal_mark(t) for t in ("412.5", "0,10;412,5", "412,5", "ST,GS,+00412 kg")]
    ['point', 'comma', 'unclear', None]
    """
    if re.search(r"\d\.|\.\d", text):
        return "point"
    fractions = re.findall(r"(\d+),(\d+)", text)
    if not fractions:
        return None
    if not re.search(r"[;\t]|\d\s+[+-]?\d", text):
        return "unclear"
    told = any(len(after) != 3 or before.startswith("0") for before, after in fractions)
    return "comma" if told else "unclear"


def read_header(text: str) -> Format | None:
    """Return what a line of column names says, None where the line is no such.

    >>> read_header("time_ms;load_kgf")
    Format(unit=<ForceUnit.KGF: 'kgf'>, decimal=None, stamps=<Stamps.MS: 'ms'>, column=2)
    """
    cells = [cell.strip() for cell in re.split(r"[,;\t]", text)]
    if not all(_HEADER_CELL.fullmatch(cell) for cell in cells):
        return None
    words = [[w for w in re.split(r"[_ ()/\[\].]+", cell.lower()) if w] for cell in cells]
    loads = [place for place, word in enumerate(words) if word and word[0] in _HEADER_LOADS]
    if not loads:
        return None
    unit = next((FORCE_OF[w] for w in words[loads[0]][1:] if w in FORCE_OF), None)
    stamps = None
    if loads[0] > 0 and words[0] and words[0][0] in _HEADER_TIMES:
        named = {"millis": Stamps.MS, "micros": Stamps.US, "seconds": Stamps.S}
        stamps = named.get(words[0][0])
        stamps = next((TIME_OF[w] for w in words[0][1:] if w in TIME_OF), stamps)
    return Format(unit=unit, stamps=stamps, column=loads[0] + 1)


def read_line(text: str, form: Format) -> Line:
    """Return what one line (without its end) says. Any text is taken; nothing is raised.

    ``form.decimal`` None: numbers without a decimal mark are read, others are a fault.

    >>> read_line("ST,GS,+0042.0kg", Format(ForceUnit.KGF, "point")).load
    411.8793
    >>> read_line("12.5, OL", Format(ForceUnit.N, "point", Stamps.S))
    Line(kind=<LineKind.OVER: 'over'>, load=None, stamp=12.5, columns=2, fault=None)
    """
    text = text.strip()
    stamp, text = _clock(text)
    text, states = _without_states(text)
    if STATE_OF_TARE in states:
        return Line(LineKind.TALK)
    if not text:
        kind = LineKind.OVER if "OL" in states else LineKind.TALK
        return Line(kind, stamp=stamp, columns=int(kind is LineKind.OVER))
    if form.decimal is None and decimal_mark(text) is not None:
        return _fault(Fault.DECIMAL_UNCLEAR)
    items = _items(text, form.decimal or "point")
    if items is None:
        return _fault(Fault.GARBAGE)
    return _line_of(items, stamp, form, over="OL" in states)


def _clock(text: str) -> tuple[float | None, str]:
    found = _CLOCK.match(text)
    if found is None:
        return None, text
    hours, minutes, seconds = found.groups()
    stamp = int(hours) * 3600 + int(minutes) * 60 + float(seconds.replace(",", "."))
    return stamp, text[found.end() :]


def _without_states(text: str) -> tuple[str, set[str]]:
    states: set[str] = set()
    while found := STATE.match(text):
        states.add(found[1].upper())
        text = text[found.end() :]
    return text, states


def _items(text: str, decimal: str) -> list[_Item] | None:
    """Return the numbers of a line with the word behind each; None where anything else is in."""
    items: list[_Item] = []
    place = 0
    number, parting = _NUMBER[decimal], _PARTING[decimal]
    while place < len(text):
        if items and (state := STATE.match(text, place)) and state[1].upper() != "OL":
            place = state.end()
            continue
        if label := _LABEL.match(text, place):
            place = label.end()
        value: float | None = None
        if found := number.match(text, place):
            digits = re.sub(r"\s", "", found[1]).replace(",", ".")
            value = float(digits)
        else:
            found = NO_NUMBER.match(text, place)
            if found is None:
                return None
        place = found.end()
        word = ""
        unit = _UNIT.match(text, place)
        if unit and not NO_NUMBER.match(text, unit.start(1)):
            word, place = unit[1].lower(), unit.end()
            if word.upper() in ("ST", "US", "GS", "NT") and word not in TIME_OF:
                word = ""
        items.append(_Item(value, word))
        if place < len(text):
            gap = parting.match(text, place)
            if gap is None:
                return None
            place = gap.end()
    return items


def _line_of(items: list[_Item], stamp: float | None, form: Format, *, over: bool) -> Line:
    count = len(items)
    if form.column is not None:
        if form.column > count:
            return _fault(Fault.COLUMNS_CHANGED)
        place = form.column - 1
    elif count <= 2:
        place = count - 1
    else:
        return _fault(Fault.COLUMNS_UNCLEAR)
    if place > 0 and stamp is None:
        stamp = _stamp(items[0], form)
    item = items[place]
    if item.value is None or over:
        return Line(LineKind.OVER, None, stamp, count)
    unit = _unit(item.word, form.unit)
    if isinstance(unit, Fault):
        return _fault(unit)
    newtons = to_newtons(item.value, unit)
    if not math.isfinite(newtons) or abs(newtons) > _LARGEST_N:
        return _fault(Fault.GARBAGE)
    return Line(LineKind.LOAD, newtons, stamp, count)


def _stamp(item: _Item, form: Format) -> float | None:
    stamps = TIME_OF.get(item.word, form.stamps)
    if stamps is None or stamps is Stamps.NONE or item.value is None:
        return None
    seconds = item.value / _PER_SECOND[stamps]
    return seconds if math.isfinite(seconds) and abs(seconds) < 1e12 else None


def _unit(word: str, stated: ForceUnit | None) -> ForceUnit | Fault:
    if not word:
        return stated or Fault.UNIT_MISSING
    if word in MASS_OF:
        if stated is None:
            return Fault.FORCE_OR_MASS
        return stated if MASS_OF[word] is stated else Fault.UNIT_DISAGREES
    if word not in FORCE_OF:
        return Fault.GARBAGE
    unit = FORCE_OF[word]
    return unit if stated in (None, unit) else Fault.UNIT_DISAGREES
