"""Predictions as data: every part, every way it can break, for the piece under test by group."""

from dataclasses import dataclass

from breakwright.model.notice import Notice
from breakwright.model.units import ForceUnit
from breakwright.strength.prediction import Input
from breakwright.strength.trust import Trust

__all__ = ["PREDICT_SCHEMA", "PartPredictions", "PredictResult", "WayPrediction"]

PREDICT_SCHEMA = "breakwright/predict/1"


@dataclass(frozen=True, slots=True)
class WayPrediction:
    """One way of breaking. Loads are WHOLE loads on the rig (N), of single pieces.

    ``cv`` is the coefficient of variation of a single load, everything counted in; ``inputs``
    is sorted, the one that moves the answer most (largest share of the variance) first, and
    ``moves_most`` names it (None: the equation's own error outweighs every input, or nothing
    scatters). ``break_three_first`` is set where the prediction is no better than an order of
    magnitude; ``calibrated_on`` counts own tests once there are three.
    """

    mechanism: str
    intended: bool
    governs: bool
    median: float
    p5: float
    p95: float
    sigma: float
    cv: float
    trust: Trust
    source: str
    inputs: tuple[Input, ...]
    model_share: float
    moves_most: str | None
    break_three_first: bool
    calibrated_on: int
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartPredictions:
    """One part, or the part under test as one group has it; ``ways`` weakest first.

    ``group`` is None for a part of the rig. ``breaks`` is the way it should break, as stated.
    """

    part: str
    kind: str
    meaning: str
    tested: bool
    group: str | None
    breaks: str | None
    count: int
    ways: tuple[WayPrediction, ...]


@dataclass(frozen=True, slots=True)
class PredictResult:
    """All predictions of one study, in the order of its parts and groups."""

    schema: str
    title: str
    invented: bool
    unit: ForceUnit
    groups: tuple[str, ...]
    reference: str
    parts: tuple[PartPredictions, ...]
    notices: tuple[Notice, ...]
