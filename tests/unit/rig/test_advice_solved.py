"""Advice: the equation turned round by hand, rounded outward, and gone when it is followed."""

import math
from dataclasses import replace

import pytest
from invented_kinds import CATALOGUE, bar, codes, peg, study

from breakwright.model.foresight import Expected
from breakwright.model.part import Part
from breakwright.rig.findings import WhyNot
from breakwright.usecases.rig import check_rig

GIVEN = Expected(median=4000.0, cv=0.2)
P99 = 4000.0 * math.exp(2.3263478740408408 * math.sqrt(math.log(1.04)))


def check(*parts, **more):
    return check_rig(study(*parts, **more), seed=3, draws=20_000, catalogue=CATALOGUE)


def by_key(result, part):
    return {a.key: a for a in result.advice if a.part == part}


def test_a_thin_bar_gets_the_width_of_two_and_a_half_times_the_strongest_piece():
    found = check(peg(), bar(20.0), expected=GIVEN)
    assert "part-weaker-than-piece" not in codes(found)  # 1.58: low, not danger
    assert "part-margin-low" in codes(found)
    advice = by_key(found, "bar")
    exact = 2.5 * P99 / 500.0  # 31.4 mm
    assert advice["width_mm"].then == math.ceil(exact)
    assert advice["width_mm"].direction == "up"
    assert advice["width_mm"].margin_before == pytest.approx(1e4 / P99)
    assert advice["width_mm"].margin_after == pytest.approx(500.0 * math.ceil(exact) / P99)
    assert "count" not in advice  # one bar is one by design


def test_two_bars_may_become_more():
    """Two of 10 mm bear what one of 20 mm does: 1.58 times the strongest piece; three 2.37, four
    3.16, and 2.5 is asked for."""
    advice = by_key(check(peg(), bar(10.0, count=2), expected=GIVEN), "bar")
    assert advice["count"].then == 4.0
    assert advice["count"].margin_after == pytest.approx(2e4 / P99)


def test_advice_that_is_followed_makes_the_warning_go():
    weak = bar(6.0)
    before = check(peg(), weak, expected=GIVEN)
    assert {"part-weaker-than-piece", "intended-not-first"} <= codes(before)
    then = by_key(before, "bar")["width_mm"]
    after = check(peg(), bar(then.then), expected=GIVEN)
    assert not codes(after) & {"part-weaker-than-piece", "part-margin-low", "intended-not-first"}
    assert after.advice == ()
    assert after.races[0].intended_chance == then.chance_after
    assert then.risk_after < 0.01 < then.risk_before


def test_a_rail_that_bends_first_gets_supports_nearer_or_a_higher_rail():
    long = peg(numbers={"span_mm": 500.0})
    before = check(long, expected=GIVEN)
    assert "intended-not-first" in codes(before)
    advice = by_key(before, "peg")
    span, height = advice["span_mm"], advice["height_mm"]
    assert (span.direction, height.direction) == ("down", "up")
    assert span.then % 5.0 == 0.0
    assert not span.changes_the_piece
    for key, one in (("span_mm", span), ("height_mm", height)):
        after = check(peg(numbers={"span_mm": 500.0} | {key: one.then}), expected=GIVEN)
        assert after.races[0].intended_chance >= 0.99
        assert after.races[0].intended_chance == pytest.approx(one.chance_after)
        assert after.advice == ()
    # Nearest to now: one step less far out is over the half per cent that advice aims under.
    short = check(peg(numbers={"span_mm": span.then + 5.0}), expected=GIVEN)
    assert short.races[0].intended_chance < 0.995 <= span.chance_after


def test_a_shallower_hole_changes_the_piece_and_that_is_said():
    advice = by_key(check(peg(numbers={"span_mm": 500.0}), expected=GIVEN), "peg")["depth_mm"]
    assert advice.direction == "down"
    assert advice.changes_the_piece


def test_what_the_study_compares_is_not_changed_by_advice():
    long = peg(
        numbers={"span_mm": 500.0},
        by_group={"wedged": {"depth_mm": 12.0}, "plain": {"depth_mm": 10.0}},
    )
    found = check(long, groups=("plain", "wedged"))
    assert "depth_mm" not in by_key(found, "peg")
    why = {n.key: n.why for n in found.no_advice}
    assert why["depth_mm"] is WhyNot.DIFFERS_BY_GROUP


def test_a_number_that_cannot_do_it_is_named_with_the_best_it_could():
    found = check(peg(), bar(1.0), expected=Expected(median=20_000.0, cv=0.2))
    missed = {n.key: n for n in found.no_advice}["width_mm"]
    assert missed.why is WhyNot.NO_VALUE
    # Farther than ten times is another rig: 10 mm x 500 N over the strongest piece.
    assert missed.best_margin == pytest.approx(5000.0 / (5.0 * P99))


def test_a_rating_is_not_to_be_passed_whatever_the_factor_behind_it():
    """6 kN rated, breaks at 24 kN: a margin of 3.8, but the strongest piece loads it beyond."""
    hook = Part("hook", "rated part", numbers={"rated_N": 6000.0})
    before = check(peg(), hook, expected=GIVEN)
    assert "rated-part-overloaded" in codes(before)
    assert not codes(before) & {"part-margin-low", "part-weaker-than-piece"}
    then = by_key(before, "hook")["rated_N"].then
    assert then == 6400.0  # P99 is 6.34 kN; two figures, outward
    assert "rated-part-overloaded" not in codes(
        check(peg(), replace(hook, numbers={"rated_N": then}), expected=GIVEN)
    )


def test_a_strong_rig_gets_no_advice_and_no_warning():
    found = check(peg(), bar(60.0), expected=GIVEN)
    assert found.advice == found.no_advice == ()
    assert not codes(found) & {"part-margin-low", "part-weaker-than-piece", "intended-not-first"}
