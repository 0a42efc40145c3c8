"""General-purpose libraries in a loop over the same censored resamples: time and estimates.

One fit a resample, as one would write it with each library: lifelines, surpyval and
scipy.stats.CensoredData, each by the entry that its documentation gives for the kinds of reading
there are (plain right-censoring takes the simpler and faster entry). Time is the processor time
of this process, so that a busy machine doesn't count; imports and the preparation of the arrays
are left out, except what a library asks for as its own data type.
"""

import math
import time
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from importlib.metadata import version

import numpy as np
from numpy.typing import NDArray

__all__ = ["PEERS", "PeerRun", "Resamples", "lifelines_loop", "scipy_loop", "surpyval_loop"]

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Resamples:
    """``lower``, ``upper``: closed intervals of load, (m, n); ``family``: 'lognormal', 'weibull'
    or 'loglogistic'."""

    lower: Floats
    upper: Floats
    family: str


@dataclass(frozen=True)
class PeerRun:
    """``seconds`` of processor time a fit; ``mu``, ``sigma`` of log load, (m,), nan where the
    library raised an error or gave no finite answer."""

    library: str
    seconds: float
    mu: Floats
    sigma: Floats


Pair = tuple[float, float]


def _loop(library: str, samples: Resamples, fit_one: Callable[[Floats, Floats], Pair]) -> PeerRun:
    m = samples.lower.shape[0]
    mu, sigma = np.full(m, np.nan), np.full(m, np.nan)
    with warnings.catch_warnings(), np.errstate(all="ignore"):
        warnings.simplefilter("ignore")
        fit_one(samples.lower[0], samples.upper[0])  # what is compiled or cached on first use
        start = time.process_time()
        for i in range(m):
            try:
                mu[i], sigma[i] = fit_one(samples.lower[i], samples.upper[i])
            except Exception:  # the libraries raise many kinds; the nan stays and is counted
                continue
        seconds = (time.process_time() - start) / m
    return PeerRun(f"{library} {version(library)}", seconds, mu, sigma)


def _only_capped(samples: Resamples) -> bool:
    """Exact and 'at least' readings only."""
    return bool((np.isinf(samples.upper) | (samples.lower == samples.upper)).all())


def _log_scale(family: str, first: float, second: float) -> Pair:
    """(mu, sigma) from (mu, sigma) of the lognormal, from (scale, shape) of the others."""
    return (first, second) if family == "lognormal" else (math.log(first), 1.0 / second)


def lifelines_loop(samples: Resamples) -> PeerRun:
    """lifelines' parametric fitters, one a resample."""
    import lifelines

    fitter = {
        "lognormal": lifelines.LogNormalFitter,
        "weibull": lifelines.WeibullFitter,
        "loglogistic": lifelines.LogLogisticFitter,
    }[samples.family]

    def right(lower: Floats, upper: Floats) -> Pair:
        found = fitter().fit(lower, np.isfinite(upper))
        return _log_scale(samples.family, *map(float, found.params_.to_numpy()))

    def interval(lower: Floats, upper: Floats) -> Pair:
        found = fitter().fit_interval_censoring(lower, upper)
        return _log_scale(samples.family, *map(float, found.params_.to_numpy()))

    return _loop("lifelines", samples, right if _only_capped(samples) else interval)


def surpyval_loop(samples: Resamples) -> PeerRun:
    """surpyval's distributions, one fit a resample."""
    import surpyval

    family = {
        "lognormal": surpyval.LogNormal,
        "weibull": surpyval.Weibull,
        "loglogistic": surpyval.LogLogistic,
    }[samples.family]

    def right(lower: Floats, upper: Floats) -> Pair:
        found = family.fit(x=lower, c=np.isinf(upper).astype(int))
        return _log_scale(samples.family, *map(float, found.params))

    def interval(lower: Floats, upper: Floats) -> Pair:
        held, at_most = np.isinf(upper), (lower == 0.0) & np.isfinite(upper)
        # its codes: 0 exact, 1 right, -1 left, 2 between two values given as a pair
        code = np.select([held, at_most, lower < upper], [1, -1, 2], 0)
        x = [
            [low, high] if c == 2 else (high if c == -1 else low)
            for low, high, c in zip(lower, upper, code, strict=True)
        ]
        found = family.fit(x=x, c=code)
        return _log_scale(samples.family, *map(float, found.params))

    return _loop("surpyval", samples, right if _only_capped(samples) else interval)


def scipy_loop(samples: Resamples) -> PeerRun:
    """scipy.stats' distributions fitted to CensoredData with the location held at 0."""
    from scipy import stats

    family = {
        "lognormal": stats.lognorm,
        "weibull": stats.weibull_min,
        "loglogistic": stats.fisk,
    }[samples.family]

    def fit_one(lower: Floats, upper: Floats) -> Pair:
        held, at_most = np.isinf(upper), (lower == 0.0) & np.isfinite(upper)
        exact = lower == upper
        between = ~(held | at_most | exact)
        data = stats.CensoredData(
            uncensored=lower[exact],
            right=lower[held],
            left=upper[at_most],
            interval=np.column_stack([lower[between], upper[between]]),
        )
        shape, _, scale = family.fit(data, floc=0)
        if samples.family == "lognormal":
            return math.log(scale), float(shape)
        return math.log(scale), 1.0 / float(shape)

    return _loop("scipy", samples, fit_one)


PEERS: tuple[Callable[[Resamples], PeerRun], ...] = (lifelines_loop, surpyval_loop, scipy_loop)
