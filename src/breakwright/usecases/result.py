"""The answer as data: everything that a table, a report, a picture or ``--json`` is made from.

All loads are in N, whatever unit people are shown. ``None`` stands for 'there is none' (no upper
limit, no estimate); infinity and not-a-number never appear, so that the whole is valid JSON.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from breakwright.model.interval import IntervalKind
from breakwright.model.notice import Notice
from breakwright.model.outcome import Cause
from breakwright.model.units import ForceUnit
from breakwright.rig.findings import Origin
from breakwright.strength.trust import Trust

__all__ = [
    "AdjustedRatio",
    "Alternative",
    "Answer",
    "Bound",
    "Chance",
    "Comparison",
    "Curve",
    "FamilyFit",
    "Foretold",
    "GroupResult",
    "HeldCurve",
    "LogRank",
    "Method",
    "PieceResult",
    "RatioMethod",
    "RatioResult",
    "SessionAgreement",
    "SessionRatio",
    "Verdict",
    "VerdictKind",
]

SCHEMA = "breakwright/answer/1"


class RatioMethod(StrEnum):
    """How an interval for the ratio of medians was made."""

    CALIBRATED = "calibrated"  # signed root, calibrated by simulation at the tested ratio
    LIKELIHOOD = "likelihood-ratio"  # groups so large that calibration changes nothing
    QUICK = "quick"  # Wald with small-sample factors, for live screens
    SIGN = "sign"  # a group wholly capped: order statistics against the other's limit
    REGRESSION = "regression"  # covariate-adjusted, common scale, t quantiles
    NONE = "none"  # no interval can be given


class VerdictKind(StrEnum):
    """What may be said of a group against the reference, at the stated confidence."""

    STRONGER_MATTERS = "stronger-by-more-than-matters"
    STRONGER = "stronger"
    WEAKER = "weaker"
    WEAKER_MATTERS = "weaker-by-more-than-matters"
    NO_DIFFERENCE = "no-difference-that-matters"
    NOT_SETTLED = "not-settled"
    ONLY_LOWER_LIMIT = "only-a-lower-limit"
    ONLY_UPPER_LIMIT = "only-an-upper-limit"
    NO_ANSWER = "no-answer"


@dataclass(frozen=True, slots=True)
class PieceResult:
    """One row of the sheet as it was understood. ``lower`` and ``upper`` are the outcome (N).

    ``upper`` is None for 'at least'. A void piece keeps what was read, if anything, in
    ``lower``/``upper`` and says why it was left out in ``void``; ``cause`` is None where
    nothing was read at all.
    """

    specimen: str
    group: str
    written: tuple[str, ...]
    lower: float | None
    upper: float | None
    kind: IntervalKind | None
    cause: Cause | None
    limit: float | None
    failure: str | None
    void: str | None
    block: str | None
    order: int | None
    date: dt.date | None
    note: str | None
    covariates: Mapping[str, float]
    steps: tuple[str, ...]
    line: int | None


@dataclass(frozen=True, slots=True)
class Bound:
    """An estimate with its two-sided limits at ``level`` (each None if there is none)."""

    estimate: float | None
    lower: float | None
    upper: float | None
    level: float


@dataclass(frozen=True, slots=True)
class FamilyFit:
    """One family fitted to one group. ``mu`` and ``sigma`` belong to log(load / 1 N).

    ``median``, ``p5``, ``p95`` in N; ``cv`` is the fitted coefficient of variation.
    ``missing`` says by a code why there is no fit; then the numbers are None.
    """

    family: str
    mu: float | None
    sigma: float | None
    median: float | None
    p5: float | None
    p95: float | None
    cv: float | None
    loglik: float | None
    missing: str | None


@dataclass(frozen=True, slots=True)
class Curve:
    """Points of a fitted curve: share broken (0..1) against load (N)."""

    load: tuple[float, ...]
    broken: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class HeldCurve:
    """Kaplan-Meier: share still holding after each load (N), a step function from 1."""

    load: tuple[float, ...]
    holding: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class GroupResult:
    """One group. Counts add up: used = exact + between + at_most + at_least; of ``pieces``, the
    ones neither used nor void told nothing ('below 30' of a test that was stopped).

    ``at_least`` counts every right-censored piece, ``wrong_way`` those of them that broke
    another way than the one that counts. ``median`` and the two P5 lower bounds are for the
    default family; ``curve`` is its fitted curve, ``held`` the Kaplan-Meier curve.
    """

    name: str
    is_reference: bool
    pieces: int
    used: int
    void: int
    exact: int
    between: int
    at_most: int
    at_least: int
    wrong_way: int
    lowest: float | None
    highest: float | None
    median: Bound
    at_least_median: Bound | None  # all capped: the median is at least .lower, .level confident
    p5_lower_75: float | None
    p5_lower_95: float | None
    fits: tuple[FamilyFit, ...]
    curve: Curve | None
    held: HeldCurve | None


@dataclass(frozen=True, slots=True)
class RatioResult:
    """Ratio of medians, group over reference.

    ``lower``/``upper`` are two-sided limits at ``level``; ``sure_stronger`` is 1 minus the
    one-sided p-value of 'not stronger', ``sure_weaker`` likewise. ``resamples`` is 0 where
    nothing was simulated. ``missing`` says by a code why something is None.
    """

    family: str
    method: RatioMethod
    ratio: float | None
    lower: float | None
    upper: float | None
    level: float
    sure_stronger: float | None
    sure_weaker: float | None
    resamples: int
    missing: str | None


@dataclass(frozen=True, slots=True)
class Verdict:
    """What may be said, with the numbers that say it.

    ``lower``/``upper`` are the limits the verdict rests on, at ``level`` (wider than the
    single-comparison interval where several groups are compared; Holm). ``still_possible`` is
    the ratio farthest from 1 that is not excluded, given when the matter is not settled (None:
    unlimited). ``more_pieces`` is about how many more pieces in each group would settle it in
    four of five repeats, were the estimate true (None: not estimable or not needed);
    ``more_pieces_capped`` is set where that number is beyond what was computed.
    """

    kind: VerdictKind
    ratio: float | None
    lower: float | None
    upper: float | None
    level: float
    p_value: float | None
    p_holm: float | None
    still_possible: float | None
    more_pieces: int | None
    more_pieces_capped: bool


@dataclass(frozen=True, slots=True)
class Chance:
    """Chance that one piece of the group beats one of the reference, with limits at ``level``."""

    estimate: float | None
    lower: float | None
    upper: float | None
    level: float


@dataclass(frozen=True, slots=True)
class Alternative:
    """The same comparison under another reading of the data.

    ``code`` is one of: 'wrong-way-counts' (breaks of the wrong kind taken as strengths),
    'right-way-only' (wrong-way pieces dropped), 'void-back' (left-out pieces put back),
    'ceiling' (the pile at the top taken as 'at least'), 'ceiling-as-read' (the pile taken as
    read), 'per-area' (load over the stated area). ``pieces`` is what is treated differently.
    """

    code: str
    pieces: tuple[str, ...]
    ratio: RatioResult
    verdict: VerdictKind


@dataclass(frozen=True, slots=True)
class AdjustedRatio:
    """The ratio with recorded covariates (or blocks) held equal; ``on`` names them.

    ``slopes``: factor on the load for one standard deviation of each numeric covariate.
    """

    on: tuple[str, ...]
    pieces: int
    ratio: RatioResult
    slopes: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class SessionRatio:
    session: str
    pieces: int
    reference_pieces: int
    ratio: RatioResult


@dataclass(frozen=True, slots=True)
class SessionAgreement:
    """Do two or more days tell the same? ``p_value`` of 'the same ratio in every session'."""

    sessions: tuple[SessionRatio, ...]
    p_value: float | None


@dataclass(frozen=True, slots=True)
class Comparison:
    """One group against the reference."""

    group: str
    reference: str
    verdict: Verdict
    ratio: RatioResult
    quick: RatioResult
    chance: Chance
    families: tuple[RatioResult, ...]
    alternatives: tuple[Alternative, ...]
    adjusted: tuple[AdjustedRatio, ...]
    sessions: SessionAgreement | None
    log_rank_p: float | None


@dataclass(frozen=True, slots=True)
class LogRank:
    """Do all the groups hold alike? Log-rank test over two or more groups (two: signed root)."""

    statistic: float | None
    p_value: float | None
    missing: str | None


@dataclass(frozen=True, slots=True)
class Method:
    """How the numbers were made, enough to make them again."""

    version: str
    family: str
    families: tuple[str, ...]
    level: float
    seed: int
    resamples: int
    side_resamples: int


@dataclass(frozen=True, slots=True)
class Foretold:
    """What was foretold for one group's pieces before they were broken (N, single pieces).

    ``origin`` says where it comes from; ``trust`` is None where the person stated the median;
    ``calibrated_on`` counts own tests in it.
    """

    group: str
    median: float
    p5: float
    p95: float
    origin: Origin
    trust: Trust | None
    calibrated_on: int


@dataclass(frozen=True, slots=True)
class Answer:
    """The whole answer to one study. See the module's docstring for the conventions."""

    schema: str
    title: str
    question: str
    invented: bool
    unit: ForceUnit
    reference: str
    counts: str | None
    worth: float | None
    groups: tuple[GroupResult, ...]
    comparisons: tuple[Comparison, ...]
    log_rank: LogRank
    pieces: tuple[PieceResult, ...]
    notices: tuple[Notice, ...]
    record: Mapping[str, str]
    lacking: tuple[str, ...]
    method: Method
    foretold: tuple[Foretold, ...] = ()
