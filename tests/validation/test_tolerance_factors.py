"""One-sided tolerance factors of the normal law: the noncentral t, and published tables of it.

Definition: k = t'(confidence; n - 1, z_p sqrt(n)) / sqrt(n), by scipy.stats.nct and R's qt
(``r/check_values.R``). Tables: ISO 16269-6 and EN 14358 (from memory); NIST/SEMATECH e-Handbook
7.2.6.3 for n = 43 (from memory). Without capping the generalised pivot must reproduce them, up to
the error of the simulation, which is known: sqrt(q(1 - q)/B) over the density of k.
"""

import math

import numpy as np
import pytest
from r_recorded import values
from scipy.special import ndtri

from breakwright.stats.families import LOGNORMAL
from breakwright.stats.fit import fit
from breakwright.stats.pivot import plausible, quantile_limit
from breakwright.stats.sample import make_sample

# share held by 95 % of pieces; confidence -> n -> k (ISO 16269-6, EN 14358, from memory)
TABLE = {
    0.75: {3: 3.1518, 5: 2.4634, 10: 2.1037, 20: 1.9320, 30: 1.8686},
    0.95: {3: 7.6559, 5: 4.2027, 10: 2.9110, 20: 2.3960, 30: 2.2198},
}
CELLS = [
    (n, 0.95, confidence, k) for confidence, column in TABLE.items() for n, k in column.items()
]
CELLS.append((43, 0.90, 0.99, 1.87395))  # NIST/SEMATECH 7.2.6.3 (from memory)
RESAMPLES = 80_000


def noncentral_t(n, share):
    from scipy.stats import nct

    return nct(n - 1, float(ndtri(share)) * math.sqrt(n))


@pytest.mark.parametrize(("n", "share", "confidence", "k"), CELLS)
def test_the_tables_are_the_noncentral_t(n, share, confidence, k):
    """Not of our code: it shows that the numbers held against it below are right."""
    exact = noncentral_t(n, share).ppf(confidence) / math.sqrt(n)
    digits = 5e-6 if n == 43 else 5e-5
    assert exact == pytest.approx(k, abs=digits)
    recorded = values("tolerance", "normal")
    name = f"k_{n}_{round(100 * share)}_{round(100 * confidence)}"
    assert exact == pytest.approx(recorded[name], rel=1e-7)


@pytest.mark.parametrize(("n", "share", "confidence", "k"), CELLS)
def test_the_pivot_reproduces_the_factor(n, share, confidence, k):
    y = 6.0 + 0.2 * np.array(ndtri((np.arange(n) + 0.5) / n))
    load = np.exp(y)
    found = fit(load, load, LOGNORMAL)
    truths = plausible(make_sample(load, load), found, resamples=RESAMPLES, seed=11)
    bound = quantile_limit(truths, p=1.0 - share, confidence=confidence)
    got = (y.mean() - math.log(bound)) / y.std(ddof=1)
    density = math.sqrt(n) * noncentral_t(n, share).pdf(k * math.sqrt(n))
    error = math.sqrt(confidence * (1.0 - confidence) / RESAMPLES) / density
    assert got == pytest.approx(k, abs=4.0 * error)
    assert error < 0.01 * k
