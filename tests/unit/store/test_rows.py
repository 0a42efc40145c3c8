"""Events in the table: what cannot be read back is not taken, what cannot be read is named."""

import contextlib
import sqlite3
from pathlib import Path

import pytest

from breakwright.model.errors import InputRefused
from breakwright.model.event import Event, PieceAdded, StudyMade
from breakwright.store.opening import open_store
from breakwright.usecases.bench.ports import StoreUnfit

NOW = "2026-01-31T09:30:00Z"
STUDY = "1" * 32


def test_an_event_that_could_not_be_read_back_is_not_taken(tmp_path: Path) -> None:
    store = open_store(str(tmp_path / "bench.sqlite"))
    good = Event("a" * 32, STUDY, NOW, StudyMade("", "wedge"))
    bad = Event("b" * 32, STUDY, NOW, PieceAdded("A1", "A1", "plain"))
    with pytest.raises(InputRefused, match="cannot be taken"):
        store.append([good, bad], received=NOW)
    assert store.last() == 0
    store.close()


@pytest.mark.parametrize("body", ["{", '{"toml": 3}', "[]"])
def test_an_event_that_somebody_spoiled_is_named(tmp_path: Path, body: str) -> None:
    path = tmp_path / "bench.sqlite"
    store = open_store(str(path))
    with contextlib.closing(sqlite3.connect(path, isolation_level=None)) as raw:
        raw.execute(
            "INSERT INTO events (seq, id, study, kind, made, received, device, body)"
            " VALUES (7, ?, ?, 'study-made', ?, ?, '', ?)",
            ("a" * 32, STUDY, NOW, NOW, body),
        )
    with pytest.raises(StoreUnfit, match=r"seq 7 .*open a backup"):
        store.events(STUDY)
    store.close()
