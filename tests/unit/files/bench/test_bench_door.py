"""What the store's door refuses, what it takes, and what it asks to be sent again later."""

from collections.abc import Sequence

import pytest
from bench_study import (
    NOW,
    ONE,
    SHARED,
    STUDY,
    TURNS,
    added,
    entered,
    event,
    id_of,
    made,
    state,
)

from breakwright.bootstrap.bench import check_events
from breakwright.model.errors import InputRefused
from breakwright.model.event import (
    Body,
    Entry,
    Event,
    PhotoAdded,
    PieceAdded,
    PieceChanged,
    PieceMeasured,
    PieceRestored,
    PieceVoided,
    PreparationLogged,
    ReadingAmended,
    ReadingEntered,
    SafetyRead,
    StudyChanged,
    StudyMade,
    StudyShelved,
    Undone,
)
from breakwright.usecases.bench.state import StudyState

A1, A2 = id_of("A1"), id_of("A2")
READ = Entry(("41",), "kgf", failure="pull-out")
LOG = (made(ONE), added("A1"), added("A2", "wedged"), entered("r1", "A1", READ))


def codes(there: StudyState | None, events: Sequence[Event], taken: Sequence[str] = ()) -> set[str]:
    try:
        check_events(there, events, taken=taken)
    except InputRefused as found:
        return {problem.code for problem in found.problems if problem.allowed and problem.do}
    return set()


def refused(body: Body) -> set[str]:
    return codes(state(*LOG), [event("new", body)])


def changed(toml: str, base: str = "made") -> StudyChanged:
    return StudyChanged(toml, id_of(base))


def test_a_whole_study_in_one_call() -> None:
    assert codes(None, LOG) == set()
    assert codes(state(*LOG[:2]), LOG[2:]) == set()


@pytest.mark.parametrize(
    "body",
    [
        ReadingEntered(A2, Entry(("412,5",), "N")),
        ReadingEntered(A1, Entry(("40",), "kgf")),
        ReadingAmended(A1, (id_of("r1"),), Entry(("42",), "kgf"), "typed 41 for 42"),
        PieceAdded(id_of("A3"), "A3", "wedged"),
        PieceChanged(A1, label="B1", group="wedged"),
        PieceChanged(A1, label="A1"),
        PieceMeasured(A1, {"mass_g": "31.5", "board": "left half", "note_2": ""}),
        PieceVoided(A1, "split while clamping"),
        PieceRestored(A1, "it was sound"),
        PreparationLogged("glued", (A1, A2), "2026-01-30T08:00:00+01:00", 24.0),
        Undone(id_of("r1")),
        PhotoAdded("a" * 64 + ".jpg", A1),
        SafetyRead("2026-01-31"),
        StudyShelved(),
        changed(ONE.replace("Pegs", "Dowels")),
        changed(ONE.replace("wedged", 'wedged", "glued')),
    ],
)
def test_what_is_taken(body: Body) -> None:
    assert refused(body) == set()


@pytest.mark.parametrize(
    ("body", "code"),
    [
        (ReadingEntered(A2, Entry(("1,234",), "N")), "decimal-unclear"),
        (ReadingEntered(A2, Entry(("abc",), "N")), "not-a-load"),
        (ReadingEntered(A2, Entry(("41", "3"), "N")), "display-count"),
        (ReadingEntered(A2, Entry(("41",), "N", failure="Pull out")), "failure-spelling"),
        (ReadingAmended(A1, (id_of("r1"),), READ, " "), "reason-missing"),
        (ReadingAmended(A1, (), READ, "typo"), "wrong-base"),
        (ReadingAmended(A2, (id_of("r1"),), READ, "typo"), "wrong-base"),
        (ReadingAmended(A1, (id_of("add A1"),), READ, "typo"), "wrong-base"),
        (PieceAdded(id_of("A3"), "A1", "plain"), "duplicate-specimen"),
        (PieceAdded(id_of("A3"), "  ", "plain"), "specimen-missing"),
        (PieceAdded(id_of("A3"), "A3", "Plain"), "unknown-group"),
        (PieceAdded(A1, "A3", "plain"), "piece-there"),
        (PieceChanged(A1, label="A2"), "duplicate-specimen"),
        (PieceChanged(A1, group="glued"), "unknown-group"),
        (PieceMeasured(A1, {"mass_g": "about 3"}), "not-a-number"),
        (PieceMeasured(A1, {"mass_g": "3,5"}), "not-a-number"),
        (PieceMeasured(A1, {"mass": "1,234"}), "not-a-number"),
        (PieceMeasured(A1, {"void": "x"}), "column-reserved"),
        (PieceMeasured(A1, {"failures": "shank"}), "column-reserved"),
        (PieceMeasured(A1, {"load_2": "5"}), "column-reserved"),
        (PieceMeasured(A1, {"a;b": "5"}), "column-reserved"),
        (PieceMeasured(A1, {" ": "5"}), "column-reserved"),
        (PieceVoided(A1, ""), "void-reason"),
        (PieceVoided(A1, "x"), "void-reason"),
        (PieceRestored(A1, "\n"), "reason-missing"),
        (PreparationLogged("glued", (A1,), "2026-13-30T08:00:00Z"), "bad-time"),
        (SafetyRead("2026-02-30"), "bad-time"),
        (Undone(id_of("made")), "cannot-undo"),
        (StudyMade(ONE, "pegs"), "study-there"),
        (changed(ONE, "r1"), "wrong-base"),
        (changed("groups = ["), "toml-syntax"),
        (changed(ONE.replace("unit", "unti")), "unknown-key"),
        (changed(ONE + 'sheet = "other.csv"\n'), "sheet-elsewhere"),
        (changed(ONE.replace(', "wedged"', ', "glued"')), "group-in-use"),
        (changed(SHARED), "readings-unfit"),
        (changed(TURNS), "readings-unfit"),
    ],
)
def test_what_is_refused(body: Body, code: str) -> None:
    assert refused(body) == {code}


