import math

import numpy as np
import pytest

from breakwright.strength.own_tests import from_own_tests, next_piece_factor, own_tests_problem
from breakwright.strength.trust import Trust


@pytest.mark.parametrize(
    ("n", "printed"),
    [(3, 3.372), (4, 2.631), (5, 2.335), (6, 2.177), (8, 2.010), (10, 1.923), (20, 1.772),
     (30, 1.727), (50, 1.693)],
)  # fmt: skip
def test_factor_against_en_1990(n: int, printed: float) -> None:
    """EN 1990 Annex D, k_n for an unknown coefficient of variation (recomputed, not read)."""
    assert float(next_piece_factor(np.asarray(float(n)))) == pytest.approx(printed, abs=0.0006)


def test_median_and_ends() -> None:
    own = (4610.0, 5230.0, 4020.0, 5600.0, 4750.0)
    found = from_own_tests("hinge", own, "pin shears")
    logs = [math.log(x) for x in own]
    mean = sum(logs) / 5
    s = math.sqrt(sum((x - mean) ** 2 for x in logs) / 4)
    assert found.median == pytest.approx(math.exp(mean))
    assert found.p5 == pytest.approx(math.exp(mean - 2.335 * s), rel=2e-4)
    assert found.p95 == pytest.approx(math.exp(mean + 2.335 * s), rel=2e-4)
    assert (found.mechanism, found.calibrated_on) == ("pin shears", 5)
    assert 0.0 < found.model_share < 1.0


def test_the_next_piece_falls_within_the_ends_nine_times_in_ten() -> None:
    rng = np.random.default_rng(7)
    inside = 0
    for _ in range(2000):
        *own, following = np.exp(rng.normal(8.0, 0.25, size=5))
        found = from_own_tests("x", tuple(own), None)
        inside += found.p5 <= following <= found.p95
    # 90 % of 2000, three standard errors.
    assert inside == pytest.approx(1800, abs=41)


def test_few_alike_tests_claim_no_certainty() -> None:
    found = from_own_tests("x", (5000.0, 5000.0, 5000.0), None)
    assert found.sigma == pytest.approx(0.05 * 3.372 / 1.6449, rel=1e-3)
    assert found.trust is Trust.GOOD


def test_wide_tests_are_an_order_of_magnitude() -> None:
    assert from_own_tests("x", (2000.0, 5000.0, 9000.0), None).trust is Trust.ORDER


@pytest.mark.parametrize("own", [(), (5000.0,), (5000.0, 5100.0)])
def test_fewer_than_three_are_refused(own: tuple[float, ...]) -> None:
    assert "at least three" in (own_tests_problem(own) or "")
    with pytest.raises(ValueError, match="at least three"):
        from_own_tests("x", own, None)
