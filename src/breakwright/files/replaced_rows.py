"""What stood in a sheet before it was replaced: a file beside it that only grows."""

import json
import os
from collections.abc import Sequence
from pathlib import Path

__all__ = ["REPLACED", "keep_replaced"]

REPLACED = "trials-replaced.jsonl"


def keep_replaced(
    folder: Path, *, when: str, because: str, header: Sequence[str], row: Sequence[str]
) -> Path:
    """Add a row as it was to the file in ``folder``, a JSON object a line, and return its path.

    ``when`` is ISO 8601 in UTC. It is on the disk before this returns; the sheet is written
    afterwards, so that a row is rather kept twice than lost.
    """

    path = folder / REPLACED
    told = {"when": when, "because": because, "row": dict(zip(header, row, strict=False))}
    line = json.dumps(told, ensure_ascii=False) + "\n"
    with path.open("a", encoding="utf-8") as file:
        file.write(line)
        file.flush()
        os.fsync(file.fileno())
    return path
