"""The plan as data: how many pieces, what the scale costs, in what order, under which labels.

Loads in N. ``None`` stands for 'there is none'; infinity and not-a-number never appear, so that
the whole is valid JSON. Every number rests on assumptions, which stand beside it in ``basis``.
"""

from dataclasses import dataclass
from enum import StrEnum

from breakwright.model.notice import Notice
from breakwright.model.units import ForceUnit

__all__ = [
    "SCHEMA",
    "Basis",
    "GroupPlan",
    "Needed",
    "OrderRow",
    "PilotAdvice",
    "PilotGain",
    "PlanMethod",
    "PlanResult",
    "RatioOrigin",
    "Reach",
    "ScaleCost",
    "ScatterOrigin",
    "SizeRow",
]

SCHEMA = "breakwright/plan/1"


class ScatterOrigin(StrEnum):
    """Where the scatter between single pieces came from."""

    GIVEN = "given"  # expected.cv in study.toml
    PILOTS = "pilots"  # pieces broken beforehand
    PREDICTED = "predicted"  # the material's part of the prediction for the piece under test
    ASSUMED = "assumed"  # a usual value; common practice, no source


class RatioOrigin(StrEnum):
    """Where the ratio that should be seen came from."""

    GIVEN = "given"  # expected.ratio for this group
    WORTH = "worth"  # the smallest ratio worth knowing
    ASSUMED = "assumed"  # neither was stated


class Reach(StrEnum):
    """Whether what was wished for can be had with 3 to 40 pieces a group."""

    WITHIN = "within"
    BEYOND = "beyond"  # would take more than 40, whatever the scale
    NOT_WITH_SCALE = "not-with-this-scale"  # within 40 without the scale's limit, not with it


@dataclass(frozen=True, slots=True)
class Basis:
    """What the plan supposes. ``cv`` of single pieces; ``sigma`` is of log load.

    ``cv_upper`` is the upper 80 % limit of the scatter where pilots gave it (None: not known
    how sure). ``mechanism`` names the prediction that gave the scatter. ``median`` is of the
    reference group (N; None: not known; then no piece is supposed to be out of range), and
    ``median_from`` says where it came from. ``wrong_way`` is the share of pieces supposed to
    break another way (of the group that does so most), ``wrong_way_from`` 'given' or 'rig'.
    ``error`` is the two-sided error that a verdict on one group may have (shared where several
    are compared with one reference).
    """

    origin: ScatterOrigin
    cv: float
    sigma: float
    pilots: int
    cv_upper: float | None
    mechanism: str | None
    median: float | None
    median_from: str | None
    wrong_way: float
    wrong_way_from: str
    level: float
    error: float
    family: str


@dataclass(frozen=True, slots=True)
class SizeRow:
    """What ``pieces`` a group would give, one group against the reference.

    ``chance`` of the verdict 'stronger' ('weaker' where the expected ratio is below 1);
    ``width`` the middle value of upper over lower limit (None: half or more of the experiments
    lack a limit); ``open_ended`` the chance that a limit is missing; ``unanswered`` the chance
    that a group is wholly out of range, so that no ratio can be estimated; ``capped`` the number
    of pieces expected out of range, both groups together. ``chance_without_limit`` and
    ``width_without_limit`` are what a scale that never runs out would give (None: the scale at
    hand limits nothing, or no width was found). ``simulated`` is False where the row is read off
    the smooth curve between simulated sizes.
    """

    pieces: int
    chance: float
    width: float | None
    open_ended: float
    unanswered: float
    capped: float
    chance_without_limit: float | None
    width_without_limit: float | None
    simulated: bool


@dataclass(frozen=True, slots=True)
class Needed:
    """Pieces a group for one wish. ``pieces`` is None unless ``reach`` is WITHIN.

    ``without_limit`` is the number with a scale that never runs out (None: more than 40);
    ``best`` is the chance (or the width) at 40 pieces with the scale at hand.
    """

    reach: Reach
    pieces: int | None
    without_limit: int | None
    best: float | None


@dataclass(frozen=True, slots=True)
class ScaleCost:
    """The same number of pieces with the scale at hand and with one that never runs out."""

    pieces: int
    chance: float
    chance_without_limit: float
    width: float | None
    width_without_limit: float | None


@dataclass(frozen=True, slots=True)
class GroupPlan:
    """One group against the reference.

    ``capacity`` and ``reference_capacity`` are the largest loads that can be read on a piece
    (N; None: no limit known); ``capped`` and ``reference_capped`` the shares of pieces beyond.
    Both groups are read with the same scales.
    ``for_chance_upper`` is the number if the scatter were as large as its upper 80 % limit.
    ``own`` is the person's own number on the table. ``curve`` is the table, n = 3 to 40.
    """

    group: str
    ratio: float
    ratio_from: RatioOrigin
    capacity: float | None
    reference_capacity: float | None
    capped: float
    reference_capped: float
    for_chance: Needed
    for_chance_upper: Needed | None
    for_width: Needed | None
    own: SizeRow | None
    cost: ScaleCost | None
    curve: tuple[SizeRow, ...]


@dataclass(frozen=True, slots=True)
class PilotGain:
    """What so many pilots in all would tell: the true scatter then lies between ``low`` and
    ``high`` times the scatter found (80 %)."""

    pilots: int
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class PilotAdvice:
    """A few pieces first, then the plan again. ``have`` were broken; ``more`` should be (0:
    enough), for ``advised`` in all (None: no pilots are needed).

    ``because`` says by a code why: 'scatter-assumed', 'few-pilots', 'scatter-predicted' (tables
    know nothing of the maker's hand), 'load-uncertain' (the load itself is known to an order of
    magnitude only, and with it the pieces out of range).
    """

    have: int
    advised: int | None
    more: int
    because: str | None
    now: PilotGain | None
    gains: tuple[PilotGain, ...]


@dataclass(frozen=True, slots=True)
class OrderRow:
    """One piece in the order of breaking. ``order`` counts from 1; ``day`` from 1.

    ``pair`` names the set of pieces cut side by side, one of each group (None: not asked).
    """

    order: int
    label: str
    group: str
    block: str | None
    day: int
    operator: str | None
    pair: str | None


@dataclass(frozen=True, slots=True)
class PlanMethod:
    """Enough to make the plan again."""

    seed: int
    experiments: int
    resamples: int
    sizes: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class PlanResult:
    """The plan. ``recommended`` serves the hardest group (None: no number up to 40 does);
    ``used`` is the number that the order was made for, the person's own where they named one.
    ``for_chance`` is the chance that was wished for, ``for_width`` the width.
    """

    schema: str
    title: str
    unit: ForceUnit
    reference: str
    basis: Basis
    for_chance: float
    for_width: float | None
    groups: tuple[GroupPlan, ...]
    recommended: int | None
    own: int | None
    used: int
    pilots: PilotAdvice
    order: tuple[OrderRow, ...]
    notices: tuple[Notice, ...]
    method: PlanMethod
