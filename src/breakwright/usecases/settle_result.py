"""How many more pieces would settle it, as data."""

from dataclasses import dataclass

__all__ = ["CHANCE", "MOST", "ChanceAfter", "Needed", "Settle"]

# 'Four times in five' is what the verdict's words promise as well (common practice, no source).
CHANCE = 0.8
# Nobody breaks more than this many further pieces a group to settle one question; no source.
MOST = 40


@dataclass(frozen=True, slots=True)
class Needed:
    """Further pieces a group were the true ratio ``ratio``; None: more than ``MOST``."""

    ratio: float
    pieces: int | None


@dataclass(frozen=True, slots=True)
class ChanceAfter:
    """Chance that ``more`` pieces a group settle it, over all truths the readings allow."""

    more: int
    chance: float


@dataclass(frozen=True, slots=True)
class Settle:
    """One group against the reference.

    ``settled``: nothing more is needed. ``missing`` says by a code why no number can be given:
    'no-estimate' (a group without an estimate: a scale that reads further, or pieces read to the
    end), 'few-readings' (fewer than two read to the break in a group), 'unsure' (the readings
    allow so much that nothing can be drawn from it). ``estimate`` is the number were the estimate
    the truth, ``few`` and ``many`` its range over the middle half of what may be true.
    ``without_limit`` is the number with a scale that never runs out, given where the scale at
    hand costs pieces. ``capped`` and ``wrong_way`` are the shares of further pieces expected out
    of range and broken another way (the larger of the two groups').
    """

    group: str
    reference: str
    now: tuple[int, int]
    settled: bool
    missing: str | None
    estimate: Needed | None
    few: Needed | None
    many: Needed | None
    without_limit: Needed | None
    capped: float
    wrong_way: float
    chances: tuple[ChanceAfter, ...]
    chance: float = CHANCE
    most: int = MOST
