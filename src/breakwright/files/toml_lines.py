"""On which line of a TOML file a key stands: tomllib does not tell, and messages must."""

import re
from collections.abc import Sequence

__all__ = ["key_line"]

_NAME = r"""(?:[A-Za-z0-9_\-]+|"[^"]*"|'[^']*')"""
_TABLE = re.compile(rf"\s*\[\[?\s*({_NAME}(?:\s*\.\s*{_NAME})*)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(rf"\s*({_NAME})\s*=")


def key_line(text: str, path: Sequence[str | int]) -> int | None:
    """Return the line (from 1) of the key at ``path``, or of the nearest thing above it.

    >>> text = "title = 'a'\\n[[instrument]]\\nname = 'x'\\n[[instrument]]\\nname = 7\\n"
    >>> key_line(text, ["instrument", 1, "name"]), key_line(text, ["instrument", 1, "tare"])
    (5, 4)
    """
    found: dict[tuple[str | int, ...], int] = {}
    here: tuple[str | int, ...] = ()
    for number, line in enumerate(text.splitlines(), start=1):
        if table := _TABLE.match(line):
            here = _table_path(table[1], found, repeated=line.lstrip().startswith("[["))
            found.setdefault(here, number)
        elif key := _KEY.match(line):
            found.setdefault((*here, key[1].strip("\"'")), number)
    wanted = tuple(path)
    while wanted and wanted not in found:
        wanted = wanted[:-1]
    return found.get(wanted)


def _table_path(
    name: str, found: dict[tuple[str | int, ...], int], *, repeated: bool
) -> tuple[str | int, ...]:
    """Return where a table header leads, its parents taken as the last of their kind."""
    path: tuple[str | int, ...] = ()
    parts = [part.strip("\"'") for part in re.findall(_NAME, name)]
    for depth, part in enumerate(parts):
        path = (*path, part)
        count = 0
        while (*path, count) in found:
            count += 1
        if repeated and depth == len(parts) - 1:
            path = (*path, count)
        elif count:
            path = (*path, count - 1)
    return path
