"""Events to try a store with. Names and numbers are invented."""

import hashlib
import random

from breakwright.model.event import (
    Body,
    Entry,
    Event,
    PieceAdded,
    ReadingEntered,
    StudyMade,
)
from breakwright.usecases.bench.ports import Job, JobState, Media

__all__ = ["NOW", "Maker", "a_job", "a_photo", "later"]

NOW = "2026-01-31T09:30:00Z"
TOML = 'title = "Does a wedge help?"\n'


def later(seconds: int) -> str:
    """Return the time so many seconds after ``NOW``, below a minute."""
    return f"2026-01-31T09:30:{seconds:02d}Z"


class Maker:
    """Makes the events of one study; the same number gives the same ids."""

    def __init__(self, number: int) -> None:
        self._random = random.Random(number)
        self.study = self.new_id()

    def new_id(self) -> str:
        return f"{self._random.getrandbits(128):032x}"

    def event(self, body: Body) -> Event:
        return Event(self.new_id(), self.study, NOW, body, device="phone", person="Ada")

    def made(self, handle: str = "wedge") -> Event:
        return self.event(StudyMade(TOML, handle))

    def piece(self, label: str, *, order: int | None = None) -> tuple[str, Event]:
        """Return a piece's id and the event that adds it."""
        piece = self.new_id()
        return piece, self.event(PieceAdded(piece, label, "plain", order=order))

    def reading(self, piece: str, *, note: str | None = None) -> Event:
        return self.event(ReadingEntered(piece, Entry(("412",), "kgf", note=note)))


def a_photo(data: bytes = b"not really a picture") -> Media:
    return Media(f"{hashlib.sha256(data).hexdigest()}.jpg", "image/jpeg", data)


def a_job(number: int, *, key: str = "k", kind: str = "answer", made: str = NOW) -> Job:
    return Job(
        id=f"{number:032x}",
        study="5" * 32,
        kind=kind,
        key=key,
        given="{}",
        state=JobState.QUEUED,
        made=made,
        beat=made,
    )
