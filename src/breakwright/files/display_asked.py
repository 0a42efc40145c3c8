"""A display as a person names it, before it is held against an instrument or a film."""

from dataclasses import dataclass

__all__ = ["CORNERS_ALLOWED", "DisplayAsked"]

CORNERS_ALLOWED = (
    "the four corners of the digits as they read: top left, top right, bottom right, bottom left"
)


@dataclass(frozen=True, slots=True)
class DisplayAsked:
    """``corners`` (px of the upright frame, four of them) hold at ``time`` (s); ``instrument``
    names one of the study's; the rest is in the display's ``unit``, None where not said.

    ``file`` and ``line`` say where it was written, for messages.
    """

    name: str
    corners: tuple[tuple[float, float], ...]
    time: float = 0.0
    instrument: str | None = None
    unit: str | None = None
    decimals: int | None = None
    resolution: float | None = None
    capacity: float | None = None
    refresh_s: float | None = None
    digits: int | None = None
    file: str = "--display"
    line: int | None = None
