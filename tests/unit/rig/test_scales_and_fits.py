"""Scales by hand: when they run out, what eats their range, what to buy, which piece fits."""

import math
from statistics import NormalDist

import pytest
from invented_kinds import CATALOGUE, bar, codes, peg, study

from breakwright.model.foresight import Expected, Layout, Wish
from breakwright.model.instrument import Instrument, KnownWeight
from breakwright.model.trial import Sharing
from breakwright.rig.scale_findings import FitMiss, How, ShareOrigin
from breakwright.usecases.rig import check_rig
from breakwright.usecases.scales import check_scales

GIVEN = Expected(median=4000.0, cv=0.2)
SIGMA = math.sqrt(math.log(1.04))


def check(*scales, parts=None, offers=(), expected=GIVEN, **more):
    made = study(
        *(parts if parts is not None else (peg(), bar(60.0))),
        instruments=scales,
        expected=expected,
        **more,
    )
    rig = check_rig(made, seed=3, draws=5000, catalogue=CATALOGUE)
    return check_scales(made, rig, seed=3, draws=5000, offers=offers, catalogue=CATALOGUE)


def above(load, median=4000.0):
    return 1.0 - NormalDist().cdf(math.log(load / median) / SIGMA)


def test_one_scale_runs_out_at_its_capacity_less_tare_and_half_a_step():
    scale = Instrument("one", capacity=5000.0, tare=300.0, resolution=20.0)
    found = check(scale, wish=Wish(pieces=12))
    (only,) = found.sets
    assert only.how is How.ALONE
    assert found.limit == only.limit == pytest.approx(4690.0)
    (group,) = only.groups
    assert group.chance == pytest.approx(above(4690.0))
    assert group.expected == pytest.approx(12 * above(4690.0))
    assert group.chance_unverified is None
    assert "scale-too-small" in codes(found)
    assert {"never-checked", "peak-may-be-missed"} <= codes(found)
    assert only.limit_if_two == pytest.approx(4690.0 / 0.54)


def test_a_lever_and_its_friction_are_a_range():
    scale = Instrument("one", capacity=1000.0, factor=(4.5, 5.0))
    only = check(scale).sets[0]
    assert (only.limit, only.limit_high) == (pytest.approx(4500.0), pytest.approx(5000.0))
    assert only.groups[0].chance == pytest.approx(above(4500.0))
    assert only.groups[0].chance_low == pytest.approx(above(5000.0))
    assert only.relative_width == pytest.approx(0.5 / 9.5)
    assert "rig-factor-wide" in codes(check(scale))


def test_the_checks_move_the_limit_and_say_how_far_they_reach():
    """400 N shown as 404 N, exactly known: the factor is 0.990; checked up to 400 N only."""
    scale = Instrument("one", capacity=5000.0, weights=(KnownWeight(400.0, 404.0),))
    found = check(scale)
    assert found.limit == pytest.approx(5000.0 * 400.0 / 404.0)
    (group,) = found.sets[0].groups
    assert group.chance_unverified == pytest.approx(above(400.0))
    assert "unverified-range" in codes(found)


def test_two_scales_off_centre_run_out_before_their_sum():
    """540 of 1000 mm: 46 and 54 %; the sum of 2 x 2500 N cannot be reached there."""
    pair = [Instrument(n, capacity=2500.0) for n in ("left", "right")]
    found = check(*pair, layout=Layout({"left": 0.0, "right": 1000.0}, load_at=540.0))
    (both,) = found.sets
    assert both.origin is ShareOrigin.STATICS
    assert both.first_out == "right"
    assert both.limit == pytest.approx(2500.0 / 0.54)
    assert both.sum_capacity == 5000.0
    assert (both.best_at, both.best_limit) == (pytest.approx(500.0), pytest.approx(5000.0))
    assert both.doubled_error == pytest.approx(0.08)
    assert {"off-centre", "one-scale-doubled"} <= codes(found)


def test_the_wander_of_the_load_makes_the_shares_a_range():
    pair = [Instrument(n, capacity=2500.0) for n in ("left", "right")]
    layout = Layout({"left": 0.0, "right": 1000.0}, load_at=500.0, wander=40.0)
    (both,) = check(*pair, layout=layout).sets
    assert both.scales[0].share == pytest.approx((0.46, 0.50, 0.54))
    assert both.limit == pytest.approx(2500.0 / 0.54)
    assert both.best_limit == pytest.approx(both.limit)
    assert both.limit_high == pytest.approx(2500.0 / 0.46)


def test_what_to_buy_is_the_quantile_its_share_and_the_tare():
    pair = [Instrument(n, capacity=2500.0, tare=100.0) for n in ("left", "right")]
    layout = Layout({"left": 0.0, "right": 1000.0}, load_at=540.0)
    found = check(*pair, layout=layout, offers=(6000.0, 3000.0, 4000.0))
    one, ten = found.sets[0].buy
    p99 = 4000.0 * math.exp(NormalDist().inv_cdf(0.99) * SIGMA)
    p90 = 4000.0 * math.exp(NormalDist().inv_cdf(0.90) * SIGMA)
    assert one.each == pytest.approx((0.46 * p99 + 100.0, 0.54 * p99 + 100.0))
    assert one.offer == 4000.0  # 3.52 kN needed
    assert ten.each[1] == pytest.approx(0.54 * p90 + 100.0)
    assert ten.offer == 3000.0  # 2.88 kN needed
    assert found.buy_one[0].each == pytest.approx((p99,))
    assert found.buy_one[0].offer is None  # 6.3 kN needed, 6 kN is the largest named


