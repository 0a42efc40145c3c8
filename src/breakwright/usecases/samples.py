"""From pieces to the arrays that the statistics take: which limits are fixed, which are chance."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from breakwright.model.outcome import Cause
from breakwright.stats.sample import Sample, make_sample
from breakwright.usecases.result import PieceResult

__all__ = ["GroupData", "group_data", "groups_of", "usable"]

# An 'at least' reading with one of these causes ended at a load that another piece, under the
# same scale, need not have ended at.
_BY_CHANCE = frozenset({Cause.WRONG_WAY, Cause.STOPPED, Cause.RIG_FAILED, Cause.SCREEN_LOST})
_SAME = 1e-3  # caps this near each other are one cap


@dataclass(frozen=True)
class GroupData:
    """A group's usable pieces and their sample, in the same order."""

    name: str
    pieces: tuple[PieceResult, ...]
    sample: Sample


def usable(piece: PieceResult) -> bool:
    """A piece that takes part: read, not left out, and known to be more than 'anything'."""
    told = piece.lower is not None and (piece.lower > 0.0 or piece.upper is not None)
    return piece.void is None and told


def common_cap(pieces: Sequence[PieceResult]) -> float:
    """The capacity that every unmarked piece shared, told by the readings themselves (N).

    In a sheet without instruments, 'at least' readings that all stop at one load tell the
    capacity; inf where there is none, or where they stop at different loads.
    """
    fixed = [
        p.lower
        for p in pieces
        if usable(p) and p.upper is None and p.lower is not None and p.cause not in _BY_CHANCE
    ]
    if not fixed or max(fixed) - min(fixed) > _SAME * max(fixed):
        return math.inf
    return max(fixed)


def group_data(name: str, pieces: Sequence[PieceResult], *, cap: float) -> GroupData:
    """One group's data; ``cap`` is the common capacity for pieces whose own is not known."""
    own = tuple(p for p in pieces if p.group == name and usable(p))
    lower = np.array([p.lower for p in own], dtype=np.float64)
    upper = np.array([math.inf if p.upper is None else p.upper for p in own], dtype=np.float64)
    caps = np.array([p.limit if p.limit is not None else cap for p in own], dtype=np.float64)
    by_chance = np.array(
        [p.upper is None and (p.cause in _BY_CHANCE or _stray(p, cap)) for p in own], dtype=np.bool_
    )
    return GroupData(name, own, make_sample(lower, upper, cap=caps, chance_cap=by_chance))


def _stray(piece: PieceResult, cap: float) -> bool:
    """An 'at least' of no stated cause, where such readings have no load in common."""
    return piece.limit is None and math.isinf(cap)


def groups_of(names: Sequence[str], pieces: Sequence[PieceResult]) -> Mapping[str, GroupData]:
    cap = common_cap(pieces)
    return {name: group_data(name, pieces, cap=cap) for name in names}
