"""The tables of sizes for every group, and what follows from them for one wish and one number."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from breakwright.model.study import Study
from breakwright.plan.power import Effort, make_trials, power_of
from breakwright.plan.scatter import sigma_of
from breakwright.plan.table import Row, Table, first_within, make_table, row_at
from breakwright.plan.truth import Truth, share_beyond
from breakwright.plan.width import width_of
from breakwright.usecases.plan_result import (
    Basis,
    GroupPlan,
    Needed,
    RatioOrigin,
    Reach,
    ScaleCost,
    SizeRow,
)

__all__ = ["ASSUMED_RATIO", "Size", "size_groups", "spent_on"]

# A quarter more is the smallest difference that most shop tests could be about; no source.
ASSUMED_RATIO = 1.25
# Fewer pieces than this beyond the capacity change no number in the table.
_RARE = 1e-4
# Pieces a group beyond which one more row of the table costs too much to simulate.
_LARGEST_OWN = 200
_SIDE_SHARE = 0.5
_LEAST, _LEAST_WIDTHS = 400, 40
_WRONG_WAY_SHARE = 0.5  # readings with a limit of their own each take longer to fit


@dataclass(frozen=True, slots=True)
class Size:
    """What is asked of the tables: the wish, the basis, the capacity (N), effort and seed.

    ``wrong_way`` is the share of each group's pieces that breaks another way.
    """

    basis: Basis
    capacity: float | None
    chance: float
    width: float | None
    own: int | None
    effort: Effort
    seed: int
    wrong_way: Mapping[str, float]


@dataclass(frozen=True)
class _Tables:
    """``free`` is with a scale that never runs out, ``upper`` at the scatter's upper limit."""

    truth: Truth
    main: Table
    free: Table | None
    upper: Table | None
    own: Row | None
    own_free: Row | None


def size_groups(study: Study, size: Size) -> tuple[GroupPlan, ...]:
    """A plan for every group but the reference; groups that are alike are simulated once."""
    ratios = {g: _ratio(study, g) for g in study.groups if g != study.reference}
    truths = {g: _truth(study.reference, g, ratio=r, size=size) for g, (r, _) in ratios.items()}
    effort = spent_on(study, size)
    tables: dict[Truth, _Tables] = {}
    for truth in truths.values():
        if truth not in tables:
            tables[truth] = _tables(truth, size, effort)
    return tuple(
        _group_plan(group, ratio, origin, tables[truths[group]], size)
        for group, (ratio, origin) in ratios.items()
    )


def spent_on(study: Study, size: Size) -> Effort:
    """The effort for each table: the more tables, the less for each, so that all take seconds."""
    several = len({_ratio(study, g)[0] for g in study.groups if g != study.reference})
    share = min(1.0, 2.0 / max(1, several))
    if size.basis.wrong_way > 0.0:
        share *= _WRONG_WAY_SHARE
    return replace(
        size.effort,
        experiments=max(_LEAST, round(share * size.effort.experiments)),
        widths=max(_LEAST_WIDTHS, round(share * size.effort.widths)),
    )


def _ratio(study: Study, group: str) -> tuple[float, RatioOrigin]:
    stated = study.expected.ratio.get(group)
    if stated is not None:
        return stated, RatioOrigin.GIVEN
    if study.worth is not None:
        return study.worth, RatioOrigin.WORTH
    return ASSUMED_RATIO, RatioOrigin.ASSUMED


def _truth(reference: str, group: str, *, ratio: float, size: Size) -> Truth:
    """The weaker of the two has its median at 0; which of them is the reference plays no part."""
    basis = size.basis
    distance = abs(math.log(ratio))
    cap = math.inf
    if size.capacity is not None and basis.median is not None:
        cap = math.log(size.capacity / (basis.median * min(1.0, ratio)))
        if share_beyond(cap, median=distance, sigma=basis.sigma) < _RARE:
            cap = math.inf
    weak, strong = (reference, group) if ratio >= 1.0 else (group, reference)
    wrong = size.wrong_way
    return Truth(basis.sigma, distance, cap, cap, wrong[weak], wrong[strong])


def _tables(truth: Truth, size: Size, effort: Effort) -> _Tables:
    basis = size.basis
    side = replace(
        effort,
        experiments=max(_LEAST, round(_SIDE_SHARE * effort.experiments)),
        widths=max(_LEAST_WIDTHS, round(_SIDE_SHARE * effort.widths)),
    )

    def table(of: Truth, spent: Effort) -> Table:
        return make_table(of, error=basis.error, level=basis.level, effort=spent, seed=size.seed)

    limited = math.isfinite(truth.cap_strong)
    main = table(truth, effort)
    upper = None
    if basis.cv_upper is not None:
        wider = replace(truth, sigma=sigma_of(basis.cv_upper))
        upper = table(wider, replace(side, widths=0))
    own, own_free = None, None
    if size.own is not None:
        own = _row_of(size.own, main, truth, size=size, effort=effort)
    free = table(truth.unlimited, side) if limited else None
    if size.own is not None and free is not None:
        own_free = _row_of(size.own, free, truth.unlimited, size=size, effort=side)
    return _Tables(truth, main, free, upper, own, own_free)


