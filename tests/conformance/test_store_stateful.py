"""Whatever comes, in whatever order and however often: the store says what a list would."""

import dataclasses
import itertools
import tempfile
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    Bundle,
    RuleBasedStateMachine,
    initialize,
    invariant,
    multiple,
    rule,
    run_state_machine_as_test,
)
from raw_store import rows_of
from store_samples import NOW

from breakwright.model.event import (
    Body,
    Entry,
    Event,
    PieceAdded,
    PieceChanged,
    PieceRestored,
    PieceVoided,
    PreparationLogged,
    ReadingAmended,
    ReadingEntered,
    StudyChanged,
    StudyMade,
    StudyShelved,
    Undone,
)
from breakwright.store.memory import MemoryStore
from breakwright.store.opening import open_store
from breakwright.usecases.bench.ports import IdTaken
from postgres import Cluster

# Few of each, so that events name each other, and what is not there, again and again.
STUDIES = [f"{n:032x}" for n in (1, 2)]
PIECES = [f"{n:032x}" for n in (11, 12, 13)]
EVENTS = [f"{n:032x}" for n in range(100, 112)]

pieces = st.sampled_from(PIECES)
named = st.sampled_from(EVENTS + PIECES)
entries = st.builds(Entry, st.tuples(st.sampled_from(["1", ">50", ""])), st.just("kgf"))
bodies: st.SearchStrategy[Body] = st.one_of(
    st.builds(StudyMade, st.sampled_from(['title = "T"', "not toml ["]), st.just("handle")),
    st.builds(StudyChanged, st.just('title = "U"'), named),
    st.builds(StudyShelved),
    st.builds(PieceAdded, pieces, st.sampled_from(["A", "B"]), st.just("plain")),
    st.builds(PieceChanged, pieces, label=st.just("C"), order=st.integers(0, 3)),
    st.builds(PieceVoided, pieces, st.just("knot")),
    st.builds(PieceRestored, pieces, st.just("no knot")),
    st.builds(ReadingEntered, pieces, entries),
    st.builds(
        ReadingAmended, pieces, st.lists(named, max_size=2).map(tuple), entries, st.just("why")
    ),
    st.builds(PreparationLogged, st.just("glue"), st.tuples(pieces), st.just(NOW)),
    st.builds(Undone, named),
)
events = st.builds(Event, st.sampled_from(EVENTS), st.sampled_from(STUDIES), st.just(NOW), bodies)


class Machine(RuleBasedStateMachine):
    """Two openings of one store, as two servers have it, beside a store in memory."""

    fresh: Callable[[], str]

    sent = Bundle("sent")

    @initialize()
    def begin(self) -> None:
        self.url = type(self).fresh()
        self.stores = [open_store(self.url), open_store(self.url)]
        self.plain = MemoryStore()
        self.turns = itertools.count()

    @rule(target=sent, batch=st.lists(events, min_size=1, max_size=4), which=st.integers(0, 1))
    def append(self, batch: list[Event], which: int) -> Any:
        self._send(batch, which)
        return multiple(*batch)

    @rule(event=sent, which=st.integers(0, 1))
    def repeat(self, event: Event, which: int) -> None:
        self._send([event], which)

    @rule(event=sent, which=st.integers(0, 1))
    def say_something_else(self, event: Event, which: int) -> None:
        self._send([dataclasses.replace(event, device=f"{event.device}x")], which)

    @rule(which=st.integers(0, 1))
    def open_again(self, which: int) -> None:
        self.stores[which].close()
        self.stores[which] = open_store(self.url)

    def _send(self, batch: list[Event], which: int) -> None:
        received = f"2026-01-31T10:00:00.{next(self.turns):06d}Z"
        try:
            expected = self.plain.append(batch, received=received)
        except IdTaken:
            with pytest.raises(IdTaken):
                self.stores[which].append(batch, received=received)
        else:
            assert self.stores[which].append(batch, received=received) == expected

    @invariant()
    def all_agree(self) -> None:
        if not hasattr(self, "stores"):
            return
        for store in self.stores:
            assert store.feed(after=0) == self.plain.feed(after=0)
            assert store.studies() == self.plain.studies()
            assert store.last() == self.plain.last()
        for study in STUDIES:
            assert self.stores[0].events(study, after=1) == self.plain.events(study, after=1)

    def teardown(self) -> None:
        if not hasattr(self, "stores"):
            return
        before = rows_of(self.url, "pieces"), rows_of(self.url, "studies")
        self.stores[0].rebuild()
        assert (rows_of(self.url, "pieces"), rows_of(self.url, "studies")) == before
        for store in self.stores:
            store.close()


def run(fresh: Callable[[], str], examples: int) -> None:
    machine = type("Fresh", (Machine,), {"fresh": staticmethod(fresh)})
    run_state_machine_as_test(  # type: ignore[no-untyped-call]
        machine,
        settings=settings(
            max_examples=examples,
            stateful_step_count=12,
            suppress_health_check=list(HealthCheck),
        ),
    )


def test_sqlite_says_what_a_list_would() -> None:
    with tempfile.TemporaryDirectory() as folder:
        numbers = itertools.count()
        run(lambda: f"sqlite:///{folder}/{next(numbers)}.sqlite", 20)


def test_postgresql_says_what_a_list_would(server: Cluster) -> None:
    run(server.new_database, 5)
