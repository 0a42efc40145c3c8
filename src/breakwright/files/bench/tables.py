"""The tables of a study folder, from the state that the events come to."""

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from breakwright.files.bench.defined import Defined
from breakwright.files.bench.entry_row import canonical_entry
from breakwright.files.bench.numbers import converted, proven
from breakwright.files.columns import normalised
from breakwright.files.numerals import Decimal, parse_number
from breakwright.model.units import ForceUnit
from breakwright.usecases.bench.state import PieceState, StudyState

__all__ = ["Grid", "shown_unit", "specimens_grid", "trials_grid"]

# Within a cell one kind of line end: a lone carriage return would end the row for some readers.
_LINE_END = re.compile(r"\r\n|\r")


@dataclass(frozen=True, slots=True)
class Grid:
    """A table as text. ``measured`` are the names of the columns that were taken of the pieces,
    ``loads`` those whose cells are loads (412, >440, 405..440), sums and rates not among them."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    loads: tuple[str, ...] = ()
    measured: tuple[str, ...] = ()

    def column(self, name: str) -> tuple[str, ...]:
        place = self.header.index(name)
        return tuple(row[place] for row in self.rows)

    def csv(self) -> str:
        out = io.StringIO()
        csv.writer(out, lineterminator="\n").writerows([self.header, *self.rows])
        return out.getvalue()

    def lines(self) -> tuple[int, ...]:
        """Return the line on which each row begins, from 1; a cell may hold line ends."""
        lines = []
        line = 2
        for row in self.rows:
            lines.append(line)
            line += 1 + sum(cell.count("\n") for cell in row)
        return tuple(lines)


def shown_unit(state: StudyState, study: Defined) -> ForceUnit:
    """Return the unit of the load columns: the study's, else that of most readings, else N."""
    if study.unit is not None:
        return study.unit
    typed = [piece.reading.entry.unit for piece in state.pieces if piece.reading]
    return ForceUnit(max(typed, key=typed.count)) if typed else ForceUnit.N


def trials_grid(state: StudyState, study: Defined) -> Grid:
    """Return ``trials.csv``: the pieces that were read or left out, in the order of their turn.

    Loads have a decimal point and stand in ``shown_unit``; digits typed in it stay as typed.
    """
    unit = shown_unit(state, study)
    pieces = [p for p in state.pieces if p.reading is not None or p.void is not None]
    displays = _displays(pieces, study)
    loads = (
        [f"load_{i + 1}_{unit}" for i in range(displays)]
        if study.shared or displays > 1
        else [f"load_{unit}"]
    )
    rows = [_trial(piece, study, unit, loads) for piece in pieces]
    measured = _measured(pieces)
    for piece, row in zip(pieces, rows, strict=True):
        row.update(_values(piece))
    always = {"specimen", "group", *loads, "ended", "void", "note"}
    if study.by_scale:
        always.add("scale")
    names = [
        *("order", "date", "specimen", "group", "block", "operator", "pair"),
        *loads,
        *(f"together_{unit}", "scale", "ended", "failure", f"rate_{unit}_s"),
        *measured,
        *("void", "note"),
    ]
    used = [n for n in names if n in always or any(row.get(n) for row in rows)]
    numbers = (*loads, f"together_{unit}", f"rate_{unit}_s", *measured)
    return _grid(used, rows, numbers=numbers, loads=tuple(loads), measured=tuple(measured))


def specimens_grid(state: StudyState) -> Grid:
    """Return ``specimens.csv``: every piece with what is known of it before it is broken."""
    measured = _measured(state.pieces)
    rows: list[dict[str, str]] = [
        {
            "order": _number(piece.order),
            "specimen": piece.label,
            "group": piece.group,
            "block": piece.block or "",
            "planned_day": "" if piece.day is None else f"day {piece.day}",
            "operator": piece.operator or "",
            "pair": piece.pair or "",
            **_values(piece),
        }
        for piece in state.pieces
    ]
    always = ("order", "specimen", "group")
    names = [*always, "block", "planned_day", "operator", "pair", *measured]
    used = [n for n in names if n in always or any(row.get(n) for row in rows)]
    return _grid(used, rows, numbers=measured, loads=(), measured=tuple(measured))


def _grid(
    names: Sequence[str],
    rows: Sequence[Mapping[str, str]],
    *,
    numbers: Sequence[str],
    loads: tuple[str, ...],
    measured: tuple[str, ...],
) -> Grid:
    columns = [[_LINE_END.sub("\n", row.get(name, "")) for row in rows] for name in names]
    columns = [
        proven(cells) if name in numbers else cells
        for name, cells in zip(names, columns, strict=True)
    ]
    return Grid(
        tuple(names),
        tuple(zip(*columns, strict=True)),
        tuple(name for name in names if name in loads),
        tuple(name for name in names if name in measured),
    )


def _displays(pieces: Sequence[PieceState], study: Defined) -> int:
    """As many columns as any reading has loads, so that no number is left behind."""
    typed = [len(piece.reading.entry.loads) for piece in pieces if piece.reading]
    return max([study.displays, *typed])


def _trial(
    piece: PieceState, study: Defined, unit: ForceUnit, loads: Sequence[str]
) -> dict[str, str]:
    row = {
        "specimen": piece.label,
        "group": piece.group,
        "block": piece.block or "",
        "operator": piece.operator or "",
        "pair": piece.pair or "",
        "void": piece.void or "",
    }
    if piece.reading is None:
        return row
    entry = piece.reading.entry
    texts = canonical_entry(study, entry)
    own = ForceUnit(entry.unit)

    def in_unit(text: str) -> str:
        return text if own is unit or not text else converted(text, own, unit)

    row.update(zip(loads, map(in_unit, texts.loads), strict=False))
    row |= {
        "order": _number(entry.order),
        "date": entry.date or "",
        f"together_{unit}": in_unit(texts.together),
        "scale": entry.scale or "",
        "ended": entry.ended.value,
        "failure": entry.failure or "",
        f"rate_{unit}_s": in_unit(texts.rate),
        "note": entry.note or "",
    }
    return row


def _measured(pieces: Sequence[PieceState]) -> list[str]:
    return list(dict.fromkeys(normalised(name) for piece in pieces for name in piece.measured))


def _values(piece: PieceState) -> dict[str, str]:
    return {normalised(name): _plain(value) for name, value in piece.measured.items()}


def _plain(value: str) -> str:
    # Thousands marks are taken off, so that no reader has to ask what the comma is.
    number = parse_number(value.strip(), Decimal.POINT)
    return value.strip().replace(",", "") if number is not None else value.strip()


def _number(value: int | None) -> str:
    return "" if value is None else str(value)
