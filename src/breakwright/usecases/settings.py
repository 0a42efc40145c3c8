"""What a person may choose about an answer."""

from dataclasses import dataclass
from enum import StrEnum

from breakwright.model.errors import ImpossibleValue

__all__ = ["CeilingReading", "Settings"]


class CeilingReading(StrEnum):
    """How readings piled up at a common top value, unmarked, enter the main answer.

    The other way of taking them is always shown beside it.
    """

    AT_LEAST = "at-least"
    AS_READ = "as-read"


@dataclass(frozen=True, slots=True)
class Settings:
    """``resamples`` for the main comparison, ``side_resamples`` for each comparison beside it."""

    level: float = 0.95
    seed: int = 20240229
    resamples: int = 4000
    side_resamples: int = 1000
    ceiling: CeilingReading = CeilingReading.AT_LEAST
    version: str = ""

    def __post_init__(self) -> None:
        if not 0.5 <= self.level <= 0.999:
            raise ImpossibleValue(f"a level lies between 0.5 and 0.999; got {self.level}")
        if min(self.resamples, self.side_resamples) < 200:
            raise ImpossibleValue("an interval needs 200 resamples or more")
        if self.seed < 0:
            raise ImpossibleValue(f"a seed is 0 or more; got {self.seed}")
