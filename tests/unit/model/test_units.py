"""Units against sources outside the project."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants

from breakwright.model.units import NEWTONS_PER, ForceUnit, from_newtons, to_newtons


def test_factors_from_nist_sp_811() -> None:
    """NIST SP 811 (2008), appendix B.8: kilogram-force 9.806 65 exactly; pound-force 4.448 222,
    its footnote 23 giving 4.448 221 615 260 5 exactly (numbers from memory, so checked again
    below from the definitions)."""
    assert NEWTONS_PER[ForceUnit.KGF] == 9.80665
    assert round(NEWTONS_PER[ForceUnit.LBF], 6) == 4.448222
    assert NEWTONS_PER[ForceUnit.LBF] == 4.4482216152605


def test_factors_from_their_definitions() -> None:
    """The pound is 0.453 592 37 kg (agreement of 1959), standard gravity 9.806 65 m/s2 (CGPM
    1901); scipy.constants carries both forces on its own account."""
    assert NEWTONS_PER[ForceUnit.LBF] == pytest.approx(0.45359237 * 9.80665, rel=1e-15)
    assert NEWTONS_PER[ForceUnit.LBF] == pytest.approx(constants.pound_force, rel=1e-15)
    assert NEWTONS_PER[ForceUnit.KGF] == constants.kilogram_force
    assert NEWTONS_PER[ForceUnit.KN] == constants.kilo
    assert set(NEWTONS_PER) == set(ForceUnit)


@settings(derandomize=True, deadline=None)
@given(st.floats(0.0, 1e9), st.sampled_from(list(ForceUnit)))
def test_there_and_back(value: float, unit: ForceUnit) -> None:
    assert from_newtons(to_newtons(value, unit), unit) == pytest.approx(value, rel=1e-15)
