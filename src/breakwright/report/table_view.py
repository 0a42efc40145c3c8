"""A table as plain text cells, ready to be shown: caption, head, the first cell names a row."""

from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["TableView"]


@dataclass(frozen=True, slots=True)
class TableView:
    """``key`` is unique on a page; every row has as many cells as ``head``; ``note`` may be ''."""

    key: str
    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""

    @classmethod
    def of(
        cls,
        key: str,
        caption: str,
        *,
        head: Sequence[str],
        rows: Sequence[Sequence[str]],
        note: str = "",
    ) -> "TableView":
        """Return the table, refusing a row that does not fit its head."""
        for row in rows:
            if len(row) != len(head):
                raise ValueError(f"{key}: a row of {len(row)} cells under a head of {len(head)}")
        return cls(key, caption, tuple(head), tuple(tuple(row) for row in rows), note)
