"""The loops that ``make bench`` times must do the same work as the engine they are set beside.

lifelines, surpyval and scipy.stats through ``benchmarks/peers.py``; no time is asserted.
"""

import importlib.util
import sys
from pathlib import Path

import numpy as np
import pytest
from r_recorded import FAMILY
from random_readings import capped, mixed

from breakwright.stats.fit import fit


def load_peers():
    path = Path(__file__).parents[2] / "benchmarks" / "peers.py"
    spec = importlib.util.spec_from_file_location("peers_under_test", path)
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # dataclasses look their module up
    spec.loader.exec_module(module)
    return module


PEERS = load_peers()
SETS = {
    "capped": [capped(201 + i, n=10, share=0.3) for i in range(2)],
    "mixed": [mixed(211 + i, n=10) for i in range(2)],
}


@pytest.mark.parametrize("loop", PEERS.PEERS, ids=lambda loop: loop.__name__)
@pytest.mark.parametrize("name", ["lognormal", "weibull", "loglogistic"])
@pytest.mark.parametrize("kind", SETS)
def test_same_estimates(loop, name, kind):
    readings = SETS[kind]
    samples = PEERS.Resamples(
        np.stack([r.lower for r in readings]), np.stack([r.upper for r in readings]), name
    )
    run = loop(samples)
    ours = [fit(r.lower, r.upper, FAMILY[name]) for r in readings]
    assert list(run.mu) == pytest.approx([f.mu for f in ours], abs=1e-4)
    assert list(run.sigma) == pytest.approx([f.sigma for f in ours], rel=5e-4)
    assert run.seconds > 0.0


@pytest.mark.parametrize("loop", [PEERS.lifelines_loop, PEERS.surpyval_loop])
def test_a_failed_fit_is_a_hole_not_an_estimate(loop):
    """Negative loads, which these two refuse for a lognormal (scipy answers, with nonsense)."""
    good, bad = capped(221, n=6, share=0.3), capped(222, n=6, share=0.3)
    broken = np.where(bad.exact, -bad.lower, bad.lower)
    run = loop(
        PEERS.Resamples(
            np.stack([good.lower, broken]),
            np.stack([good.upper, np.where(bad.exact, broken, bad.upper)]),
            "lognormal",
        )
    )
    assert np.isfinite(run.mu[0])
    assert not np.isfinite(run.mu[1])
