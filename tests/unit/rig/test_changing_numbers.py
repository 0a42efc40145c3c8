"""Which numbers may be changed, and how they are rounded."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from invented_kinds import CATALOGUE, PEG, bar, peg

from breakwright.rig.changing import (
    Change,
    changed_part,
    changes_of,
    group_of,
    rounded_outward,
    steps_towards,
)
from breakwright.rig.solving import solve

SPAN = Change("span_mm", "", "mm", 250.0, 20.0, 600.0, False)


def test_properties_of_the_material_are_no_choice_and_the_piece_has_no_count():
    found = changes_of(peg(), PEG, CATALOGUE.resolve(peg(), None), ("glue_MPa", "depth_mm"))
    assert [c.key for c in found] == ["depth_mm"]
    for count, offered in ((1, []), (2, ["count"])):
        part = bar(9.0, count=count)
        known = CATALOGUE.resolve(part, None)
        assert [c.key for c in changes_of(part, CATALOGUE.kinds["bar"], known, ())] == offered


def test_more_of_them_share_the_load_in_the_same_proportion():
    found = changed_part(bar(9.0, count=2, share=(0.4, 0.6)), "count", 4.0, groups=())
    assert found.count == 4
    assert found.share == pytest.approx((0.2, 0.3))


def test_own_tests_stay_tests_of_the_part_as_it_was():
    tested = bar(9.0, own_tests=(4000.0,))
    found = changed_part(tested, "width_mm", 12.0, groups=("plain",))
    assert found.numbers == tested.numbers
    assert found.by_group[group_of(found)] == {"width_mm": 12.0}
    more = changed_part(tested, "count", 3.0, groups=("plain",))
    assert more.by_group[group_of(more)] == {"count": 3.0}
    plain = changed_part(bar(9.0), "width_mm", 12.0, groups=("plain",))
    assert (plain.numbers["width_mm"], group_of(plain)) == (12.0, None)


@given(
    st.floats(0.2, 500.0),
    st.booleans(),
)
def test_rounding_goes_outward_and_stays_within_what_is_allowed(value, up):
    change = Change("x_mm", "", "mm", 250.0, 0.1, 600.0, False)
    nice = rounded_outward(value, up=up, change=change)
    assert 0.1 <= nice <= 600.0
    assert nice >= value - 1e-6 if up else nice <= value + 1e-6
    assert abs(nice - value) <= 5.0


def test_steps_go_no_farther_than_ten_times_and_no_farther_than_allowed():
    assert steps_towards(SPAN, up=True)[-1] == 600.0
    assert steps_towards(SPAN, up=False)[-1] == pytest.approx(25.0)


def test_a_hole_in_the_good_range_does_not_fool_the_search():
    """Good only from 130 to 140 mm: found, though rounding outward must stay inside."""
    assert solve(SPAN, lambda v: 128.0 <= v <= 141.0, up=False) == 140.0
    narrow = solve(SPAN, lambda v: 136.6 <= v <= 138.4, up=False)
    assert narrow is None or 136.6 <= narrow <= 138.4
    assert solve(SPAN, lambda v: False, up=True) is None
