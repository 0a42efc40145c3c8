"""Where a simulated p-value falls to what is allowed: a bracketed secant on normal scores.

The p-value comes from common random numbers, so it moves smoothly with the trial value and its
normal score is nearly straight. The search starts at the estimate, where p is about one half.
"""

from collections.abc import Callable

import numpy as np

from breakwright.stats.families import Floats

__all__ = ["FARTHEST", "crossing", "root_crossing", "tail_shares"]

# In log units: no shop test tells a factor of 25 from a larger one; a limit not found by then is
# no limit.
FARTHEST = 3.2188758248682006
# An end is settled when its score is this near: the simulation's own error is 0.04 at B = 4,000.
_END_SCORE = 0.01
_END_SHARE = 0.003


def crossing(
    p_value: Callable[[float], float], *, start: float, step: float, sign: float, allowed: float
) -> float:
    """The value beyond ``start``, on the side of ``sign``, at which p falls to ``allowed``.

    ``step`` is a first guess of the distance. Returns sign * inf where p stays above ``allowed``
    up to FARTHEST from the start.
    """
    from scipy.special import ndtri

    target = float(ndtri(allowed))

    def score(value: float) -> float:
        return float(ndtri(p_value(value))) - target

    inside, f_in = start, -target
    reach = min(step, FARTHEST)
    while True:
        trial = start + sign * reach
        value = score(trial)
        if value <= 0.0:
            outside, f_out = trial, value
            break
        inside, f_in = trial, value
        if reach >= FARTHEST:
            return sign * float("inf")
        # Extrapolate, but by no more than three times the distance so far.
        slope = (-target - value) / reach
        further = reach + 1.3 * value / slope if slope > 0.0 else 3.0 * reach
        reach = min(max(further, 1.25 * reach), 3.0 * reach, FARTHEST)
    for _ in range(12):
        if abs(outside - inside) < _END_SHARE * abs(outside - start):
            break
        guess = inside + (outside - inside) * f_in / (f_in - f_out)
        margin = 0.05 * abs(outside - inside)
        low, high = min(inside, outside), max(inside, outside)
        guess = min(max(guess, low + margin), high - margin)
        value = score(guess)
        if abs(value) < _END_SCORE:
            return guess
        if value <= 0.0:
            outside, f_out = guess, value
        else:
            inside, f_in = guess, value
    return inside + (outside - inside) * f_in / (f_in - f_out)


def root_crossing(
    root: Callable[[float], float], *, start: float, step: float, sign: float, size: float
) -> float:
    """The value beyond ``start`` at which a signed root reaches ``size`` (above 0) in absolute
    terms: the end of a likelihood-ratio interval. sign * inf where it does not up to FARTHEST."""
    from scipy.optimize import brentq

    inside, reach = start, min(step, FARTHEST)
    while abs(root(start + sign * reach)) < size:
        if reach >= FARTHEST:
            return sign * float("inf")
        inside, reach = start + sign * reach, min(1.7 * reach, FARTHEST)
    outside = start + sign * reach
    return float(brentq(lambda x: abs(root(x)) - size, inside, outside, xtol=1e-10))


def tail_shares(stars: Floats, root: float) -> tuple[float, float]:
    """Shares of simulated roots as large, and as small, as ``root``: p_up and p_lo.

    The data themselves count as one more simulation; a resample without a root (nan) counts as
    extreme on both sides.
    """
    lost = int(np.isnan(stars).sum())
    near = 1e-9 * (1.0 + abs(root))
    up = 1 + int((stars >= root - near).sum()) + lost
    lo = 1 + int((stars <= root + near).sum()) + lost
    return up / (stars.size + 1), lo / (stars.size + 1)
