"""A load as people write it: ``412``, ``>440``, ``440+``, ``<30``, ``405..440``."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from breakwright.files.columns import Column
from breakwright.files.findings import Findings
from breakwright.files.number_cells import Style, Wrong, report_wrong, what_is_wrong
from breakwright.files.numerals import is_number, parse_number
from breakwright.files.options import Negative
from breakwright.files.table import Table
from breakwright.model.interval import Interval
from breakwright.model.units import NEWTONS_PER, ForceUnit

__all__ = ["LOAD_ALLOWED", "numbers_in_load", "read_loads"]

LOAD_ALLOWED = "412, >440 or 440+ (at least), <30 (at most), 405..440 (between)"

# The strongest testing machines reach some 1e8 N; the lightest thread holds some 1e-3 N.
_LARGEST_N = 1e9
_SMALLEST_N = 1e-6

_ABOVE = (">=", ">", "≥")
_BELOW = ("<=", "<", "≤")
_DASHES = "-–—"


@dataclass(frozen=True, slots=True)
class _Written:
    """``low`` and ``high`` in the column's unit, as signed in the cell."""

    low: float
    high: float
    negative: bool = False


def numbers_in_load(cell: str) -> Iterator[str]:
    """Yield the number texts in a load cell, without the marks around them.

    >>> list(numbers_in_load("405,5..440+")), list(numbers_in_load(">= 1.234"))
    (['405,5', '440'], ['1.234'])
    """
    for part in cell.strip("<>≥≤=+ ").split(".."):
        yield part.strip("+ ")


def read_loads(
    table: Table,
    column: Column,
    style: Style,
    *,
    unit: ForceUnit,
    negative: Negative,
    findings: Findings,
) -> list[Interval | None]:
    """Return what the column's cells say, in N; None for an empty cell and for one noted.

    A zero comes back as [0, 0]: whether a display may have carried nothing is not known here.
    """
    newtons = NEWTONS_PER[unit]
    smallest, largest = _SMALLEST_N / newtons, _LARGEST_N / newtons
    loads: list[Interval | None] = []
    minus: list[int] = []
    plus = 0
    for place, cell in enumerate(table.column(column.index)):
        if not cell:
            loads.append(None)
            continue
        value = parse_number(cell, style.decimal)
        if value is not None and smallest <= value <= largest:
            # Nearly every cell of a large sheet: worth a way of its own.
            loads.append(Interval.exact(value * newtons))
            plus += 1
            continue
        written = _parse(cell, style)
        if not isinstance(written, Wrong):
            wrong = _absurd(written, newtons, unit)
            if wrong is None:
                loads.append(Interval(abs(written.low) * newtons, abs(written.high) * newtons))
                if written.negative:
                    minus.append(place)
                elif written.low > 0.0:
                    plus += 1
                continue
            written = wrong
        report_wrong(written, cell, column, table.lines[place], findings)
        loads.append(None)
    if minus:
        _signs(table, column, minus, plus, negative=negative, findings=findings)
    return loads


def _parse(cell: str, style: Style) -> _Written | Wrong:
    value = parse_number(cell, style.decimal)
    if value is not None:
        return _Written(value, value, negative=value < 0.0)
    if ".." in cell and "..." not in cell:
        return _between(cell, style)
    for marks, is_above in ((_ABOVE, True), (_BELOW, False)):
        mark = next((m for m in marks if cell.startswith(m)), None)
        if mark is not None:
            return _one_sided(cell[len(mark) :].strip(), style, above=is_above)
    if cell.endswith("+"):
        return _one_sided(cell[:-1].strip(), style, above=True)
    return _not_a_load(cell, style)


def _one_sided(text: str, style: Style, *, above: bool) -> _Written | Wrong:
    value = parse_number(text, style.decimal)
    if value is None:
        return _not_a_load(text, style)
    if value < 0.0:
        return _signed_limit()
    if value == 0.0 and not above:
        return Wrong(
            "zero-load",
            "nothing can be weaker than 0",
            LOAD_ALLOWED,
            "Write what was read, or leave the cell empty and say why under 'void'.",
        )
    if math.isinf(value):
        return _Written(value, value)
    return _Written(value, math.inf) if above else _Written(0.0, value)


