"""What the check of the scales finds, as data. Loads in N (on the piece, unless said), mm, s."""

from dataclasses import dataclass
from enum import StrEnum

__all__ = [
    "Buy",
    "CheckFit",
    "FitMiss",
    "FittingPiece",
    "GroupRange",
    "How",
    "ScaleSet",
    "ScaleView",
    "ShareOrigin",
]


class How(StrEnum):
    """How the scales of a set carry the load."""

    ALONE = "alone"  # one scale bears it all
    SHARED = "shared"  # the load is the sum of what they show


class ShareOrigin(StrEnum):
    """What the shares of a set rest on."""

    WHOLE = "whole load"  # one scale bears it
    STATICS = "statics"  # two supports: from the positions
    RANGE = "range only"  # three or more in a line: the balance of forces leaves a range
    EQUAL = "assumed equal"  # the positions are not given


class FitMiss(StrEnum):
    """Why no value of a number makes a piece that fits the scale."""

    NO_VALUE = "no value stays in range"  # within what the key allows
    BREAKS_OTHERWISE = "breaks otherwise"  # in range, but then it breaks another way too often
    DIFFERS_BY_GROUP = "differs by group"
    NO_EFFECT = "no effect"


@dataclass(frozen=True, slots=True)
class CheckFit:
    """True load = ``slope`` x shown + ``zero``, fitted to three or more known weights.

    ``slope_error`` is its standard error, ``residual`` the standard deviation of the points
    about the line (N).
    """

    weights: int
    slope: float
    slope_error: float
    zero: float
    residual: float


@dataclass(frozen=True, slots=True)
class ScaleView:
    """One scale in its set.

    ``usable`` is capacity less tare, as shown; ``factor`` the load on the piece over the load on
    the display from levers, pulleys and guides; ``correction`` the range of true over shown from
    the known weights, (1, 1) where it was never checked; ``verified`` the heaviest of them (true
    N on the display). ``share`` is its least, middle and largest share of the whole load.
    ``limit`` is the load on the piece up to which it can be read for certain with its largest
    share, ``limit_high`` the same at best. ``missed`` is what the load may rise between two
    displayed values; ``step`` one step of the display as a load on the piece.
    """

    name: str
    capacity: float | None
    tare: float
    usable: float | None
    factor: tuple[float, float]
    correction: tuple[float, float]
    verified: float | None
    fit: CheckFit | None
    share: tuple[float, float, float]
    at: float | None
    limit: float | None
    limit_high: float | None
    refresh: float | None
    missed: float | None
    resolution: float
    step: float


@dataclass(frozen=True, slots=True)
class GroupRange:
    """The chance that one piece of a group is stronger than a set of scales can read.

    ``chance`` is for the load that is read for certain, ``chance_low`` for shares and factors at
    their best. ``expected`` is the number of pieces expected to be capped of ``pieces``; None
    where no number of pieces is in mind. ``chance_unverified`` is the chance that a piece loads
    some scale above the heaviest weight it was checked with; None where none was checked.
    """

    group: str
    chance: float | None
    chance_low: float | None
    pieces: int | None
    expected: float | None
    chance_unverified: float | None


@dataclass(frozen=True, slots=True)
class Buy:
    """The capacity that every scale of the set needs for at most this ``chance`` of running out.

    ``group`` is the group that asks for most and ``load`` its load at that chance. ``each`` is
    by scale, in the set's order; ``offer`` the smallest of the capacities the person named that
    serves every scale (None: none named, or none serves).
    """

    chance: float
    group: str
    load: float
    each: tuple[float, ...]
    offers: tuple[float, ...]
    offer: float | None


@dataclass(frozen=True, slots=True)
class ScaleSet:
    """One scale, or several that bear the load together.

    ``limit`` is the whole load up to which the set reads for certain, ``limit_high`` the same
    with shares and factors at their best, ``first_out`` the scale that runs out first.
    ``sum_capacity`` is what the scales could read together were each at its end; ``best_at`` the
    position of the load that comes nearest to it, with ``best_limit``. ``off_centre`` is how far
    the load may lie from the middle between two scales; ``doubled_error`` the relative error of
    reading one of the two and doubling it. ``relative_width`` is the range of factors and
    corrections, half of it over the middle: it widens every outcome. ``resolution_error`` is the
    standard uncertainty from the steps of readings and tares; ``missed`` the load that may go
    unseen at the peak. ``limit_if_two`` is, for a scale that bears the load alone, the limit of
    two like it with ``larger_share`` of the load on one of them.
    """

    how: How
    origin: ShareOrigin
    scales: tuple[ScaleView, ...]
    limit: float | None
    limit_high: float | None
    first_out: str | None
    sum_capacity: float | None
    load_at: float | None
    wander: float
    best_at: float | None
    best_limit: float | None
    off_centre: float | None
    doubled_error: float | None
    relative_width: float
    resolution_error: float
    missed: float | None
    groups: tuple[GroupRange, ...]
    buy: tuple[Buy, ...]
    limit_if_two: float | None
    larger_share: float | None


@dataclass(frozen=True, slots=True)
class FittingPiece:
    """The value of one number of the piece under test at which its strongest group fits the scale.

    ``then`` keeps at least ``chance`` (0.99 or 0.90) of the strongest group's pieces in range,
    with at least 0.9 chance of breaking the intended way, ``intended_chance`` in the worst
    group. ``then`` is None where no value does: ``why`` says it. ``median`` is the strongest
    group's median at ``then``.
    """

    key: str
    meaning: str
    unit: str
    now: float
    chance: float
    then: float | None
    direction: str | None
    in_range: float | None
    intended_chance: float | None
    median: float | None
    why: FitMiss | None
