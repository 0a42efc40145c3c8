"""Holm's adjustment as R 4.2.2's ``p.adjust(p, "holm")`` gives it; ``r/check_values.R``.

Holm, S. (1979), A simple sequentially rejective multiple test procedure, Scandinavian Journal
of Statistics 6, 65-70.
"""

import pytest
from r_recorded import values

from breakwright.stats.holm import holm


@pytest.mark.parametrize("case", ["1", "2", "3"])
def test_adjusted_p_values(case):
    recorded = values("holm", case)
    count = len(recorded) // 2
    p = [recorded[f"p_{i}"] for i in range(1, count + 1)]
    expected = [recorded[f"adjusted_{i}"] for i in range(1, count + 1)]
    assert [step.adjusted for step in holm(p, error=0.05)] == pytest.approx(expected, rel=1e-12)
