"""How strong the pieces of each group are expected to be: said, tried beforehand, or predicted."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from breakwright.model.foresight import Expected
from breakwright.rig.findings import Origin, PieceStrength
from breakwright.rig.lognormal import P5_Z, P99_Z, log_sigma
from breakwright.strength.predict import update
from breakwright.strength.prediction import Prediction
from breakwright.strength.trust import Trust

__all__ = ["ASSUMED_CV", "Asked", "piece_strengths"]

# Usual scatter of home-made joints where nothing else is known (common practice, no source).
ASSUMED_CV = 0.25
_ENOUGH_TO_SCATTER = 3


@dataclass(frozen=True, slots=True)
class Asked:
    """What is known beforehand of the groups' pieces.

    ``predicted`` is the intended way's prediction by group (empty without a part under test);
    ``differs`` names the groups for which the part under test has numbers of its own;
    ``tested_before`` is set where own tests of the part are already in the predictions: pilots
    are then not counted a second time.
    """

    groups: tuple[str, ...]
    reference: str
    expected: Expected
    worth: float | None
    predicted: Mapping[str, Prediction]
    differs: frozenset[str]
    tested_before: bool


@dataclass(frozen=True, slots=True)
class _Known:
    median: float
    sigma: float
    scatter: float
    origin: Origin
    assumed: bool
    calibrated_on: int
    trust: Trust | None


def piece_strengths(asked: Asked) -> tuple[PieceStrength, ...]:
    """One strength a group, the reference first worked out; empty where nothing is known.

    The reference: a stated median wins over a prediction; pilots update the prediction, or stand
    for themselves where there is none. Another group: a stated ratio wins; else its own numbers
    in the equation; else the smallest ratio worth knowing, as the strongest it need be to matter.
    """
    reference = _reference(asked)
    if reference is None:
        return ()
    found = []
    for group in asked.groups:
        known = reference if group == asked.reference else _other(asked, group, reference)
        found.append(_strength(group, known, is_reference=group == asked.reference))
    return tuple(found)


def _reference(asked: Asked) -> _Known | None:
    expected = asked.expected
    prediction = asked.predicted.get(asked.reference)
    pilots = np.log(np.asarray(expected.pilots, dtype=float))
    if expected.median is not None:
        scatter, assumed = _stated_scatter(expected, pilots, prediction)
        return _Known(expected.median, scatter, scatter, Origin.GIVEN, assumed, 0, None)
    if prediction is not None:
        return _from(prediction, asked, pilots=expected.pilots)
    if pilots.size:
        scatter, assumed = _stated_scatter(expected, pilots, None)
        sigma = scatter * math.sqrt(1.0 + 1.0 / pilots.size)
        median = math.exp(float(pilots.mean()))
        counted = pilots.size if pilots.size >= _ENOUGH_TO_SCATTER else 0
        return _Known(median, sigma, scatter, Origin.PILOTS, assumed, counted, None)
    return None


def _other(asked: Asked, group: str, reference: _Known) -> _Known:
    stated = asked.expected.ratio.get(group)
    if stated is not None:
        return replace(reference, median=reference.median * stated, origin=Origin.RATIO_GIVEN)
    own = asked.predicted.get(group)
    base = asked.predicted.get(asked.reference)
    if group in asked.differs and own is not None and base is not None:
        if reference.origin is Origin.PREDICTED:
            return _from(own, asked, pilots=())
        ratio = own.median / base.median
        return replace(reference, median=reference.median * ratio, origin=Origin.RATIO_EQUATION)
    if asked.worth is not None:
        return replace(reference, median=reference.median * asked.worth, origin=Origin.RATIO_WORTH)
    return replace(reference, origin=Origin.SAME)


def _from(prediction: Prediction, asked: Asked, *, pilots: tuple[float, ...]) -> _Known:
    scatter = _scatter_of(prediction)
    if asked.expected.cv is not None:
        scatter = log_sigma(asked.expected.cv)
        own = prediction.model_share * prediction.sigma**2
        sigma = math.sqrt(own + scatter**2)
        prediction = replace(prediction, sigma=sigma, model_share=own / sigma**2 if sigma else 0.0)
    origin = Origin.PREDICTED
    if pilots and not asked.tested_before:
        prediction = update(prediction, pilots, scatter=scatter)
        scatter = _scatter_of(prediction)
        origin = Origin.PILOTS
    return _Known(
        prediction.median,
        prediction.sigma,
        scatter,
        origin,
        False,
        prediction.calibrated_on,
        prediction.trust,
    )


def _stated_scatter(
    expected: Expected, pilots: np.ndarray, prediction: Prediction | None
) -> tuple[float, bool]:
    if expected.cv is not None:
        return log_sigma(expected.cv), False
    if pilots.size >= _ENOUGH_TO_SCATTER:
        return float(pilots.std(ddof=1)), False
    if prediction is not None:
        return _scatter_of(prediction), False
    return log_sigma(ASSUMED_CV), True


def _scatter_of(prediction: Prediction) -> float:
    return prediction.sigma * math.sqrt(max(0.0, 1.0 - prediction.model_share))


def _strength(group: str, known: _Known, *, is_reference: bool) -> PieceStrength:
    return PieceStrength(
        group=group,
        is_reference=is_reference,
        median=known.median,
        sigma=known.sigma,
        scatter=known.scatter,
        cv=math.sqrt(math.expm1(known.scatter**2)),
        p5=known.median * math.exp(P5_Z * known.sigma),
        p95=known.median * math.exp(-P5_Z * known.sigma),
        p99=known.median * math.exp(P99_Z * known.sigma),
        origin=known.origin,
        scatter_assumed=known.assumed,
        calibrated_on=known.calibrated_on,
        trust=known.trust,
    )
