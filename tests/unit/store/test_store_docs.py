"""What docs/store.md shows works, and what it lists is there."""

import contextlib
import re
import sqlite3
from pathlib import Path

from breakwright.model.event import Entry, Event, PieceAdded, ReadingEntered, StudyMade
from breakwright.store.opening import open_store
from breakwright.store.schema import HEAD, pieces
from breakwright.usecases.bench.state import Standing

PAGE = (Path(__file__).parents[3] / "docs" / "store.md").read_text(encoding="utf-8")
NOW = "2026-01-31T09:30:00Z"


def test_the_query_shown_lists_the_pieces_in_their_order(tmp_path: Path) -> None:
    shown = re.search(r'^ +"(SELECT [^"]+)"$', PAGE, re.MULTILINE)
    assert shown is not None
    path = tmp_path / "bench.sqlite"
    store = open_store(str(path))
    bodies = [
        StudyMade('title = "T"', "wedge"),
        PieceAdded("2" * 32, "B1", "wedged", order=2),
        PieceAdded("1" * 32, "A1", "plain", order=1),
        ReadingEntered("1" * 32, Entry(("412", ">50"), "kgf", failure="glue")),
    ]
    store.append(
        [Event(f"{n:032x}", "9" * 32, NOW, body) for n, body in enumerate(bodies)], received=NOW
    )
    with contextlib.closing(sqlite3.connect(path)) as other:
        assert other.execute(shown.group(1)).fetchall() == [
            ("A1", "plain", "read", "412; >50", "kgf", "broke", "glue"),
            ("B1", "wedged", "waiting", None, None, None, None),
        ]
    store.close()


def test_every_column_and_standing_is_explained() -> None:
    table = PAGE.partition("| Column of `pieces` |")[2]
    named = set(re.findall(r"`([a-z_]+)`", table))
    assert {column.name for column in pieces.c} <= named
    assert {standing.value for standing in Standing} <= named


def test_the_copy_before_a_migration_is_called_as_it_says() -> None:
    assert f"`breakwright-before-{HEAD}-2026-01-31.sqlite`" in PAGE