def _between(cell: str, style: Style) -> _Written | Wrong:
    low_text, _, high_text = cell.partition("..")
    low = parse_number(low_text.strip(), style.decimal)
    high = parse_number(high_text.strip(), style.decimal)
    if low is None or high is None:
        return _not_a_load(low_text.strip() if low is None else high_text.strip(), style)
    if low < 0.0 or high < 0.0:
        return _signed_limit()
    if low > high:
        return Wrong(
            "range-reversed",
            "the first number of this range is larger than the second",
            "405..440: the smaller number first",
            "Swap the two, or correct the one that is wrong.",
        )
    return _Written(high if math.isinf(high) else low, high)


def _signed_limit() -> Wrong:
    return Wrong(
        "negative-limit",
        "a minus sign together with 'at least', 'at most' or 'between' can be read two ways",
        LOAD_ALLOWED,
        "Write the size without the sign: >440 for a gauge that stopped at -440.",
    )


def _not_a_load(text: str, style: Style) -> Wrong:
    for dash in _DASHES:
        low, found, high = text.partition(dash)
        if found and is_number(low.strip()) and is_number(high.strip()):
            return Wrong(
                "not-a-load",
                "a range is not written with a dash, which could also be a minus sign",
                LOAD_ALLOWED,
                f"Write {low.strip()}..{high.strip()}.",
            )
    wrong = what_is_wrong(text, style)
    if wrong.code != "not-a-number":
        return wrong
    return Wrong(
        "not-a-load",
        wrong.message.replace("not a number", "not a load"),
        LOAD_ALLOWED,
        "Correct the cell. If nothing was read, leave it empty and say why under 'void'.",
    )


def _absurd(written: _Written, newtons: float, unit: ForceUnit) -> Wrong | None:
    ends = [abs(written.low), *([] if math.isinf(written.high) else [abs(written.high)])]
    if math.isinf(written.low) or max(ends) * newtons > _LARGEST_N:
        return Wrong(
            "load-absurd",
            f"no test reaches such a load ({unit} is taken as the unit)",
            f"loads up to {_LARGEST_N / newtons:.6g} {unit}",
            "Correct the number, its decimal mark or the unit.",
        )
    if any(0.0 < end * newtons < _SMALLEST_N for end in ends):
        return Wrong(
            "load-absurd",
            f"no scale shows so small a load ({unit} is taken as the unit)",
            f"loads from {_SMALLEST_N / newtons:.6g} {unit}",
            "Correct the number, its decimal mark or the unit.",
        )
    return None


def _signs(
    table: Table,
    column: Column,
    minus: list[int],
    plus: int,
    *,
    negative: Negative,
    findings: Findings,
) -> None:
    first = minus[0]
    facts: dict[str, str | float | int | None] = {
        "column": column.written,
        "negative": len(minus),
        "positive": plus,
    }
    if negative is Negative.BY_SIZE and plus:
        findings.warning("mixed-signs-by-size", facts)
    elif negative is Negative.BY_SIZE:
        findings.remark("negative-by-size", facts)
    elif plus:
        findings.problem(
            "mixed-signs",
            f"this column has negative loads ({len(minus)}) and positive ones ({plus}): what does "
            "the sign mean?",
            line=table.lines[first],
            column=column.place,
            name=column.written,
            read=table.rows[first][column.index],
            allowed="loads of one sign",
            do="Correct a sign that was mistyped. If the sign only tells pull from push and the "
            "size counts, give --negative by-size.",
        )
    else:
        findings.problem(
            "negative-load",
            "the loads in this column are negative, as some gauges show a pull: is the size of "
            "each one the load?",
            line=table.lines[first],
            column=column.place,
            name=column.written,
            read=table.rows[first][column.index],
            allowed="positive loads, or negative ones with --negative by-size",
            do="If it is, give --negative by-size; if not, correct the loads.",
        )
