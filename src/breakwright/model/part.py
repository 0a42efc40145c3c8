"""A part of the load path, from the jack to the bench; one of them is the piece under test."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from breakwright.model.errors import ImpossibleValue

__all__ = ["Part"]

_NO_NUMBERS: Mapping[str, float] = MappingProxyType({})
_NO_WORDS: Mapping[str, str] = MappingProxyType({})
_NO_LINES: Mapping[str, int] = MappingProxyType({})
_NO_GROUPS: Mapping[str, Mapping[str, float | str]] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Part:
    """One kind of part and how many of it share the load.

    ``kind`` names an entry of the strength room's catalogue; ``numbers`` and ``words`` are what
    the person said of it, by key, numbers in the unit that the key ends with (``_mm``, ``_N``,
    ``_MPa``, ``_kg_m3``, ``_pct``); ``spread`` is the coefficient of variation of a number where
    the person knows it. Each of ``count`` pieces bears a share of the load between ``share[0]``
    and ``share[1]`` (1/count each where nothing is said). ``tested`` marks the piece under test,
    ``breaks`` the mechanism by which it should break; ``by_group`` overrides keys for a group's
    pieces. ``own_tests`` are loads (N, whole load on the part) at which pieces like this broke
    by that mechanism. ``lines`` tells on which line of ``study.toml`` each key stands, for
    messages; ``""`` is the part itself.
    """

    name: str
    kind: str
    numbers: Mapping[str, float] = field(default_factory=lambda: _NO_NUMBERS)
    words: Mapping[str, str] = field(default_factory=lambda: _NO_WORDS)
    spread: Mapping[str, float] = field(default_factory=lambda: _NO_NUMBERS)
    count: int = 1
    share: tuple[float, float] | None = None
    tested: bool = False
    breaks: str | None = None
    by_group: Mapping[str, Mapping[str, float | str]] = field(default_factory=lambda: _NO_GROUPS)
    own_tests: tuple[float, ...] = ()
    lines: Mapping[str, int] = field(default_factory=lambda: _NO_LINES, compare=False)

    def __post_init__(self) -> None:
        if self.count < 1:
            raise ImpossibleValue(f"part {self.name!r}: count is {self.count}")
        if self.share is not None and not 0.0 < self.share[0] <= self.share[1] <= 1.0:
            raise ImpossibleValue(f"part {self.name!r}: share is {self.share}")
        if any(not 0.0 < load < math.inf for load in self.own_tests):
            raise ImpossibleValue(f"part {self.name!r}: own tests are {self.own_tests}")

    @property
    def largest_share(self) -> float:
        """The largest share of the whole load that one of the pieces may have to bear."""
        return 1.0 / self.count if self.share is None else self.share[1]
