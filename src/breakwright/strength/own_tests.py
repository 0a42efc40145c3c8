"""Anything else: what one's own tests of it say of the next piece."""

import math

import numpy as np

from breakwright.strength.mechanism import Floats
from breakwright.strength.prediction import Prediction
from breakwright.strength.trust import Trust

__all__ = ["OWN_TESTS_KIND", "from_own_tests", "next_piece_factor", "own_tests_problem"]

OWN_TESTS_KIND = "own tests"
_AT_LEAST = 3
_P95 = 1.6448536269514722
# EN 14358 takes no smaller scatter of log strength than this, however alike a few pieces are.
_LEAST_SCATTER = 0.05
_GOOD, _FAIR = 0.35, 0.55


def next_piece_factor(n: Floats) -> Floats:
    """Return how many sample standard deviations below the mean the next piece's 5 % point lies.

    k = t(0.95; n - 1) sqrt(1 + 1/n).

    ``n``: number of tests, any shape, from 2.
    Range: readings (here their logs) from one normal population.

    >>> [round(float(next_piece_factor(n)), 3) for n in (3, 5, 10)]
    [3.372, 2.335, 1.923]

    Source: prediction of one further reading; EN 1990 Annex D, k_n for an unknown coefficient of
    variation (definition from memory, values recomputed).
    """
    from scipy.stats import t

    count = np.asarray(n, float)
    return np.asarray(t.ppf(0.95, count - 1.0) * np.sqrt(1.0 + 1.0 / count))


def own_tests_problem(own: tuple[float, ...]) -> str | None:
    """Return what is wrong with the tests as the only basis of a prediction, or None.

    >>> own_tests_problem((4000.0, 4400.0))
    "2 tests of one's own are too few to predict from: at least three are needed"
    """
    if len(own) >= _AT_LEAST:
        return None
    said = {0: "no test", 1: "one test"}.get(len(own), f"{len(own)} tests")
    verb = "is" if len(own) < 2 else "are"
    return f"{said} of one's own {verb} too few to predict from: at least three are needed"


def from_own_tests(part: str, own: tuple[float, ...], breaks: str | None) -> Prediction:
    """Return the next piece's load, predicted from three or more own tests and nothing else.

    Median exp(mean of logs); the 5 % and 95 % points k sample standard deviations of the logs
    away, k as in ``next_piece_factor``.

    ``part``: the part's name; ``own``: loads (N) on the whole part; ``breaks``: how it broke.
    Range: three tests or more of pieces like the ones to come.

    >>> found = from_own_tests("hinge", (4610.0, 5230.0, 4020.0, 5600.0, 4750.0), None)
    >>> round(found.median), found.trust.value, found.calibrated_on
    (4811, 'good', 5)

    Source: prediction interval for a normal population, on logs; scatter at least 0.05 as in
    EN 14358 (from memory).
    """
    problem = own_tests_problem(own)
    if problem is not None:
        raise ValueError(f"{part!r}: {problem}")
    logs = np.log(np.asarray(own))
    scatter = max(float(logs.std(ddof=1)), _LEAST_SCATTER)
    sigma = scatter * float(next_piece_factor(np.asarray(float(logs.size)))) / _P95
    median = math.exp(float(logs.mean()))
    trust = Trust.GOOD if sigma < _GOOD else Trust.FAIR if sigma < _FAIR else Trust.ORDER
    return Prediction(
        part=part,
        mechanism=breaks or "breaks",
        median=median,
        p5=median * math.exp(-_P95 * sigma),
        p95=median * math.exp(_P95 * sigma),
        sigma=sigma,
        trust=trust,
        source=f"your own {logs.size} tests",
        inputs=(),
        model_share=1.0 - (scatter / sigma) ** 2,
        calibrated_on=int(logs.size),
        notes=(),
    )
