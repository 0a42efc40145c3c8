"""What a log of events comes to, whatever order and whoever's hands it came through."""

import itertools

import pytest
from bench_log import (
    TOML,
    added,
    amended,
    entered,
    event,
    id_of,
    loads,
    made,
    recorded,
    state,
    undone,
)

from breakwright.model.errors import ImpossibleValue
from breakwright.model.event import (
    PhotoAdded,
    PieceChanged,
    PieceMeasured,
    PieceRestored,
    PieceVoided,
    PreparationLogged,
    SafetyRead,
    StudyChanged,
    StudyMade,
    StudyShelved,
    StudyTakenUp,
    Undone,
)
from breakwright.usecases.bench.fold import fold
from breakwright.usecases.bench.state import Standing

READ = (made(), added("A1"), entered("r1", "A1", "412"))


def test_a_reading_undone_and_brought_back() -> None:
    once = (*READ, undone("u1", "r1"))

    assert loads(state(*READ)) == ("412",)
    assert loads(state(*once)) == ()
    assert loads(state(*once, undone("u2", "u1"))) == ("412",)
    assert loads(state(*once, undone("u2", "u1"), undone("u3", "u2"))) == ()


def test_undoings_count_the_same_in_whatever_order_they_arrive() -> None:
    undoings = (undone("u1", "r1"), undone("u2", "u1"), undone("u3", "u2"))

    for order in itertools.permutations(undoings):
        assert loads(state(*READ, *order)) == ()
    for order in itertools.permutations(undoings[:2]):
        assert loads(state(*READ, *order)) == ("412",)


def test_thousands_of_undoings_of_undoings() -> None:
    chain = [undone(f"u{i}", f"u{i - 1}" if i else "r1") for i in range(3000)]

    assert loads(state(*READ, *chain)) == ("412",)


def test_undoings_in_a_ring_have_no_effect() -> None:
    ring = (undone("u1", "u2"), undone("u2", "u1"))

    assert loads(state(*READ, *ring)) == ("412",)


def test_the_beginning_cannot_be_taken_back() -> None:
    assert state(*READ, undone("u1", "made")).title == "Pegs"


def test_an_amendment_in_the_middle_taken_back_leaves_the_last() -> None:
    chain = (*READ, amended("r2", "A1", ("r1",), "421"), amended("r3", "A1", ("r2",), "422"))

    assert loads(state(*chain)) == ("422",)
    # r3 replaced r2, which replaced r1: with r2 gone r1 does not rise again.
    assert loads(state(*chain, undone("u1", "r2"))) == ("422",)
    assert loads(state(*chain, undone("u1", "r3"))) == ("421",)
    assert loads(state(*chain, undone("u1", "r3"), undone("u2", "r2"))) == ("412",)


def test_two_amendments_of_one_reading_clash_until_one_names_both() -> None:
    clash = (*READ, amended("r2", "A1", ("r1",), "421"), amended("r3", "A1", ("r1",), "432"))
    found = state(*clash)

    assert loads(found) == ("421", "432")
    assert [piece.label for piece in found.clashes] == ["A1"]
    assert found.pieces[0].standing is Standing.CLASH
    assert found.pieces[0].reading is not None
    assert found.pieces[0].reading.entry.loads == ("421",)
    settled = state(*clash, amended("r4", "A1", ("r2", "r3"), "432"))
    assert loads(settled) == ("432",)
    assert settled.clashes == ()
    assert len(settled.pieces[0].versions) == 4


def test_two_readings_of_one_piece_clash() -> None:
    found = state(*READ, entered("r2", "A1", "500"))

    assert loads(found) == ("412", "500")
    assert loads(state(*READ, entered("r2", "A1", "500"), undone("u", "r1"))) == ("500",)


def test_a_piece_overtaken_by_its_reading_is_there_all_the_same() -> None:
    late = (made(), entered("r1", "A1"), event("m", _measured("A1")), added("A1"))

    assert loads(state(*late)) == ("412",)
    assert state(*late).strays == ()


def _measured(label: str, **values: str) -> PieceMeasured:
    return PieceMeasured(id_of(label), values or {"mass_g": "31.5"})


