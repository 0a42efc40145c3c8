"""One specimen loaded until it broke or the loading ended: what was read, and how it ended."""

import datetime as dt
import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType

from breakwright.model.errors import ImpossibleValue
from breakwright.model.interval import Interval

__all__ = ["Ending", "Reading", "Sharing", "Trial"]

_NOTHING: Mapping[str, float] = MappingProxyType({})
_NO_WORDS: Mapping[str, str] = MappingProxyType({})


class Ending(StrEnum):
    """Why the loading ended. All but ``BROKE`` leave the strength at 'at least'."""

    BROKE = "broke"
    OVER_RANGE = "over-range"
    SCREEN_LOST = "screen-lost"
    STOPPED = "stopped"
    RIG_FAILED = "rig-failed"


class Sharing(StrEnum):
    """How the readings of instruments that carried the load together belong together."""

    SAME_MOMENT = "same-moment"
    SEPARATE_PEAKS = "separate-peaks"


@dataclass(frozen=True, slots=True)
class Reading:
    """What one instrument said, before anything is known of the instrument.

    ``shown`` is the interval as written, in N: ``412`` is exact here, ``>440`` is at least;
    resolution, calibration and the rest widen it later. ``text`` is what the person typed.
    """

    shown: Interval
    text: str
    instrument: str | None = None


@dataclass(frozen=True, slots=True)
class Trial:
    """One row of a sheet. Loads in N.

    ``readings`` is empty only where ``void`` says why; ``together`` is the largest sum seen on
    all displays at one moment, where the separate peaks were noted as well; ``rate`` is the
    loading rate in N/s. ``line`` is the row in the sheet, None for trials made in memory.
    """

    specimen: str
    group: str
    readings: tuple[Reading, ...]
    ending: Ending = Ending.BROKE
    failure: str | None = None
    void: str | None = None
    together: float | None = None
    rate: float | None = None
    block: str | None = None
    order: int | None = None
    date: dt.date | None = None
    note: str | None = None
    covariates: Mapping[str, float] = field(default_factory=lambda: _NOTHING)
    words: Mapping[str, str] = field(default_factory=lambda: _NO_WORDS)
    line: int | None = None

    def __post_init__(self) -> None:
        if not self.readings and self.void is None:
            raise ImpossibleValue(f"specimen {self.specimen!r} has no reading and is not void")
        if self.together is not None and not 0.0 <= self.together < math.inf:
            raise ImpossibleValue(f"specimen {self.specimen!r}: together is {self.together}")
        if self.rate is not None and not 0.0 <= self.rate < math.inf:
            raise ImpossibleValue(f"specimen {self.specimen!r}: rate is {self.rate}")
