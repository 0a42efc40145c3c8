"""A straight line through the checks of a display against known weights."""

import math
from collections.abc import Sequence

import numpy as np

from breakwright.model.instrument import KnownWeight
from breakwright.rig.scale_findings import CheckFit

__all__ = ["fit_checks"]

_FEWEST = 3


def fit_checks(weights: Sequence[KnownWeight]) -> CheckFit | None:
    """Fit true load = slope x shown + zero by least squares; None with fewer than three weights.

    slope = sum (s - s_mean)(t - t_mean) / sum (s - s_mean)^2, zero = t_mean - slope s_mean,
    residual^2 = sum (t - zero - slope s)^2/(n - 2), slope error = residual/sqrt(sum (s - s_mean)^2)

    weights: known loads and what was shown, N, any number.
    Valid within the range of the weights; the shown values must not all be one.

    >>> found = fit_checks([KnownWeight(100.0, 99.0), KnownWeight(200.0, 199.0),
    ...                     KnownWeight(300.0, 299.0)])
    >>> round(found.slope, 6), round(found.zero, 6), round(found.residual, 6)
    (1.0, 1.0, 0.0)

    Source: ordinary least squares; compared with scipy.stats.linregress in the tests.
    """
    if len(weights) < _FEWEST:
        return None
    shown = np.array([w.shown for w in weights])
    true = np.array([w.true for w in weights])
    away = shown - shown.mean()
    spread = float(np.square(away).sum())
    if spread == 0.0:
        return None
    slope = float((away * (true - true.mean())).sum()) / spread
    zero = float(true.mean()) - slope * float(shown.mean())
    square = float(np.square(true - zero - slope * shown).sum()) / (len(weights) - 2)
    residual = math.sqrt(square)
    return CheckFit(len(weights), slope, residual / math.sqrt(spread), zero, residual)
