"""The study as the answer reads it: derived from the events, judged by the reader of sheets."""

from itertools import count

import pytest
from bench_study import NOW, ONE, added, entered, event, fresh_ids, id_of, made, state

from breakwright.bootstrap.bench import (
    DEMO_HANDLE,
    checked_source_of,
    demo_events,
    open_bench,
    plan_source_of,
    source_of,
)
from breakwright.model.errors import InputRefused
from breakwright.model.event import Entry, PieceVoided, ReadingAmended, StudyMade, Undone
from breakwright.usecases.bench.ports import StoreUnreachable

LOG = (
    made(ONE),
    added("A1"),
    added("A2", "wedged"),
    added("A3"),
    entered("r1", "A1", Entry(("41",), "kgf", note="two\rlines")),
    entered("r2", "A2", Entry(("45",), "kgf")),
)


def loads(*events: object) -> dict[str, list[str]]:
    study = source_of(state(*LOG, *events)).study  # type: ignore[arg-type]
    return {t.specimen: [r.text for r in t.readings] for t in study.trials}


def test_what_counts_follows_the_events() -> None:
    amended = ReadingAmended(id_of("A1"), (id_of("r1"),), Entry(("42,5",), "kgf"), "typo")

    assert loads() == {"A1": ["41"], "A2": ["45"]}
    assert loads(event("a", amended)) == {"A1": ["42.5"], "A2": ["45"]}
    assert loads(event("a", amended), event("u", Undone(id_of("a")))) == loads()
    assert loads(event("v", PieceVoided(id_of("A3"), "fell down")))["A3"] == []
    # Two readings of one piece: the first to arrive.
    assert loads(entered("r3", "A2", Entry(("46",), "kgf"))) == loads()


def test_a_problem_names_the_piece_and_where_it_is() -> None:
    with pytest.raises(InputRefused) as refused:
        source_of(state(*LOG, entered("r3", "A3", Entry(("forty",), "kgf"))))

    (problem,) = refused.value.problems
    # A1's note holds a line end, so A2 begins on line 4 and A3 on line 5.
    assert (problem.code, problem.file, problem.line) == ("not-a-load", "trials.csv", 5)
    assert problem.message.startswith("piece 'A3': ")


def test_a_study_without_readings_says_so() -> None:
    with pytest.raises(InputRefused) as refused:
        source_of(state(*LOG[:4]))

    assert [p.code for p in refused.value.problems] == ["no-rows"]
    assert plan_source_of(state(*LOG[:4])).study.groups == ("plain", "wedged")


def test_parts_that_cannot_be_are_refused_where_it_is_asked_for() -> None:
    part = '[[part]]\nname = "peg"\nkind = "dream"\ntested = true\n'
    there = state(made(ONE + part), *LOG[1:])

    assert source_of(there).study.parts
    with pytest.raises(InputRefused):
        checked_source_of(there)


def test_the_demo_as_events() -> None:
    ids = fresh_ids(3)
    number = count()

    def new_id() -> str:
        next(number)
        return ids()

    events = demo_events(NOW, new_id)

    assert len({e.id for e in events}) == len(events)
    assert {e.made for e in events} == {NOW}
    beginning = events[0].body
    assert isinstance(beginning, StudyMade)
    assert beginning.handle == DEMO_HANDLE
    assert next(number) > len(events)
    assert len(checked_source_of(state(*events)).study.trials) == 25


def test_a_store_is_opened_where_it_is_named(tmp_path, monkeypatch) -> None:
    monkeypatch.setenv("BREAKWRIGHT_DATA", str(tmp_path / "own"))
    for name, folder in ((str(tmp_path / "club.sqlite"), tmp_path), (None, tmp_path / "own")):
        opened = open_bench(name)
        try:
            opened.store.append([made(ONE)], received=NOW)
            assert opened.bench.state("pegs") is not None
            assert opened.folder == folder
            assert opened.url.startswith("sqlite:///")
            assert opened.jobs.newest("5" * 32, "answer") is None
        finally:
            opened.store.close()
    with pytest.raises(StoreUnreachable):
        open_bench("mysql://x/y")
