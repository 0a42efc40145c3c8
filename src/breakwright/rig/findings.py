"""What the check of a rig finds, as data. Loads in N, lengths in mm, energy in J, speed in m/s.

``None`` stands for 'there is none' or 'not known'; infinity and not-a-number never appear.
"""

from dataclasses import dataclass
from enum import StrEnum

from breakwright.strength.trust import Trust

__all__ = [
    "Advice",
    "BreakEnergy",
    "Deflection",
    "Frame",
    "GroupRace",
    "Level",
    "Margin",
    "Method",
    "NoAdvice",
    "Origin",
    "PieceStrength",
    "WayChance",
    "WhyNot",
]


class Origin(StrEnum):
    """Where a group's expected strength comes from."""

    GIVEN = "given"  # the person stated the median
    PREDICTED = "predicted"  # from the equation, with own tests counted in where there are any
    PILOTS = "pilots"  # the equation, updated with pieces broken beforehand
    RATIO_GIVEN = "ratio given"  # the reference's, times a ratio that the person stated
    RATIO_EQUATION = "ratio by the equation"  # the reference's, times what the equation says
    RATIO_WORTH = "ratio worth knowing"  # the reference's, times the smallest ratio worth knowing
    SAME = "same as the reference"  # nothing is known of a difference


class Level(StrEnum):
    """How a margin is judged."""

    ENOUGH = "enough"  # 2.5 and more
    LOW = "low"  # from 1.5 to under 2.5: pointed out
    DANGER = "danger"  # under 1.5
    OWN = "own"  # another way for the piece under test to break: judged by its chance


class Method(StrEnum):
    """How a chance was worked out."""

    ONE_WAY = "only one way"
    CLOSED_FORM = "closed form"
    SIMULATION = "simulation"


class WhyNot(StrEnum):
    """Why a number of a part cannot cure its weakness."""

    NO_VALUE = "no value does it"  # within what the key allows
    DIFFERS_BY_GROUP = "differs by group"  # it is what the study compares
    NO_EFFECT = "no effect"  # the load does not depend on it here


@dataclass(frozen=True, slots=True)
class PieceStrength:
    """The load at which single pieces of one group are expected to break the intended way.

    ``sigma`` is the scatter of log load with everything in it (pieces, and how far off the
    expectation itself may be); ``scatter`` the part of it from piece to piece, and ``cv`` the
    same as a coefficient of variation: what a plan for the number of pieces needs.
    ``calibrated_on`` counts own tests; ``trust`` is None for a stated median.
    """

    group: str
    is_reference: bool
    median: float
    sigma: float
    scatter: float
    cv: float
    p5: float
    p95: float
    p99: float
    origin: Origin
    scatter_assumed: bool
    calibrated_on: int
    trust: Trust | None


@dataclass(frozen=True, slots=True)
class WayChance:
    """The chance (0..1) that this way of breaking comes first; its standard error if simulated."""

    part: str
    mechanism: str
    intended: bool
    chance: float
    standard_error: float | None


@dataclass(frozen=True, slots=True)
class GroupRace:
    """All ways of breaking of rig and piece against each other, for one group's pieces.

    ``ways`` is sorted, likeliest first. ``intended_chance`` is the chance that the piece breaks
    the way it should; None where no way is marked.
    """

    group: str
    ways: tuple[WayChance, ...]
    intended_chance: float | None
    method: Method
    draws: int


@dataclass(frozen=True, slots=True)
class Margin:
    """One way for one part to break, against the strongest piece expected.

    ``margin`` is the median load of this way over ``strongest_piece``, the load that 99 of 100
    pieces of the strongest group stay under; ``margin_characteristic`` the same with this way's
    5th percentile. ``chance_before`` is the chance that this way comes before the intended one,
    taken two by two, in the group where it is largest (``chance_group``). ``governs`` marks the
    weakest way of its part.
    """

    part: str
    mechanism: str
    tested: bool
    governs: bool
    median: float
    p5: float
    strongest_group: str
    strongest_piece: float
    margin: float
    margin_characteristic: float
    chance_before: float
    chance_group: str
    level: Level
    trust: Trust
    calibrated_on: int


@dataclass(frozen=True, slots=True)
class Advice:
    """One change that by itself cures a weak part: ``key`` from ``now`` to ``then``.

    ``key`` is a number of the part or ``count``; ``unit`` is its unit as people write it ('' for
    a plain number); ``direction`` is 'up' ('at least ``then``') or 'down' ('``then`` or less').
    ``cures`` names the ways of breaking that were too near and no longer are; ``leaves`` those
    that this number cannot cure and another must. The chances are those of the intended way
    coming first, in the worst group, before and after; the risks those of the part's own ways
    coming before it, taken two by two and added up; the margins those of the part's weakest way.
    ``changes_the_piece`` is set where the change also alters the strength that is asked about.
    """

    part: str
    key: str
    meaning: str
    unit: str
    now: float
    then: float
    direction: str
    cures: tuple[str, ...]
    chance_before: float
    chance_after: float
    margin_before: float
    margin_after: float
    changes_the_piece: bool
    leaves: tuple[str, ...]
    risk_before: float
    risk_after: float


@dataclass(frozen=True, slots=True)
class NoAdvice:
    """A number of a weak part that cannot cure it, and the best margin found on the way."""

    part: str
    key: str
    meaning: str
    unit: str
    now: float
    why: WhyNot
    low: float | None
    high: float | None
    best_margin: float | None


@dataclass(frozen=True, slots=True)
class Deflection:
    """How far one part gives way at the two loads of the frame; None: no equation for it."""

    part: str
    at_median: float | None
    at_p99: float | None


@dataclass(frozen=True, slots=True)
class BreakEnergy:
    """What is stored in the rig at ``load``: energy (J), and speed it could give ``loose_mass``."""

    load: float
    deflection: float
    energy: float
    loose_mass: float | None
    speed: float | None


@dataclass(frozen=True, slots=True)
class Frame:
    """How far the rig gives way, and what springs back at the break.

    ``usual`` is at the strongest group's median, ``strongest`` at the load that 99 of 100 pieces
    stay under. Both leave out the parts of ``unknown``, so they are at least this much. ``stroke``
    is what the jack has (mm), ``stroke_needed`` the give at ``strongest``; both None where
    nothing is known.
    """

    parts: tuple[Deflection, ...]
    unknown: tuple[str, ...]
    usual: BreakEnergy | None
    strongest: BreakEnergy | None
    stroke: float | None
    stroke_needed: float | None