def test_a_bought_scale_keeps_its_promise():
    """The capacity for 1 %, put in, leaves 1 % out of range, tare, step and lever and all."""
    small = Instrument("one", capacity=900.0, tare=50.0, resolution=10.0, factor=(4.0, 4.4))
    need = check(small).sets[0].buy[0].each[0]
    bought = Instrument("one", capacity=need, tare=50.0, resolution=10.0, factor=(4.0, 4.4))
    found = check(bought)
    assert found.sets[0].groups[0].chance == pytest.approx(0.01)


def test_the_strongest_group_decides_what_to_buy():
    scale = Instrument("one", capacity=5000.0)
    found = check(scale, groups=("plain", "wedged"), worth=1.5)
    assert found.sets[0].buy[0].group == "wedged"
    assert [g.chance for g in found.sets[0].groups] == pytest.approx(
        [above(5000.0), above(5000.0, 6000.0)]
    )


def test_three_in_a_line_are_a_range_and_unknown_places_an_assumption():
    three = [Instrument(n, capacity=2500.0) for n in "abc"]
    placed = Layout({"a": 0.0, "b": 500.0, "c": 1000.0}, load_at=500.0)
    found = check(*three, layout=placed)
    assert found.sets[0].origin is ShareOrigin.RANGE
    assert found.sets[0].scales[1].share == pytest.approx((0.0, 1.0 / 3.0, 1.0))
    assert found.limit == pytest.approx(2500.0)
    assert found.sets[0].best_at == pytest.approx(500.0)
    assert found.sets[0].best_limit == pytest.approx(7500.0)
    assert "shares-not-known" in codes(found)
    assumed = check(*three, sharing=Sharing.SAME_MOMENT)
    assert assumed.sets[0].origin is ShareOrigin.EQUAL
    assert "shares-assumed-equal" in codes(assumed)


def test_scales_of_which_nobody_says_how_they_share_stand_alone():
    pair = [Instrument("small", capacity=2500.0), Instrument("large", capacity=9000.0)]
    found = check(*pair)
    assert [s.how for s in found.sets] == [How.ALONE, How.ALONE]
    assert found.sets[found.main].scales[0].name == "large"
    assert "sharing-not-stated" in codes(found)


def test_no_scale_and_no_capacity_are_said_and_what_to_buy_is_still_told():
    none = check()
    assert (none.main, none.limit, none.sets) == (None, None, ())
    assert "no-scale" in codes(none)
    assert len(none.buy_one) == 2
    unknown = check(Instrument("one"))
    assert unknown.limit is None
    assert unknown.sets[0].groups[0].chance is None
    assert "capacity-not-stated" in codes(unknown)
    assert check(expected=Expected(), parts=()).buy_one == ()


def test_a_load_outside_the_scales_is_pointed_out():
    pair = [Instrument(n, capacity=2500.0) for n in ("left", "right")]
    found = check(*pair, layout=Layout({"left": 0.0, "right": 100.0}, load_at=120.0))
    assert "load-outside-supports" in codes(found)


def test_missed_at_the_peak_and_coarse_steps():
    scale = Instrument("one", capacity=9000.0, refresh=0.5, resolution=100.0)
    found = check(scale, layout=Layout(rate=200.0))
    assert found.sets[0].missed == pytest.approx(100.0)
    assert {"missed-at-peak", "coarse-display"} <= codes(found)


def test_the_piece_that_fits_is_the_depth_solved_by_hand():
    """In range with 99 %: depth <= 10 x limit/P99; whole mm, and the rail still holds."""
    found = check(Instrument("one", capacity=4000.0))
    fits = {(f.key, f.chance): f for f in found.fitting}
    assert {k for k, _ in fits} == {"depth_mm"}
    p99 = 4000.0 * math.exp(NormalDist().inv_cdf(0.99) * SIGMA)
    p90 = 4000.0 * math.exp(NormalDist().inv_cdf(0.90) * SIGMA)
    deep = fits["depth_mm", 0.99]
    assert deep.then == math.floor(10.0 * 4000.0 / p99)
    assert deep.direction == "down"
    assert deep.in_range >= 0.99
    assert deep.intended_chance >= 0.9
    assert deep.median == pytest.approx(400.0 * deep.then)
    assert fits["depth_mm", 0.90].then == math.floor(10.0 * 4000.0 / p90)


def test_a_piece_that_fits_already_stays_as_it_is():
    found = check(Instrument("one", capacity=40_000.0))
    assert [(f.then, f.direction) for f in found.fitting] == [(10.0, None), (10.0, None)]


def test_no_piece_fits_where_it_would_break_otherwise():
    """The bar snaps at 300 N; a peg of the least depth allowed, 2 mm, still holds 800 N."""
    weak = (peg(), bar(1.0, numbers={"width_mm": 1.0, "pull_MPa": 300.0}))
    found = check(Instrument("one", capacity=4000.0), parts=weak)
    assert {f.why for f in found.fitting} == {FitMiss.BREAKS_OTHERWISE}
    assert "no-piece-fits" in codes(found)


def test_what_the_study_compares_is_not_changed_to_fit():
    both = peg(by_group={"wedged": {"depth_mm": 14.0}})
    found = check(
        Instrument("one", capacity=4000.0), parts=(both, bar(60.0)), groups=("plain", "wedged")
    )
    assert {f.why for f in found.fitting} == {FitMiss.DIFFERS_BY_GROUP}


def test_a_tare_that_eats_the_whole_range_leaves_nothing_to_read():
    pair = [Instrument(n, capacity=100.0, tare=99.0, resolution=5.0) for n in ("left", "right")]
    found = check(*pair, layout=Layout({"left": 0.0, "right": 500.0}))
    assert found.limit == 0.0
    assert found.sets[0].groups[0].chance == 1.0
    assert found.sets[0].best_at is None
    assert {"tare-eats-range", "scale-too-small", "no-piece-fits"} <= codes(found)
