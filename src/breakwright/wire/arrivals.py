"""What comes over a wire, whichever it is: bytes, silence, an end, a cable pulled and put back."""

from dataclasses import dataclass
from typing import Protocol

__all__ = ["Arrival", "Back", "Data", "Ended", "Gone", "Quiet", "Wire"]


@dataclass(frozen=True, slots=True)
class Data:
    """Bytes that arrived at ``at`` (s on a clock that does not go back)."""

    data: bytes
    at: float


@dataclass(frozen=True, slots=True)
class Quiet:
    """Nothing came for a moment."""

    at: float


@dataclass(frozen=True, slots=True)
class Gone:
    """The wire went dead; ``why`` in words. It is tried again."""

    why: str
    at: float


@dataclass(frozen=True, slots=True)
class Back:
    """The wire is there again."""

    at: float


@dataclass(frozen=True, slots=True)
class Ended:
    """Nothing will come any more, and that is in order."""

    at: float


Arrival = Data | Quiet | Gone | Back | Ended


class Wire(Protocol):
    """``mid_line``: the first line may be the rest of one. ``live``: when bytes arrive is about
    when they were measured."""

    @property
    def name(self) -> str: ...

    @property
    def mid_line(self) -> bool: ...

    @property
    def live(self) -> bool: ...

    def read(self) -> Arrival:
        """Return what comes next, after a fraction of a second at the latest."""
        ...

    def close(self) -> None:
        """Give the wire back; calling twice is harmless."""
        ...