@pytest.mark.parametrize(
    "body",
    [
        ReadingEntered(id_of("Z9"), READ),
        ReadingAmended(A1, (id_of("r9"),), READ, "typo"),
        PieceVoided(id_of("Z9"), "pilot"),
        PieceMeasured(id_of("Z9"), {"mass_g": "3"}),
        PreparationLogged("glued", (A1, id_of("Z9")), "2026-01-30T08:00:00Z"),
        PhotoAdded("a" * 64 + ".jpg", id_of("Z9")),
        Undone(id_of("nothing")),
        changed(ONE, "c9"),
    ],
)
def test_what_came_before_what_it_speaks_of(body: Body) -> None:
    assert refused(body) == {"event-too-early"}
    assert codes(None, [event("new", body)]) == {"event-too-early"}


def test_a_refusal_of_a_changed_study_names_the_line() -> None:
    with pytest.raises(InputRefused) as found:
        check_events(state(*LOG), [event("c", changed('title = "x"\ngroups = 5\n'))])

    assert [(p.file, p.line) for p in found.value.problems] == [("study.toml", 2)]


def test_a_short_name_that_another_study_has() -> None:
    assert codes(None, LOG[:1], taken=["pegs"]) == {"handle-taken"}
    assert codes(None, LOG[:1], taken=["dowels"]) == set()


def test_a_repeat_is_not_looked_at_again() -> None:
    later = (*LOG, event("c", PieceChanged(A1, label="B1")), added("A9"))

    # A1 was renamed since; 'add A1' as such would now be refused for its id.
    assert codes(state(*later), LOG) == set()


def test_what_was_taken_back_meanwhile_is_a_conflict_and_is_taken() -> None:
    there = state(*LOG, event("u1", Undone(id_of("add A1"))), event("u2", Undone(id_of("r1"))))

    assert codes(there, [entered("r2", "A1", READ)]) == set()
    amendment = ReadingAmended(A1, (id_of("r1"),), READ, "typo")
    assert codes(there, [event("r3", amendment)]) == set()
    # Its label is free again.
    assert codes(there, [event("a", PieceAdded(id_of("new"), "A1", "plain"))]) == set()


def test_a_reading_of_a_piece_left_out_is_kept() -> None:
    there = state(*LOG, event("v", PieceVoided(A2, "pilot")))

    assert codes(there, [entered("r2", "A2", READ)]) == set()


def test_problems_of_every_event_are_told_and_the_good_ones_count() -> None:
    events = [
        event("a", PieceAdded(id_of("A3"), "A3", "plain")),
        event("b", PieceVoided(A1, "")),
        entered("c", "A3", Entry(("x",), "N")),
        entered("d", "A3", Entry(("5",), "N")),
    ]

    assert codes(state(*LOG), events) == {"void-reason", "not-a-load"}


def test_a_device_whose_clock_shows_no_time() -> None:
    wrong = Event(id_of("s"), STUDY, NOW.replace("01-31", "02-31"), StudyShelved())

    assert codes(state(*LOG), [wrong]) == {"bad-time"}
