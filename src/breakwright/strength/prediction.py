"""What a prediction says: a lognormal distribution of the breaking load, and why."""

from dataclasses import dataclass

from breakwright.strength.trust import Trust

__all__ = ["Input", "Prediction"]


@dataclass(frozen=True, slots=True)
class Input:
    """One number that went in: its median, its coefficient of variation, where it came from, the
    exponent d(log load)/d(log input) and its share of the scatter's variance (0..1)."""

    name: str
    value: float
    cv: float
    origin: str
    exponent: float
    share: float


@dataclass(frozen=True, slots=True)
class Prediction:
    """One mechanism of one part: the WHOLE load on the rig (N) at which it breaks this way.

    ``median``, ``p5``, ``p95`` and ``sigma`` (of log load) are of single pieces, with the
    material's scatter and the equation's own error in one. ``calibrated_on`` counts own tests
    that the prediction was updated with; ``model_share`` is the equation's share of the variance.
    """

    part: str
    mechanism: str
    median: float
    p5: float
    p95: float
    sigma: float
    trust: Trust
    source: str
    inputs: tuple[Input, ...]
    model_share: float
    calibrated_on: int
    notes: tuple[str, ...]
