"""What a bad sheet or folder is: its bytes and the problem it must be refused for. All invented.

What is right for each of them is our own rule (common practice, no source), written down in
docs/sheet.md; the test holds the reader to it.
"""

from dataclasses import dataclass, field

from breakwright.files.source import ReadOptions

NOTHING = ReadOptions()


@dataclass(frozen=True)
class Bad:
    """``says`` are words that message, read, allowed and do must hold between them."""

    name: str
    files: dict[str, bytes]
    code: str
    line: int | None
    column: int | None
    says: tuple[str, ...]
    options: ReadOptions = NOTHING
    path: str = "sheet.csv"
    others: frozenset[str] = field(default=frozenset())


def sheet(
    name: str,
    text: str | bytes,
    code: str,
    line: int | None,
    column: int | None,
    *says: str,
    options: ReadOptions = NOTHING,
    others: frozenset[str] = frozenset(),
) -> Bad:
    data = text.encode() if isinstance(text, str) else text
    return Bad(name, {"sheet.csv": data}, code, line, column, says, options, others=others)


def folder(
    name: str,
    study: str,
    trials: str | None,
    code: str,
    line: int | None,
    *says: str,
    column: int | None = None,
    options: ReadOptions = NOTHING,
    others: frozenset[str] = frozenset(),
) -> Bad:
    files = {"study.toml": study.encode()}
    if trials is not None:
        files["trials.csv"] = trials.encode()
    return Bad(name, files, code, line, column, says, options, path=".", others=others)


GOOD = "group,load_N\nplain,412\nplain,398\nwedged,530\nwedged,512\n"
TWO = "group,load_1_N,load_2_N\nplain,200,210\nwedged,300,310\n"
TOML = 'groups = ["plain", "wedged"]\nreference = "plain"\n'
