"""The bench: studies kept in a store, found by id or handle, with their states at hand."""

import threading
from collections.abc import Sequence

from breakwright.model.errors import ImpossibleValue
from breakwright.model.event import Event, Recorded
from breakwright.usecases.bench.fold import fold
from breakwright.usecases.bench.fold_on import fold_on
from breakwright.usecases.bench.ports import EventStore, Receipt, StudyLine
from breakwright.usecases.bench.state import StudyState

__all__ = ["Bench"]

# States of this many studies are kept at hand; a class of thirty works on fewer at once.
_AT_HAND = 32


class Bench:
    """Reads states out of ``store`` and puts events into it. Safe to use from many threads.

    A state at hand is brought up to date with the events that came since, whoever put them
    there: another process may write into the same store.
    """

    def __init__(self, store: EventStore) -> None:
        self.store = store
        self._states: dict[str, StudyState] = {}
        self._lock = threading.Lock()

    def studies(self) -> tuple[StudyLine, ...]:
        """Return a line for each study, the one touched last first."""
        return self.store.studies()

    def find(self, key: str) -> str | None:
        """Return the id of the study with this id or handle."""
        with self._lock:
            if key in self._states:
                return key
        lines = self.store.studies()
        by_id = next((line.id for line in lines if line.id == key), None)
        return by_id or next((line.id for line in lines if line.handle == key), None)

    def state(self, key: str) -> StudyState | None:
        """Return the study with this id or handle as it stands now; None where there is none."""
        study = self.find(key)
        return None if study is None else self._fresh(study)

    def _fresh(self, study: str) -> StudyState | None:
        with self._lock:
            known = self._states.get(study)
        since: tuple[Recorded, ...] = self.store.events(study, after=known.last if known else 0)
        if not since:
            return known
        try:
            state = fold_on(known, since) if known else fold(since)
        except ImpossibleValue:
            # Events of a study whose beginning is still on its way from another device.
            return None
        with self._lock:
            newest = self._states.pop(study, None)
            if newest is not None and newest.last > state.last:
                state = newest
            self._states[study] = state
            while len(self._states) > _AT_HAND:
                del self._states[next(iter(self._states))]
        return state

    def record(self, events: Sequence[Event], *, received: str) -> Receipt:
        """Keep ``events``, all or none; see ``EventStore.append``."""
        return self.store.append(events, received=received)
