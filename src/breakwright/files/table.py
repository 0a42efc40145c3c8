"""From text to rows of cells: the delimiter, quotes, and rows that do not fit the header."""

import csv
import io
from dataclasses import dataclass

from breakwright.files.columns import looks_like_header, normalised
from breakwright.files.findings import Findings

__all__ = ["Table", "read_table"]

_DELIMITERS = {";": "a semicolon", ",": "a comma", "\t": "a tab"}


@dataclass(frozen=True, slots=True)
class Table:
    """``rows[i]`` has as many cells as ``header``, stripped; it began on line ``lines[i]``.

    ``complete`` is False where rows were refused, so that nothing can be said of all pieces.
    """

    header: tuple[str, ...]
    header_line: int
    rows: list[list[str]]
    lines: list[int]
    complete: bool

    def column(self, index: int) -> list[str]:
        return [row[index] for row in self.rows]


def read_table(text: str, findings: Findings) -> Table | None:
    """Return the rows; None where no header could be read. Blank rows hold nothing and go."""
    first = _first_line(text)
    if first is None:
        findings.problem(
            "empty-sheet",
            "the file is empty",
            allowed="a header line with at least 'group' and 'load', then one row for each piece",
            do="Export the sheet again; the file may have been cut off or saved unfilled.",
        )
        return None
    delimiter = _delimiter(first[1], first[0], findings)
    if delimiter is None:
        return None
    return _rows(text, delimiter, findings)


def _first_line(text: str) -> tuple[int, str] | None:
    for number, line in enumerate(io.StringIO(text, newline=None), start=1):
        if line.strip().strip("".join(_DELIMITERS)).strip():
            return number, line.rstrip("\n")
    return None


def _split(line: str, delimiter: str) -> list[str]:
    return next(csv.reader([line], delimiter=delimiter), [])


def _delimiter(header: str, line: int, findings: Findings) -> str | None:
    fitting = [d for d in _DELIMITERS if looks_like_header(_split(header, d))]
    if len(fitting) == 1:
        return fitting[0]
    present = [d for d in _DELIMITERS if d in header]
    if not fitting and len(present) == 1:
        return present[0]
    if not present:
        _refuse_one_column(header, line, findings)
        return None
    findings.problem(
        "delimiter-unclear",
        "the header does not show what parts the columns: it holds "
        + " and ".join(_DELIMITERS[d] for d in present),
        line=line,
        read=header,
        allowed="one of semicolon, comma, tab throughout; a header with at least 'group' and "
        "'load'",
        do="Write the column names on the first line, parted by one kind of mark.",
    )
    return None


def _refuse_one_column(header: str, line: int, findings: Findings) -> None:
    findings.problem(
        "delimiter-unclear",
        "the header holds one column only: no semicolon, comma or tab was found in it",
        line=line,
        column=1,
        read=header,
        allowed="columns parted by semicolon, comma or tab; at least 'group' and 'load'",
        do="Write the column names on the first line, for example: group,load_N",
    )


def _rows(text: str, delimiter: str, findings: Findings) -> Table | None:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    header: tuple[str, ...] | None = None
    names: list[str] = []
    header_line = 1
    rows: list[list[str]] = []
    lines: list[int] = []
    line = 1
    before = len(findings)
    try:
        for row in reader:
            cells = [cell.strip() for cell in row]
            if any(cells):
                if header is None:
                    header, header_line = tuple(cells), line
                    names = [normalised(cell) for cell in cells]
                elif len(cells) != len(header) and any(cells[len(header) :] or [True]):
                    _refuse_ragged(cells, header, line, findings, delimiter=delimiter)
                elif cells[0].casefold() == header[0].casefold() and names == [
                    normalised(cell) for cell in cells
                ]:
                    _refuse_header_again(cells, line, header_line, findings)
                else:
                    rows.append(cells[: len(header)])
                    lines.append(line)
            line = reader.line_num + 1
    except csv.Error as error:
        _refuse_quotes(error, line, findings)
    if header is None:
        return None
    return Table(header, header_line, rows, lines, complete=len(findings) == before)


def _refuse_ragged(
    cells: list[str],
    header: tuple[str, ...],
    line: int,
    findings: Findings,
    *,
    delimiter: str,
) -> None:
    more = len(cells) > len(header)
    do = (
        'Put cells that hold a comma, such as 412,5, in quotes ("412,5"), or save the sheet '
        "with semicolons between the columns."
        if more and delimiter == ","
        else "Take out the extra cells, or give their column a name in the header."
        if more
        else "Fill in the missing cells (an empty cell still needs its delimiter); the line may "
        "have been cut off."
    )
    findings.problem(
        "ragged-row",
        f"this row has {len(cells)} cell{'s' if len(cells) > 1 else ''}; "
        f"the header has {len(header)}",
        line=line,
        column=len(header) + 1 if more else len(cells) + 1,
        read=delimiter.join(cells),
        allowed=f"{len(header)} cells, as in the header",
        do=do,
    )


def _refuse_header_again(cells: list[str], line: int, header_line: int, findings: Findings) -> None:
    findings.problem(
        "header-again",
        f"the header of line {header_line} comes again here: two sheets may have been put together",
        line=line,
        column=1,
        read=",".join(cells),
        allowed="one header, on the first line",
        do="Take this line out; if the second part is another session, tell them apart in a "
        "'date' or 'block' column.",
    )


def _refuse_quotes(error: csv.Error, line: int, findings: Findings) -> None:
    words = str(error)
    if "field larger" in words:
        message = "a cell that begins in this row is longer than 131072 characters: a quote was "
        message += "probably opened and never closed"
    elif "end of data" in words:
        message = "a quote is opened in this row and never closed: the file may have been cut off"
    else:
        message = "the quotes in this row do not fit: text goes on after a closing quote"
    findings.problem(
        "open-quote",
        message,
        line=line,
        allowed='a cell in quotes from end to end, a quote inside it doubled: "3"" peg"',
        do="Close the quote or take it out, or export the sheet again. Rows after this one were "
        "not read.",
    )