def _row_of(pieces: int, table: Table, truth: Truth, *, size: Size, effort: Effort) -> Row | None:
    """The row of a number that may lie outside the table, then simulated on its own."""
    row = row_at(table, pieces)
    if row is not None or pieces > _LARGEST_OWN:
        return row
    rng = np.random.default_rng(np.random.SeedSequence([size.seed, 37, pieces]))
    trials = make_trials(truth, pieces=pieces, experiments=effort.experiments, rng=rng)
    power = power_of(trials, error=size.basis.error, effort=effort, rng=rng)
    width = width_of(trials, level=size.basis.level, effort=effort, rng=rng)
    return Row(
        pieces=pieces,
        chance=power.chance,
        log_width=width.log_width,
        open_ended=width.open_ended,
        unanswered=power.unanswered,
        capped=power.capped,
        simulated=True,
    )


def _group_plan(
    group: str, ratio: float, origin: RatioOrigin, tables: _Tables, size: Size
) -> GroupPlan:
    basis, truth = size.basis, tables.truth
    shares = [
        share_beyond(truth.cap_strong, median=median, sigma=basis.sigma)
        for median in (0.0, truth.distance)
    ]
    reference_capped, capped = shares if ratio >= 1.0 else shares[::-1]
    capacity = size.capacity if math.isfinite(truth.cap_strong) else None
    for_chance = _needed(tables, chance=size.chance, width=None)
    for_width = None if size.width is None else _needed(tables, chance=None, width=size.width)
    chosen = size.own if size.own is not None else _larger(for_chance, for_width)
    return GroupPlan(
        group=group,
        ratio=ratio,
        ratio_from=origin,
        capacity=capacity,
        reference_capacity=capacity,
        capped=capped,
        reference_capped=reference_capped,
        for_chance=for_chance,
        for_chance_upper=_upper(tables, size.chance, for_chance),
        for_width=for_width,
        own=None if tables.own is None else _size_row(tables.own, tables.own_free),
        cost=_cost(tables, chosen),
        curve=tuple(_size_row(row, _same(tables.free, row)) for row in tables.main.rows),
    )


def _larger(one: Needed, other: Needed | None) -> int | None:
    numbers = [one.pieces, *([] if other is None else [other.pieces])]
    known = [n for n in numbers if n is not None]
    return max(known) if len(known) == len(numbers) else None


def _needed(tables: _Tables, *, chance: float | None, width: float | None) -> Needed:
    pieces = first_within(tables.main, chance=chance, width=width)
    free = tables.free or tables.main
    without = first_within(free, chance=chance, width=width)
    last = tables.main.rows[-1]
    best = last.chance if chance is not None else _width(last.log_width)
    if pieces is not None:
        # Simulated apart, the two may differ by chance where the scale costs nothing.
        return Needed(Reach.WITHIN, pieces, min(without or pieces, pieces), best)
    reach = Reach.BEYOND if without is None else Reach.NOT_WITH_SCALE
    return Needed(reach, None, without, best)


def _upper(tables: _Tables, chance: float, now: Needed) -> Needed | None:
    if tables.upper is None:
        return None
    pieces = first_within(tables.upper, chance=chance)
    best = tables.upper.rows[-1].chance
    if pieces is not None:
        return Needed(Reach.WITHIN, max(pieces, now.pieces or pieces), None, best)
    reach = now.reach if now.reach is not Reach.WITHIN else Reach.BEYOND
    return Needed(reach, None, None, best)


def _same(table: Table | None, row: Row) -> Row | None:
    return None if table is None else row_at(table, row.pieces)


def _width(log_width: float) -> float | None:
    # A width past the largest float is no width that anyone could use.
    return math.exp(log_width) if log_width < 50.0 else None


def _size_row(row: Row, free: Row | None) -> SizeRow:
    return SizeRow(
        pieces=row.pieces,
        chance=row.chance,
        width=_width(row.log_width),
        open_ended=row.open_ended,
        unanswered=row.unanswered,
        capped=row.capped,
        chance_without_limit=None if free is None else free.chance,
        width_without_limit=None if free is None else _width(free.log_width),
        simulated=row.simulated,
    )


def _cost(tables: _Tables, pieces: int | None) -> ScaleCost | None:
    """What the scale costs at ``pieces``, at 40 where no number does; None: it limits nothing."""
    if tables.free is None:
        return None
    at = pieces if pieces is not None else tables.main.rows[-1].pieces
    row, free = row_at(tables.main, at), row_at(tables.free, at)
    if row is None or free is None:
        row, free = tables.own, tables.own_free
    if row is None or free is None:
        return None
    return ScaleCost(
        pieces=row.pieces,
        chance=row.chance,
        chance_without_limit=max(free.chance, row.chance),
        width=_width(row.log_width),
        width_without_limit=_width(free.log_width),
    )
