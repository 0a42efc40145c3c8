"""What every page and every call of the API is handed: the bench, long work, the clock."""

import secrets
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated, Protocol

from fastapi import Depends, Request

from breakwright.model.event import Body, Event, StudyMade
from breakwright.usecases.bench.bench import Bench
from breakwright.usecases.bench.ports import JobStore, Receipt

__all__ = ["Hands", "Listeners", "Services", "ServicesHere", "new_id"]


class Listeners(Protocol):
    """Pages that wait for news. ``tell`` may be called from any thread."""

    def tell(self) -> None: ...


class Hands(Protocol):
    """Worker processes. ``wake`` sees that one runs that takes jobs of this kind, and returns at
    once."""

    def wake(self, kind: str) -> None: ...


class _Nobody:
    """Listens to nothing and works on nothing."""

    def tell(self) -> None:
        return None

    def wake(self, kind: str) -> None:  # noqa: ARG002
        return None


def new_id() -> str:
    """Return 32 hexadecimal digits that nobody else has."""
    return secrets.token_hex(16)


@dataclass(frozen=True)
class Services:
    """``folder`` is where large uploads lie; ``clock`` returns the time, aware of its zone."""

    bench: Bench
    jobs: JobStore
    folder: Path
    listeners: Listeners = field(default_factory=_Nobody)
    hands: Hands = field(default_factory=_Nobody)
    clock: Callable[[], datetime] = lambda: datetime.now(UTC)

    def now(self) -> str:
        """Return the time as events have it: ISO 8601 in UTC, to the millisecond."""
        return self.clock().astimezone(UTC).isoformat(timespec="milliseconds")[:-6] + "Z"

    def record(self, events: list[Event]) -> Receipt:
        """Keep ``events``, all or none, and tell the pages that listen.

        Raises InputRefused where they make no sense on top of what is there; what the store
        raises passes through.
        """
        self._check(events)
        receipt = self.bench.record(events, received=self.now())
        if receipt.new:
            self.listeners.tell()
        return receipt

    def record_once(self, event: Event) -> Receipt:
        """As ``record``, where an event of this id that says the same, but was made here at
        another time, is taken for a repeat."""
        state = self.bench.state(event.study)
        for recorded in state.events if state else ():
            if recorded.event.id == event.id and recorded.event.body == event.body:
                return Receipt((), 1)
        return self.record([event])

    def _check(self, events: list[Event]) -> None:
        from breakwright.bootstrap.bench import check_events

        for study in dict.fromkeys(event.study for event in events):
            # A repeat is not looked at again: what was true when it first came may be no longer.
            own = [event for event in events if event.study == study]
            check_events(self.bench.state(study), own, taken=self._taken(study, own))

    def _taken(self, study: str, events: list[Event]) -> list[str]:
        """Return the handles of other studies, where ``events`` may want one."""
        if not any(isinstance(event.body, StudyMade) for event in events):
            return []
        return [line.handle for line in self.bench.studies() if line.id != study]

    def event(self, study: str, body: Body, *, person: str | None = None) -> Event:
        """Return an event made here, on the server, for a page without scripts."""
        return Event(new_id(), study, self.now(), body, device="server", person=person)


def _services(request: Request) -> Services:
    services: Services = request.app.state.services
    return services


ServicesHere = Annotated[Services, Depends(_services)]
