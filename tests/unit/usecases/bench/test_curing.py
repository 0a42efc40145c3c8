"""The last of a piece's waiting times counts; what needs no waiting makes nobody wait."""

from datetime import UTC, datetime, timedelta, timezone

from breakwright.model.event import (
    Event,
    PieceAdded,
    PreparationLogged,
    Recorded,
    StudyMade,
    Undone,
)
from breakwright.usecases.bench.curing import ready_times
from breakwright.usecases.bench.fold import fold

PIECES = ("a" * 32, "b" * 32, "c" * 32)


def log(started: str, wait_h: float | None, *pieces: str) -> PreparationLogged:
    return PreparationLogged("glued", pieces, started, wait_h)


def test_the_latest_end_counts_and_an_undone_log_does_not() -> None:
    bodies = [
        StudyMade('title = "x"', "x"),
        *(PieceAdded(piece, piece[:1], "g") for piece in PIECES),
        log("2026-01-02T08:00:00+01:00", 24.0, PIECES[0], PIECES[1]),
        log("2026-01-02T20:00:00+00:00", 2.0, PIECES[0]),
        log("2026-01-02T20:00:00+00:00", None, PIECES[2]),
        log("2026-02-02T20:00:00+00:00", 24.0, PIECES[1]),
    ]
    events = [
        Recorded(i, "", Event(f"{i:032x}", "f" * 32, "2026-01-02T09:00:00Z", body))
        for i, body in enumerate(bodies, start=1)
    ]
    undone = Undone(events[-1].event.id)
    events.append(Recorded(99, "", Event("9" * 32, "f" * 32, "2026-01-02T09:00:00Z", undone)))
    ready = ready_times(fold(events))
    here = timezone(timedelta(hours=1))
    assert ready == {
        PIECES[0]: datetime(2026, 1, 3, 8, tzinfo=here),
        PIECES[1]: datetime(2026, 1, 3, 7, tzinfo=UTC),
    }
