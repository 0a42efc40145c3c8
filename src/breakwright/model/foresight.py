"""What a person expects and wants before the first cut: scatter, ratio, numbers, layout."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from breakwright.model.errors import ImpossibleValue

__all__ = ["Expected", "Layout", "Wish"]

_NO_NUMBERS: Mapping[str, float] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Expected:
    """What is expected of the pieces, where it is not predicted from the part under test.

    ``median`` of the reference group (N; None: predicted); ``cv`` of single pieces (None:
    predicted, or from pilots); ``ratio`` of each other group's median over the reference's (a
    group left out: the smallest ratio worth knowing); ``wrong_way`` is the share of pieces
    expected to break another way; ``pilots`` are loads (N) of pieces of the reference broken
    beforehand.
    """

    median: float | None = None
    cv: float | None = None
    ratio: Mapping[str, float] = field(default_factory=lambda: _NO_NUMBERS)
    wrong_way: float = 0.0
    pilots: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        if self.median is not None and not 0.0 < self.median < math.inf:
            raise ImpossibleValue(f"the expected median is {self.median}")
        if self.cv is not None and not 0.0 < self.cv <= 2.0:
            raise ImpossibleValue(f"the expected scatter (cv) is {self.cv}")
        if not 0.0 <= self.wrong_way < 1.0:
            raise ImpossibleValue(f"the share that breaks another way is {self.wrong_way}")


@dataclass(frozen=True, slots=True)
class Wish:
    """How many pieces, how sure, and what the order must be balanced over.

    ``pieces`` a group that the person has in mind (None: asks); ``chance`` of seeing the smallest
    ratio worth knowing; ``width`` wanted of the interval, as upper over lower limit (None: not
    asked); ``blocks``: names of boards or sheets; ``days`` and ``operators`` to spread over;
    ``pairs``: pieces of all groups are cut side by side; ``longest_run``: no group more often
    than this in a row.
    """

    pieces: int | None = None
    chance: float = 0.8
    width: float | None = None
    blocks: tuple[str, ...] = ()
    days: int = 1
    operators: tuple[str, ...] = ()
    pairs: bool = False
    longest_run: int | None = None
    seed: int = 20240229

    def __post_init__(self) -> None:
        if self.pieces is not None and not 2 <= self.pieces <= 10_000:
            raise ImpossibleValue(f"pieces a group: {self.pieces}")
        if not 0.0 < self.chance < 1.0:
            raise ImpossibleValue(f"a chance lies between 0 and 1; got {self.chance}")
        if self.width is not None and not 1.0 < self.width < math.inf:
            raise ImpossibleValue(f"a width (upper over lower) is above 1; got {self.width}")
        if self.days < 1 or (self.longest_run is not None and self.longest_run < 1):
            raise ImpossibleValue(f"days {self.days}, longest run {self.longest_run}")


@dataclass(frozen=True, slots=True)
class Layout:
    """How the rig is laid out. Lengths in mm, masses in kg, loads in N.

    ``scale_at`` is the position of each instrument along the beam that it bears, by its name;
    ``load_at`` where the load comes on, ``wander`` how far off that it may lie; ``rate`` the
    loading rate (N/s); ``loose_mass`` what could fly at the break; ``stroke`` what the jack has.
    """

    scale_at: Mapping[str, float] = field(default_factory=lambda: _NO_NUMBERS)
    load_at: float | None = None
    wander: float = 0.0
    rate: float | None = None
    loose_mass: float | None = None
    stroke: float | None = None

    def __post_init__(self) -> None:
        if self.wander < 0.0:
            raise ImpossibleValue(f"the load may be off by {self.wander} mm")
        for name in ("rate", "loose_mass", "stroke"):
            value = getattr(self, name)
            if value is not None and not 0.0 < value < math.inf:
                raise ImpossibleValue(f"{name} is {value}")
