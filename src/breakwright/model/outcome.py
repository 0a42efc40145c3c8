"""What a trial really tells about the strength asked for: the outcome, an interval with a cause.

The steps that lead from a trial to its outcome live in ``model.algebra``.
"""

import math
from dataclasses import dataclass
from enum import StrEnum

from breakwright.model.interval import Interval

__all__ = ["Cause", "Outcome"]


class Cause(StrEnum):
    """Why the outcome is what it is: one word for the row of a table, a dot on a chart."""

    MEASURED = "measured"
    BETWEEN = "between"
    AT_MOST = "at-most"
    AT_LEAST = "at-least"
    OVER_RANGE = "over-range"
    SCREEN_LOST = "screen-lost"
    STOPPED = "stopped"
    RIG_FAILED = "rig-failed"
    WRONG_WAY = "wrong-way"


@dataclass(frozen=True, slots=True)
class Outcome:
    """The strength of one specimen lies in ``interval`` (N).

    ``limit`` is the largest load that could have been read on this specimen had it been strong
    enough (N; inf where none is known), needed to simulate what else could have happened.
    ``steps`` names, in order, what was done to the reading, for the person who asks why.
    """

    interval: Interval
    cause: Cause
    limit: float = math.inf
    steps: tuple[str, ...] = ()
