import numpy as np
import pytest

from breakwright.strength.dowels import dowel_withdrawal
from breakwright.strength.glue import UnknownGlue, end_peak, find_glue
from breakwright.strength.posts import euler_load, post_load, ylinen_factor

PIECES = {
    "thickness_mm": 10.0,
    "other_thickness_mm": 10.0,
    "moe_MPa": 12_600.0,
    "other_moe_MPa": 12_600.0,
}


def test_a_short_or_soft_lap_has_no_peak() -> None:
    assert float(end_peak(0.1, **PIECES, glue_stiffness_N_mm3=1e4)) == pytest.approx(1.0, abs=1e-3)
    assert float(end_peak(25.0, **PIECES, glue_stiffness_N_mm3=1.0)) == pytest.approx(1.0, abs=1e-2)


def test_a_long_lap_holds_no_more_by_its_ends() -> None:
    """Load by the ends goes with l/q, which tends to 2/w: longer laps gain nothing."""
    lengths = np.array([25.0, 50.0, 100.0])
    loads = lengths / end_peak(lengths, **PIECES, glue_stiffness_N_mm3=1e4)
    assert loads == pytest.approx(loads[-1], rel=1e-3)
    assert loads[-1] == pytest.approx(2.0 / np.sqrt(1e4 * 2.0 / 126_000.0), rel=1e-6)


def test_an_unknown_glue_is_told() -> None:
    with pytest.raises(UnknownGlue, match="'epoxi'") as caught:
        find_glue("epoxi")
    assert "epoxy" in caught.value.nearest


def test_a_dowel_in_arrays_and_its_factors() -> None:
    plain = dowel_withdrawal(np.array([8.0, 10.0]), 30.0, 13.8, 13.9, 1.0)
    assert plain[1] / plain[0] == pytest.approx(1.25)
    assert dowel_withdrawal(8.0, 30.0, 13.8, 13.9, 0.9) == pytest.approx(0.9 * plain[0])


def test_ylinen_between_its_ends() -> None:
    ratio = np.array([1e-3, 0.5, 1.0, 5.0, 1e3])
    factor = ylinen_factor(ratio, 0.8)
    assert (np.diff(factor) > 0.0).all()
    assert (factor <= np.minimum(ratio, 1.0)).all()
    assert factor[0] == pytest.approx(1e-3, rel=1e-3)
    assert factor[-1] == pytest.approx(1.0, abs=1e-3)


def test_slender_posts_buckle_and_stubby_ones_crush() -> None:
    side = {"width_mm": 38.0, "depth_mm": 89.0}
    slender = float(post_load(49.9, 13_400.0, **side, buckling_mm=4000.0))
    euler = float(euler_load(13_400.0, **side, buckling_mm=4000.0))
    assert slender == pytest.approx(euler, rel=0.01)
    stubby = float(post_load(49.9, 13_400.0, **side, buckling_mm=50.0))
    assert stubby == pytest.approx(49.9 * 38.0 * 89.0, rel=0.01)
