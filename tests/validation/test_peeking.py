"""What looking again and again does, where one stops at the first difference found.

Armitage, P., McPherson, C. K. and Rowe, B. C. (1969), Repeated significance tests on accumulating
data, Journal of the Royal Statistical Society A 132, 235-244: normal readings of known scatter,
tested at 5 % (two-sided) after each of equal batches; false positives 8.3 % with 2 looks, 14.2 %
with 5, 19.3 % with 10, 24.8 % with 20 (figures from memory; made again here by simulation).
"""

import math

import numpy as np
import pytest

from breakwright.report.settle_words import PEEKING, PEEKING_SOURCE
from breakwright.stats.families import LOGNORMAL
from breakwright.stats.fit import fit
from breakwright.stats.quick import quick_ratio

RECORDED = {2: 0.083, 5: 0.142, 10: 0.193, 20: 0.248}


@pytest.mark.parametrize("looks", RECORDED)
def test_the_recorded_figures(looks):
    """Four standard errors of 40,000 experiments are 0.9 points at most."""
    rng = np.random.default_rng(19690)
    sums = np.cumsum(rng.standard_normal((40_000, looks)), axis=1)
    z = np.abs(sums) / np.sqrt(np.arange(1, looks + 1))
    found = float((z > 1.959964).any(axis=1).mean())
    assert found == pytest.approx(RECORDED[looks], abs=0.009)


def test_our_quick_interval_is_no_exception():
    """Two groups alike, looked at after 4, 8, 12, 16 and 20 pieces of each: about 14 %.

    The t quantiles allow for the unknown scatter, so that it is as with a known one. 600
    experiments; four standard errors are 5.7 points.
    """
    rng = np.random.default_rng(4)
    stopped = sum(_ever_different(rng) for _ in range(600))
    assert stopped / 600 == pytest.approx(RECORDED[5], abs=0.057)


def _ever_different(rng):
    a, b = np.exp(0.2 * rng.standard_normal((2, 20)))
    for n in (4, 8, 12, 16, 20):
        fits = [fit(x[:n], x[:n], LOGNORMAL) for x in (a, b)]
        found = quick_ratio(*fits, exact_a=n, exact_b=n, level=0.95)
        if found.lower > 0.0 or found.upper < 0.0:
            return True
    return False


def test_the_words_say_the_figure():
    assert f"{round(100 * RECORDED[5])} times in" in PEEKING
    assert "1969" in PEEKING_SOURCE
    assert math.isclose(RECORDED[5], 0.142)
