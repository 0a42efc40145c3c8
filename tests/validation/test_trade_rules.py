"""Rules of the trade, each 'common practice, no source', held against the numbers of the house.

They are no standards. A test here fails where a number of ours and the rule part ways.
"""

import math

import numpy as np
import pytest

from breakwright.model.part import Part
from breakwright.strength.nds_withdrawal import (
    lag_screw_allowable,
    nail_allowable,
    wood_screw_allowable,
)
from breakwright.strength.part_problems import part_problems
from breakwright.strength.tapped import engagement_fade
from breakwright.strength.thread_names import find_thread
from breakwright.strength.threads import engagement_percent
from breakwright.strength.withdrawal import lag_screw, smooth_nail, wood_screw


def test_drill_a_5_16_18_hole_a_quarter_inch_for_wood() -> None:
    """Common practice, no source: wood takes a fuller thread than the 75 % usual in metal."""
    thread = find_thread("5/16-18")
    percent = float(engagement_percent(thread.diameter_mm, thread.pitch_mm, 0.25 * 25.4))
    # By hand: (5/16 - 1/4) * 18/1.299 = 0.866 of a full thread.
    assert percent == pytest.approx(86.6, abs=0.05)
    assert float(engagement_fade(percent)) == 1.0
    plate = Part(
        name="jaw",
        kind="tapped plate",
        numbers={"hole_mm": 0.25 * 25.4, "thickness_mm": 18.0, "strip_MPa": 9.5},
        words={"thread": "5/16-18", "supports": "all round"},
    )
    assert part_problems(plate) == ()


def test_a_hole_that_is_too_large_or_too_small_is_told() -> None:
    """Common practice, no source: a 5/16 hole has no thread left, a 7/32 one breaks the tap."""
    for hole, said in ((5 / 16, "no thread to pull on"), (7 / 32, "no tap cuts it")):
        plate = Part(
            name="jaw",
            kind="tapped plate",
            numbers={"hole_mm": hole * 25.4, "thickness_mm": 18.0, "strip_MPa": 9.5},
            words={"thread": "5/16-18", "supports": "all round"},
        )
        assert [said in problem.message for problem in part_problems(plate)] == [True]


def low_end_over_true(n: int) -> float:
    """Characteristic value of n pieces over the true 5 % point, CV 20 %, 75 % confidence.

    k is the noncentral t of EN 14358's definition, the sample standard deviation at its mean.
    """
    from scipy.stats import nct

    root = math.sqrt(n)
    k = nct.ppf(0.75, n - 1, 1.6448536269514722 * root) / root
    return math.exp(-(k - 1.6448536269514722) * 0.2)


def test_at_least_ten_pieces_for_a_characteristic_value() -> None:
    """Common practice, no source: with ten the price of few pieces is below a tenth; three to
    five pieces, good for ranking only, cost 15 to 26 %."""
    assert low_end_over_true(10) > 0.90
    assert low_end_over_true(9) < low_end_over_true(10)
    assert low_end_over_true(3) == pytest.approx(0.740, abs=0.001)
    assert 0.84 < low_end_over_true(5) < 0.86


@pytest.mark.parametrize(
    ("mean", "allowable", "ratio"),
    [(lag_screw, lag_screw_allowable, 4.5), (wood_screw, wood_screw_allowable, 5.5)],
)
def test_average_over_four_to_six_for_a_working_load(mean, allowable, ratio) -> None:  # type: ignore[no-untyped-def]
    """Common practice, no source: the handbook's means over the code's allowable loads."""
    gravity, size = np.asarray(0.5), np.asarray(7.94)
    average = mean(gravity, diameter=size, thread_length=np.asarray(1.0))
    found = float(average / allowable(gravity, diameter=size))
    assert found == pytest.approx(ratio, abs=0.05)
    assert 4.0 <= found <= 6.0


def test_nails_lie_in_the_same_range() -> None:
    gravity, size = np.asarray(0.5), np.asarray(4.11)
    average = smooth_nail(gravity, diameter=size, penetration=np.asarray(1.0))
    found = float(average / nail_allowable(gravity, diameter=size))
    assert found == pytest.approx(5.7, abs=0.05)