def test_what_speaks_of_nothing_is_a_stray() -> None:
    found = state(*READ, entered("r2", "Z9"), undone("u1", "nothing"), undone("u2", "r1"))

    assert set(found.strays) == {id_of("r2"), id_of("u1")}
    assert loads(found) == ()


def test_a_piece_whose_adding_is_taken_back_takes_its_readings_along() -> None:
    found = state(*READ, undone("u1", "add A1"))

    assert found.pieces == ()
    assert found.strays == (id_of("r1"),)
    assert loads(state(*READ, undone("u1", "add A1"), undone("u2", "u1"))) == ("412",)


def test_a_second_piece_of_the_same_id_is_a_stray() -> None:
    again = event("again", added("A1", "wedged").body)

    found = state(*READ, again)

    assert [piece.group for piece in found.pieces] == ["plain"]
    assert found.strays == (id_of("again"),)


def test_two_changes_of_the_study_clash_and_the_last_counts() -> None:
    def change(name: str, title: str, base: str) -> object:
        return event(name, StudyChanged(TOML.replace("Pegs", title), id_of(base)))

    clash = (made(), change("c1", "One", "made"), change("c2", "Two", "made"))
    found = state(*clash)

    assert len(found.heads) == 2
    assert found.title == "Two"
    settled = state(*clash, change("c3", "Three", "c2"), undone("u", "c1"))
    assert [d.event for d in settled.heads] == [id_of("c3")]
    assert len(settled.definitions) == 3


def test_a_change_that_overtook_the_beginning_waits_for_it() -> None:
    change = event("c1", StudyChanged(TOML.replace("Pegs", "Dowels"), id_of("made")))

    found = state(change, made())

    assert (found.handle, found.title, found.strays) == ("pegs", "Dowels", ())
    with pytest.raises(ImpossibleValue):
        state(change)
    with pytest.raises(ImpossibleValue):
        fold([])


def test_a_second_beginning_is_a_stray() -> None:
    found = state(made(), event("made 2", StudyMade(TOML, "other")))

    assert (found.handle, found.strays) == ("pegs", (id_of("made 2"),))


def test_voided_restored_changed_measured() -> None:
    log = (
        *READ,
        added("A2", "wedged", order=1),
        event("v", PieceVoided(id_of("A1"), "pilot")),
        event("c", PieceChanged(id_of("A1"), label="B1", block="board 2")),
        event("m1", _measured("A1", mass_g="30", width_mm="14")),
        event("m2", _measured("A1", mass_g="", width_mm="14.2")),
    )
    found = state(*log)
    piece = found.piece("B1")

    assert piece is not None
    assert (piece.standing, piece.void, piece.block) == (Standing.VOID, "pilot", "board 2")
    assert dict(piece.measured) == {"width_mm": "14.2"}
    assert [p.label for p in found.pieces] == ["A2", "B1"]
    assert found.next_piece is not None
    assert found.next_piece.label == "A2"
    back = state(*log, event("b", PieceRestored(id_of("A1"), "it was no pilot")))
    assert back.pieces[1].standing is Standing.READ
    assert state(*log, undone("u", "v")).pieces[1].void is None


def test_shelf_preparations_photos_and_cautions() -> None:
    glue = PreparationLogged("glued", (id_of("A1"),), "2026-01-30T08:00:00+01:00", 24.0)
    found = state(
        *READ,
        event("s", StudyShelved()),
        event("p", glue),
        event("f1", PhotoAdded("a" * 64 + ".jpg", id_of("A1"))),
        event("f2", PhotoAdded("b" * 64 + ".jpg")),
        event("d1", SafetyRead("2026-01-31")),
        event("d2", SafetyRead("2026-01-31")),
    )

    assert found.shelved
    assert found.preparations[0].log == glue
    assert len(found.pieces[0].photos) == len(found.photos) == 1
    assert found.safety == ("2026-01-31",)
    assert not state(*READ, event("s", StudyShelved()), event("t", StudyTakenUp())).shelved
    assert not state(*READ, event("s", StudyShelved()), event("t", Undone(id_of("s")))).shelved


def test_the_same_events_give_the_same_state() -> None:
    log = recorded(*READ, amended("r2", "A1", ("r1",), "421"), undone("u", "r2"))

    assert fold(log) == fold(log)
    assert fold(log).last == 5
