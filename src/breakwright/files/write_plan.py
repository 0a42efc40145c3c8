"""``specimens.csv``: a line for each piece in the order of breaking, ready to be filled in."""

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from breakwright.files.atomic import write_beside
from breakwright.model.errors import ImpossibleValue

__all__ = ["PlannedPiece", "refuse_changed", "specimens_csv", "write_all"]


@dataclass(frozen=True, slots=True)
class PlannedPiece:
    """One piece: its place in the order (from 1), its label and what the order is balanced over."""

    order: int
    label: str
    group: str
    block: str | None
    day: int
    operator: str | None
    pair: str | None


def specimens_csv(pieces: Sequence[PlannedPiece], *, scales: int) -> str:
    """Return the sheet of the pieces. Saved as ``trials.csv`` with its loads filled in, it is what
    'breakwright answer' reads; columns that the plan does not use are left out.

    ``scales`` is how many displays share the load: one column of readings for each.
    """
    columns: dict[str, list[str]] = {
        "order": [str(p.order) for p in pieces],
        "specimen": [p.label for p in pieces],
        "group": [p.group for p in pieces],
    }
    if any(p.block for p in pieces):
        columns["block"] = [p.block or "" for p in pieces]
    if len({p.day for p in pieces}) > 1:
        columns["planned_day"] = [f"day {p.day}" for p in pieces]
    if any(p.operator for p in pieces):
        columns["operator"] = [p.operator or "" for p in pieces]
    if any(p.pair for p in pieces):
        columns["pair"] = [p.pair or "" for p in pieces]
    loads = ["load"] if scales < 2 else [f"load_{i + 1}" for i in range(scales)]
    for name in (*loads, "ended", "failure", "void", "note"):
        columns[name] = [""] * len(pieces)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(zip(*columns.values(), strict=True))
    return out.getvalue()


def refuse_changed(files: Mapping[Path, str]) -> None:
    """Raise ImpossibleValue where one of ``files`` is there already and says something else."""
    changed = [p for p, text in files.items() if p.exists() and p.read_bytes() != text.encode()]
    if changed:
        names = " and ".join(str(path) for path in changed)
        be, say = ("is", "says") if len(changed) == 1 else ("are", "say")
        raise ImpossibleValue(
            f"{names} {be} there already and {say} something else; nothing was written. Give "
            "--replace to write over, or --out DIR to write elsewhere"
        )


def write_all(files: Mapping[Path, str]) -> tuple[Path, ...]:
    """Write every file, each whole or not at all, and return where they lie."""
    for path, text in files.items():
        write_beside(path, text)
    return tuple(files)
