"""The order of cutting and breaking: seeded, random, balanced over boards, days and operators."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from breakwright.plan.runs import Run, shuffled

__all__ = ["Placed", "Spread", "make_order"]

_RESTARTS = 12
_LARGE = 400  # sets; beyond that one attempt balances well enough


@dataclass(frozen=True, slots=True)
class Spread:
    """What the pieces are spread over. Empty ``blocks`` or ``operators``: not asked for."""

    blocks: tuple[str, ...] = ()
    days: int = 1
    operators: tuple[str, ...] = ()
    pairs: bool = False
    longest_run: int | None = None


@dataclass(frozen=True, slots=True)
class Placed:
    """One piece in the order of breaking; ``set_`` counts from 0: one piece of each group."""

    group: str
    set_: int
    block: str | None
    day: int
    operator: str | None


@dataclass(frozen=True, slots=True)
class _Cell:
    block: int
    day: int
    operator: int


def make_order(
    groups: Sequence[str], *, pieces: int, spread: Spread, seed: int
) -> tuple[Placed, ...]:
    """``pieces`` of each group in a random order; the same seed gives the same order.

    Pieces come in sets of one of each group. A set is cut from one block and broken on one day by
    one operator, so each block, day and operator meets every group equally often. The sets are
    dealt out so that blocks, days and operators get equally many, up to one. Within a day the
    order is random; with ``pairs`` the pieces of a set follow each other. Raises ImpossibleRun.
    """
    rng = np.random.default_rng(np.random.SeedSequence([seed, 41]))
    cells = _deal(pieces, spread, rng)
    order: list[Placed] = []
    run = Run()
    for day in range(spread.days):
        sets = [s for s in range(pieces) if cells[s].day == day]
        if spread.pairs:
            rows = _set_by_set(groups, sets, longest=spread.longest_run, before=run, rng=rng)
        else:
            rows = _mixed(groups, sets, longest=spread.longest_run, before=run, rng=rng)
        order += [_placed(group, s, cells[s], spread) for group, s in rows]
        run = _end_of(order)
    return tuple(order)


def _placed(group: str, set_: int, cell: _Cell, spread: Spread) -> Placed:
    return Placed(
        group=group,
        set_=set_,
        block=spread.blocks[cell.block] if spread.blocks else None,
        day=cell.day + 1,
        operator=spread.operators[cell.operator] if spread.operators else None,
    )


def _end_of(order: Sequence[Placed]) -> Run:
    if not order:
        return Run()
    last, length = order[-1].group, 0
    for piece in reversed(order):
        if piece.group != last:
            break
        length += 1
    return Run(last, length)


def _mixed(
    groups: Sequence[str],
    sets: Sequence[int],
    *,
    longest: int | None,
    before: Run,
    rng: np.random.Generator,
) -> list[tuple[str, int]]:
    """All pieces of a day in one random order; which set a group's piece is of is random too."""
    sequence = shuffled(
        {group: len(sets) for group in groups}, longest=longest, before=before, rng=rng
    )
    turn = {group: iter(rng.permutation(np.asarray(sets, dtype=np.int64))) for group in groups}
    return [(group, int(next(turn[group]))) for group in sequence]


def _set_by_set(
    groups: Sequence[str],
    sets: Sequence[int],
    *,
    longest: int | None,
    before: Run,
    rng: np.random.Generator,
) -> list[tuple[str, int]]:
    """The sets in random order, the groups in random order within each."""
    rows: list[tuple[str, int]] = []
    for k in rng.permutation(len(sets)):
        inside = shuffled(dict.fromkeys(groups, 1), longest=longest, before=before, rng=rng)
        rows += [(group, sets[k]) for group in inside]
        before = _after(before, inside)
    return rows


def _after(before: Run, inside: Sequence[str]) -> Run:
    run = before
    for group in inside:
        run = Run(group, run.length + 1 if group == run.group else 1)
    return run


def _deal(sets: int, spread: Spread, rng: np.random.Generator) -> list[_Cell]:
    """A block, day and operator for each set, as evenly as the numbers allow.

    Each set goes to a cell whose block, day and operator have all been used least so far: such a
    cell always exists, so that no two blocks (days, operators) ever differ by more than one.
    Among those cells the one whose pairs (block with day, ...) were met least is taken, at random
    where several are; the best of a few attempts is kept. With equal numbers that is a Latin
    square's balance.
    """
    shape = (max(1, len(spread.blocks)), spread.days, max(1, len(spread.operators)))
    best: list[_Cell] = []
    least = None
    for _ in range(_RESTARTS if sets <= _LARGE else 1):
        cells, uneven = _attempt(sets, shape, rng)
        if least is None or uneven < least:
            best, least = cells, uneven
        if least == 0:
            break
    return best


def _attempt(
    sets: int, shape: tuple[int, int, int], rng: np.random.Generator
) -> tuple[list[_Cell], int]:
    single = [np.zeros(size, dtype=np.int64) for size in shape]
    pairs = {(i, j): np.zeros((shape[i], shape[j]), dtype=np.int64) for i, j in _TWO}
    cells = []
    for _ in range(sets):
        least_used = [np.flatnonzero(count == count.min()) for count in single]
        options = list(product(*least_used))
        met = np.array([sum(pairs[i, j][o[i], o[j]] for i, j in _TWO) for o in options])
        candidates = np.flatnonzero(met == met.min())
        pick = options[int(candidates[rng.integers(candidates.size)])]
        for axis, index in enumerate(pick):
            single[axis][index] += 1
        for i, j in _TWO:
            pairs[i, j][pick[i], pick[j]] += 1
        cells.append(_Cell(*(int(index) for index in pick)))
    uneven = sum(max(0, int(table.max() - table.min()) - 1) for table in pairs.values())
    return cells, uneven


_TWO = ((0, 1), (0, 2), (1, 2))
