"""Were the tables of an exported folder edited? Held, cell by cell, against its history."""

from collections.abc import Mapping, Sequence

from breakwright.files.bench.defined import STUDY
from breakwright.files.findings import Findings
from breakwright.files.numerals import Decimal, parse_number
from breakwright.files.table import read_table
from breakwright.model.errors import Problem

__all__ = ["edited_problems"]

_MOST_NAMED = 12
_DO = (
    "Changes made to a table have no place in the history. Make them in the program instead, or "
    "take the tables as a new study: --as-new."
)


def edited_problems(found: Mapping[str, str], given: Mapping[str, str]) -> list[Problem]:
    """Return a problem for each row of ``found`` that differs from ``given``, both files by name.

    A file that is not there was not edited, and neither was one that a spreadsheet saved again
    with other quotes, marks between the columns or zeros at the end of its numbers.
    """
    problems: list[Problem] = []
    for name, text in found.items():
        if _same_text(text, given[name]):
            continue
        if name == STUDY:
            problems.append(_edited(name, None, "it was changed after the export", None))
        else:
            problems += _rows(name, text, given[name])
    return problems[:_MOST_NAMED]


def _same_text(one: str, other: str) -> bool:
    return one.replace("\r\n", "\n").strip() == other.replace("\r\n", "\n").strip()


def _rows(name: str, found: str, given: str) -> list[Problem]:
    there, meant = _table(name, found), _table(name, given)
    if there is None or meant is None or set(there[0]) != set(meant[0]):
        return [_edited(name, 1, "its columns are not those of the export", None)]
    header = list(meant[0])
    theirs = [_in_order(header, there[0], cells) for _, cells in there[1]]
    lines = [line for line, _ in there[1]]
    ours = [cells for _, cells in meant[1]]
    left = list(range(len(ours)))
    problems = []
    for line, cells in zip(lines, theirs, strict=True):
        same = next((i for i in left if _same_cells(cells, ours[i])), None)
        if same is None:
            problems.append(_edited(name, line, _what(header, cells, ours), ",".join(cells)))
        else:
            left.remove(same)
    named = {cells[_label(header)] for cells in theirs}
    for i in left:
        label = ours[i][_label(header)]
        if label not in named:
            problems.append(_edited(name, None, f"the row of piece '{label}' is gone", None))
    return problems


def _table(name: str, text: str) -> tuple[tuple[str, ...], list[tuple[int, list[str]]]] | None:
    # A table without 'load' (the pieces) is parted by commas: it shows no reader what it is.
    table = read_table(text, Findings(name))
    if table is None or not table.complete:
        return None
    return table.header, list(zip(table.lines, table.rows, strict=True))


def _in_order(header: Sequence[str], own: Sequence[str], cells: Sequence[str]) -> list[str]:
    by_name = dict(zip(own, cells, strict=True))
    return [by_name[name] for name in header]


def _same_cells(one: Sequence[str], other: Sequence[str]) -> bool:
    return all(_same_cell(a, b) for a, b in zip(one, other, strict=True))


def _same_cell(one: str, other: str) -> bool:
    if one == other.strip():
        return True
    numbers = parse_number(one, Decimal.POINT), parse_number(other, Decimal.POINT)
    return None not in numbers and numbers[0] == numbers[1]


def _what(header: Sequence[str], cells: Sequence[str], ours: Sequence[Sequence[str]]) -> str:
    label = cells[_label(header)]
    meant = next((row for row in ours if row[_label(header)] == label), None)
    if meant is None:
        return f"the piece '{label}' is not in the history"
    differ = next(
        (i for i, (a, b) in enumerate(zip(cells, meant, strict=True)) if not _same_cell(a, b)), None
    )
    if differ is None:
        return f"the row of piece '{label}' comes twice"
    return (
        f"piece '{label}': {header[differ]} is '{cells[differ]}', and '{meant[differ]}' in the "
        "history"
    )


def _label(header: Sequence[str]) -> int:
    return list(header).index("specimen") if "specimen" in header else 0


def _edited(name: str, line: int | None, message: str, read: str | None) -> Problem:
    return Problem(
        "tables-edited",
        message,
        name,
        line=line,
        read=None if read is None else read[:200],
        allowed="the tables as they were exported",
        do=_DO,
    )
