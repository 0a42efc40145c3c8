"""Plan a study: how many pieces, what the scale costs, in what order, under which labels."""

from collections.abc import Sequence
from dataclasses import dataclass

from breakwright.model.errors import ImpossibleValue, InputRefused, Problem
from breakwright.model.study import Study
from breakwright.plan.labels import make_labels
from breakwright.plan.order import Placed, Spread, make_order
from breakwright.plan.power import Effort
from breakwright.plan.runs import ImpossibleRun
from breakwright.plan.table import SIZES
from breakwright.usecases.plan_basis import basis_of, capacity_of, pilot_advice, wrong_ways
from breakwright.usecases.plan_notices import layout_notices, plan_notices
from breakwright.usecases.plan_result import SCHEMA, GroupPlan, OrderRow, PlanMethod, PlanResult
from breakwright.usecases.plan_sizes import Size, size_groups, spent_on
from breakwright.usecases.rig_result import RigResult
from breakwright.usecases.scales_result import ScalesResult

__all__ = ["PlanSettings", "draw_order", "plan_study"]

# An order is made even where no number of pieces answers the question: for ten, the least from
# which a characteristic value is usually taken (common practice, no source).
_PIECES_WITHOUT_ANSWER = 10


@dataclass(frozen=True, slots=True)
class PlanSettings:
    """``level`` of the answer to come; ``experiments`` simulated for each number of pieces, and
    in how many of them both ends of the interval are looked for (``widths``)."""

    level: float = 0.95
    experiments: int = 2000
    widths: int = 120

    def __post_init__(self) -> None:
        if not 0.5 <= self.level <= 0.99:
            raise ImpossibleValue(f"a level for planning lies between 0.5 and 0.99: {self.level}")
        if not 400 <= self.experiments <= 100_000:
            raise ImpossibleValue(f"between 400 and 100,000 experiments; got {self.experiments}")
        if not 20 <= self.widths <= self.experiments:
            raise ImpossibleValue(f"widths in 20 to all of the experiments; got {self.widths}")


_USUAL = PlanSettings()


def plan_study(
    study: Study,
    *,
    rig: RigResult | None,
    scales: ScalesResult | None,
    settings: PlanSettings = _USUAL,
) -> PlanResult:
    """Plan ``study``; the same study, wish seed and settings give the same bytes.

    ``rig`` tells the load and scatter predicted and how often pieces break another way,
    ``scales`` the load up to which can be read; without them what is expected must say it.
    Raises InputRefused where no order keeps the runs as short as asked for.
    """
    wish = study.wish
    basis, said = basis_of(study, rig=rig, level=settings.level)
    capacity, unclear = capacity_of(study, scales)
    size = Size(
        basis=basis,
        capacity=capacity,
        chance=wish.chance,
        width=wish.width,
        own=wish.pieces,
        effort=Effort(experiments=settings.experiments, widths=settings.widths),
        seed=wish.seed,
        wrong_way=wrong_ways(study, rig)[0],
    )
    plans = size_groups(study, size)
    recommended = _recommended(plans)
    used = wish.pieces or recommended or _PIECES_WITHOUT_ANSWER
    limited = any(plan.capacity is not None for plan in plans)
    pilots = pilot_advice(basis, rig=rig, limited=limited)
    notices = (
        *plan_notices(study, basis, plans, pilots=pilots, capacity=capacity),
        *said,
        *unclear,
        *layout_notices(study, used=used, chosen=(wish.pieces or recommended) is not None),
    )
    return PlanResult(
        schema=SCHEMA,
        title=study.title,
        unit=study.unit,
        reference=study.reference,
        basis=basis,
        for_chance=wish.chance,
        for_width=wish.width,
        groups=plans,
        recommended=recommended,
        own=wish.pieces,
        used=used,
        pilots=pilots,
        order=draw_order(study, pieces=used),
        notices=notices,
        method=PlanMethod(
            seed=wish.seed,
            experiments=spent_on(study, size).experiments,
            resamples=size.effort.resamples * size.effort.neighbours,
            sizes=SIZES,
        ),
    )


def _recommended(plans: Sequence[GroupPlan]) -> int | None:
    """The number that serves every group and every wish; None where one cannot be served."""
    numbers = [
        needed.pieces
        for plan in plans
        for needed in (plan.for_chance, plan.for_width)
        if needed is not None
    ]
    known = [n for n in numbers if n is not None]
    return max(known) if known and len(known) == len(numbers) else None


def draw_order(study: Study, *, pieces: int) -> tuple[OrderRow, ...]:
    """Return ``pieces`` of each group in an order drawn by lot with the study's own seed, labels
    and all. Raises InputRefused where no order keeps the runs as short as asked for."""
    wish = study.wish
    spread = Spread(
        blocks=wish.blocks,
        days=wish.days,
        operators=wish.operators,
        pairs=wish.pairs,
        longest_run=wish.longest_run,
    )
    try:
        placed = make_order(study.groups, pieces=pieces, spread=spread, seed=wish.seed)
    except ImpossibleRun as trouble:
        raise InputRefused([_impossible(trouble)]) from trouble
    labels = make_labels(len(placed), seed=wish.seed)
    return tuple(
        _row(k, label, piece, pairs=wish.pairs)
        for k, (label, piece) in enumerate(zip(labels, placed, strict=True), start=1)
    )


def _row(order: int, label: str, piece: Placed, *, pairs: bool) -> OrderRow:
    return OrderRow(
        order=order,
        label=label,
        group=piece.group,
        block=piece.block,
        day=piece.day,
        operator=piece.operator,
        pair=str(piece.set_ + 1) if pairs else None,
    )


def _impossible(trouble: ImpossibleRun) -> Problem:
    return Problem(
        code="longest-run-impossible",
        message=f"no order keeps {trouble.group!r} from coming more than {trouble.longest} times "
        f"in a row: there are {trouble.pieces} of it and {trouble.others} others",
        file="study.toml",
        column_name="wish.longest_run",
        read=str(trouble.longest),
        allowed=f"{-(-trouble.pieces // (trouble.others + 1))} or more",
        do="Allow longer runs, or leave 'longest_run' out.",
    )
