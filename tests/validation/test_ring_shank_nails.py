"""Skulteti, M. J., Bender, D. A., Winistorfer, S. G. & Pollock, D. G. (1997), Withdrawal strength
of ring-shank nails embedded in Southern Pine lumber, Transactions of the ASAE 40(2), 451-456,
doi 10.13031/2013.21272 (title's wording from memory).

Read in a copy of the abstract: 'Ring-shank nails had approximately twice the withdrawal
resistance of smooth-shank nails of the same diameter.' It is the one outside result found for the
equation of annular nails besides its coefficient; the number has one digit, and so has the check.
"""

import pytest

from breakwright.strength.density import ovendry_gravity
from breakwright.strength.withdrawal import annular_nail, smooth_nail

# Specific gravity at 12 % of loblolly and longleaf pine, the lightest and heaviest southern pine:
# USDA FPL-GTR-190 (2010), Table 5-3a.
SOUTHERN_PINE = (0.51, 0.59)


@pytest.mark.parametrize("gravity", SOUTHERN_PINE)
def test_twice_a_smooth_nail_in_southern_pine(gravity):
    sizes = {"diameter": 4.5, "penetration": 60.0}
    ratio = annular_nail(ovendry_gravity(gravity), **sizes) / smooth_nail(gravity, **sizes)
    assert round(float(ratio)) == 2
    assert ratio == pytest.approx(2.0, rel=0.15)
