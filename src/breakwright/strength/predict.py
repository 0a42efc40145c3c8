"""From a part and its catalogue entry to predictions: scatter propagated, own tests counted in."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from breakwright.strength.mechanism import Mechanism
from breakwright.strength.prediction import Input, Prediction
from breakwright.strength.trust import MODEL_SIGMA, Trust

__all__ = ["Resolved", "predict", "update"]

_STEP = 1e-4  # of log input, for the exponents
_P5 = 1.6448536269514722


@dataclass(frozen=True, slots=True)
class Resolved:
    """A part whose every number is known: value, coefficient of variation and origin by key.

    ``piece_share`` is the share of the whole load that the most loaded piece of it bears;
    ``notes`` are told with every prediction made from it.
    """

    part: str
    numbers: Mapping[str, float]
    cv: Mapping[str, float]
    origin: Mapping[str, str]
    words: Mapping[str, str]
    piece_share: float
    notes: tuple[str, ...] = ()


def predict(mechanism: Mechanism, resolved: Resolved) -> Prediction:
    """Propagate the scatter of the inputs to first order in their logs, and add the equation's.

    log F = log f(x); var = sum (d log f/d log x_i)^2 var(log x_i) + model^2: exact for products of
    powers of lognormal inputs, which most of these equations are.
    """
    base = {k: np.array([resolved.numbers[k]]) for k in mechanism.needs}
    load = float(mechanism.load(base)[0])
    if not load > 0.0 or not math.isfinite(load):
        raise ValueError(f"{mechanism.name} of {resolved.part!r} gives no load: {load}")
    inputs = []
    for key in mechanism.needs:
        cv = resolved.cv.get(key, 0.0)
        exponent = _exponent(mechanism, base, key)
        inputs.append((key, cv, exponent, (exponent * _log_sigma(cv)) ** 2))
    model = MODEL_SIGMA[mechanism.trust]
    variance = model**2 + sum(v for *_, v in inputs)
    sigma = math.sqrt(variance)
    median = load / resolved.piece_share
    notes = (*mechanism.notes, *resolved.notes)
    if mechanism.remark is not None:
        notes = (mechanism.remark(base), *notes)
    if mechanism.characteristic:
        spread = _log_sigma(mechanism.cv_if_characteristic)
        median *= math.exp(_P5 * spread)
        notes = (*notes, "the equation gives a 5th percentile; taken up to a median")
    return Prediction(
        part=resolved.part,
        mechanism=mechanism.name,
        median=median,
        p5=median * math.exp(-_P5 * sigma),
        p95=median * math.exp(_P5 * sigma),
        sigma=sigma,
        trust=mechanism.trust,
        source=mechanism.source,
        inputs=tuple(
            Input(k, resolved.numbers[k], cv, resolved.origin.get(k, "given"), e, v / variance)
            for k, cv, e, v in inputs
        ),
        model_share=model**2 / variance,
        calibrated_on=0,
        notes=notes,
    )


def _log_sigma(cv: float) -> float:
    return math.sqrt(math.log1p(cv * cv))


def _exponent(mechanism: Mechanism, base: Mapping[str, np.ndarray], key: str) -> float:
    ends = []
    for sign in (1.0, -1.0):
        moved = {**base, key: base[key] * math.exp(sign * _STEP)}
        ends.append(float(np.log(mechanism.load(moved)[0])))
    return (ends[0] - ends[1]) / (2.0 * _STEP)


def update(prediction: Prediction, own: tuple[float, ...], *, scatter: float) -> Prediction:
    """Count in own tests: conjugate normal on log load, prior scatter from the class of trust.

    ``own`` are whole loads (N) at which pieces broke by this mechanism; ``scatter`` is the log
    scatter between single pieces (material only). From three tests on, the prediction says that
    it is calibrated. Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.5 (from memory):
    the mean of the log has prior N(m, t^2), readings N(mean, s^2).
    """
    if not own:
        return prediction
    logs = np.log(np.asarray(own))
    n = logs.size
    prior = max(prediction.sigma**2 - scatter**2, 1e-9)
    within = scatter**2
    if n >= 3:
        # The pieces' own scatter counts with the weight of n - 1 degrees against 4 of the prior.
        within = (4.0 * scatter**2 + (n - 1) * float(logs.var(ddof=1))) / (4.0 + n - 1)
    post = 1.0 / (1.0 / prior + n / within)
    mean = post * (math.log(prediction.median) / prior + float(logs.sum()) / within)
    sigma = math.sqrt(post + within)
    trust = prediction.trust
    if n >= 3:
        trust = Trust.GOOD if sigma < 0.35 else Trust.FAIR
    median = math.exp(mean)
    return replace(
        prediction,
        median=median,
        p5=median * math.exp(-_P5 * sigma),
        p95=median * math.exp(_P5 * sigma),
        sigma=sigma,
        trust=trust,
        calibrated_on=n if n >= 3 else 0,
        model_share=post / (sigma * sigma),
    )
