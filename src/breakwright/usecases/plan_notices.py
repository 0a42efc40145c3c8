"""What must be said of a plan, as data. Each code has a paragraph in ``docs/messages.md``."""

from collections.abc import Iterator, Sequence

from breakwright.model.notice import Notice, Weight
from breakwright.model.study import Study
from breakwright.model.trial import Sharing
from breakwright.usecases.plan_result import (
    Basis,
    GroupPlan,
    Needed,
    PilotAdvice,
    RatioOrigin,
    Reach,
    ScatterOrigin,
)

__all__ = ["layout_notices", "plan_notices"]

# A fall of the chance, or a number of pieces more, from which the scale's cost is spoken of.
_CHANCE_COST, _PIECES_COST = 0.03, 2
_Facts = dict[str, str | float | int | None]
_COARSE = 0.2  # of the scatter: below, the analysis takes readings as exact


def plan_notices(
    study: Study,
    basis: Basis,
    plans: Sequence[GroupPlan],
    *,
    pilots: PilotAdvice,
    capacity: float | None,
) -> tuple[Notice, ...]:
    """Everything about numbers of pieces; the most important first."""
    return (
        *_of_groups(study, plans),
        *_of_pilots(pilots),
        *_of_basis(study, basis, plans, capacity=capacity),
    )


def _of_groups(study: Study, plans: Sequence[GroupPlan]) -> Iterator[Notice]:
    wish = study.wish
    if not plans:
        yield Notice("plan-one-group", Weight.WARNING, groups=study.groups)
    for plan in plans:
        yield from _unreachable(plan, plan.for_chance, what="chance", wish=wish.chance)
        if plan.for_width is not None and wish.width is not None:
            yield from _unreachable(plan, plan.for_width, what="width", wish=wish.width)
        yield from _too_few(study, plan)
        yield from _scale_costs(plan)


def _unreachable(plan: GroupPlan, needed: Needed, *, what: str, wish: float) -> Iterator[Notice]:
    facts: _Facts = {"what": what, "wish": wish, "best": needed.best, "ratio": plan.ratio}
    if needed.reach is Reach.NOT_WITH_SCALE:
        yield Notice(
            "plan-cannot-with-this-scale",
            Weight.WARNING,
            groups=(plan.group,),
            facts={
                **facts,
                "without_limit": needed.without_limit,
                "capacity": plan.capacity,
                "capped": plan.capped,
            },
        )
    elif needed.reach is Reach.BEYOND:
        yield Notice("plan-beyond-table", Weight.WARNING, groups=(plan.group,), facts=facts)


def _too_few(study: Study, plan: GroupPlan) -> Iterator[Notice]:
    own = study.wish.pieces
    if own is None:
        return
    for needed, what in ((plan.for_chance, "chance"), (plan.for_width, "width")):
        if needed is None or needed.pieces is None or own >= needed.pieces:
            continue
        row = plan.own
        facts: _Facts = {
            "what": what,
            "own": own,
            "needed": needed.pieces,
            "wish": study.wish.chance if what == "chance" else study.wish.width,
            "chance": None if row is None else row.chance,
            "width": None if row is None else row.width,
        }
        yield Notice("plan-too-few-pieces", Weight.WARNING, groups=(plan.group,), facts=facts)


def _scale_costs(plan: GroupPlan) -> Iterator[Notice]:
    cost = plan.cost
    if cost is None or plan.for_chance.reach is Reach.NOT_WITH_SCALE:
        return
    needed, free = plan.for_chance.pieces, plan.for_chance.without_limit
    more = needed - free if needed is not None and free is not None else 0
    if cost.chance_without_limit - cost.chance < _CHANCE_COST and more < _PIECES_COST:
        return
    facts: _Facts = {
        "pieces": cost.pieces,
        "chance": cost.chance,
        "chance_without_limit": cost.chance_without_limit,
        "width": cost.width,
        "width_without_limit": cost.width_without_limit,
        "more": more,
        "capped": plan.capped,
        "reference_capped": plan.reference_capped,
    }
    yield Notice("plan-scale-costs", Weight.REMARK, groups=(plan.group,), facts=facts)


def _of_pilots(pilots: PilotAdvice) -> Iterator[Notice]:
    if pilots.more:
        from_tables = pilots.because == "scatter-predicted"
        yield Notice(
            "plan-pilots-first",
            Weight.REMARK if from_tables else Weight.WARNING,
            facts={"more": pilots.more, "have": pilots.have, "because": pilots.because},
        )


def _of_basis(
    study: Study, basis: Basis, plans: Sequence[GroupPlan], *, capacity: float | None
) -> Iterator[Notice]:
    facts: _Facts
    assumed = tuple(p.group for p in plans if p.ratio_from is RatioOrigin.ASSUMED)
    if assumed:
        ratio = next(p.ratio for p in plans if p.ratio_from is RatioOrigin.ASSUMED)
        yield Notice("plan-ratio-assumed", Weight.WARNING, groups=assumed, facts={"used": ratio})
    same = tuple(p.group for p in plans if p.ratio == 1.0)
    if same:
        yield Notice("plan-ratio-of-one", Weight.WARNING, groups=same)
    if capacity is not None and basis.median is None:
        yield Notice("plan-no-median", Weight.WARNING, facts={"capacity": capacity})
    if basis.origin is ScatterOrigin.PILOTS and plans:
        hardest = max(plans, key=lambda p: p.for_chance.pieces or 10**6)
        upper = hardest.for_chance_upper
        facts = {
            "pilots": basis.pilots,
            "cv": basis.cv,
            "cv_upper": basis.cv_upper,
            "pieces": hardest.for_chance.pieces,
            "pieces_upper": None if upper is None else upper.pieces,
        }
        yield Notice("plan-scatter-from-pilots", Weight.REMARK, facts=facts)
    if len(plans) > 1:
        facts = {"comparisons": len(plans), "error": basis.error}
        yield Notice("plan-error-shared", Weight.REMARK, facts=facts)
    if len(study.instruments) > 1 and study.sharing is not Sharing.SAME_MOMENT:
        yield Notice("plan-separate-peaks", Weight.REMARK)
    step = sum(i.resolution * i.factor[1] for i in study.instruments)
    if basis.median is not None and step > _COARSE * basis.sigma * basis.median:
        facts = {"step": step, "scatter": basis.sigma * basis.median}
        yield Notice("plan-coarse-display", Weight.REMARK, facts=facts)


def layout_notices(study: Study, *, used: int, chosen: bool) -> Iterator[Notice]:
    """What must be said of the order; ``chosen`` False: no number of pieces was found for it."""
    wish = study.wish
    if not chosen:
        yield Notice("plan-order-for", Weight.REMARK, facts={"pieces": used})
    for what, parts in (
        ("blocks", len(wish.blocks)),
        ("days", wish.days),
        ("operators", len(wish.operators)),
    ):
        facts: _Facts = {"what": what, "parts": parts, "pieces": used}
        if parts > used:
            yield Notice("plan-unused", Weight.WARNING, facts=facts)
        elif parts > 1 and used % parts:
            yield Notice("plan-uneven", Weight.REMARK, facts=facts)
