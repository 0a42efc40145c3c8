"""The weakest link of an invented rig: margins by hand, what is shared, what a change changes."""

import math
from dataclasses import replace

import pytest
from invented_kinds import CATALOGUE, bar, peg, study

from breakwright.model.foresight import Expected
from breakwright.rig.contenders import covariance
from breakwright.rig.findings import Level, Method
from breakwright.rig.look import look_at, with_part
from breakwright.rig.margins import margins_of
from breakwright.rig.weakest import Draws, race

GIVEN = Expected(median=4000.0, cv=0.2)


def test_a_margin_is_the_median_over_the_strongest_piece_of_the_strongest_group():
    look = look_at(
        study(peg(), bar(30.0), groups=("plain", "wedged"), worth=1.25, expected=GIVEN), CATALOGUE
    )
    rig = next(m for m in margins_of(look) if m.part == "bar")
    # 15 kN over 4 kN x 1.25 x exp(2.3263 x sqrt(ln 1.04))
    strongest = 5000.0 * math.exp(2.3263478740408408 * math.sqrt(math.log(1.04)))
    assert rig.strongest_group == "wedged"
    assert rig.strongest_piece == pytest.approx(strongest)
    assert rig.margin == pytest.approx(15000.0 / strongest)
    assert rig.margin_characteristic == pytest.approx(rig.p5 / strongest)
    assert rig.level is Level.LOW
    assert rig.chance_group == "wedged"


def test_the_share_of_a_piece_is_in_the_margin():
    one = margins_of(look_at(study(peg(), bar(30.0), expected=GIVEN), CATALOGUE))[-1]
    two = margins_of(look_at(study(peg(), bar(30.0, count=2), expected=GIVEN), CATALOGUE))[-1]
    uneven = bar(30.0, count=2, share=(0.4, 0.6))
    worse = margins_of(look_at(study(peg(), uneven, expected=GIVEN), CATALOGUE))[-1]
    assert two.margin == pytest.approx(2.0 * one.margin)
    assert worse.margin == pytest.approx(one.margin / 0.6)


def test_another_way_of_the_piece_is_judged_by_its_chance():
    look = look_at(study(peg(), expected=GIVEN), CATALOGUE)
    (own,) = margins_of(look)
    assert own.level is Level.OWN
    assert own.tested
    found = race("plain", look.contenders("plain"), Draws(1, 1000))
    assert found.method is Method.CLOSED_FORM
    assert own.chance_before == pytest.approx(1.0 - found.intended_chance)


def test_two_ways_of_one_part_share_what_both_depend_on_and_parts_share_nothing():
    both = peg(spread={"depth_mm": 0.1})
    # Make the rail depend on the depth as well, the other way round.
    kind = CATALOGUE.kinds["peg"]
    bends = replace(
        kind.mechanisms[1],
        load=lambda v: 4e4 * v["mor_MPa"] / v["depth_mm"],
        needs=("mor_MPa", "depth_mm"),
    )
    pulls = CATALOGUE.predictions(both, None)[0]
    from breakwright.rig.contenders import contender_of
    from breakwright.strength.predict import predict

    one = contender_of(pulls, intended=True)
    other = contender_of(predict(bends, CATALOGUE.resolve(both, None)), intended=False)
    assert covariance(one, other) == pytest.approx(-math.log1p(0.1**2))
    look = look_at(study(peg(), bar(30.0)), CATALOGUE)
    asked, rail, rig = look.contenders("plain")
    assert covariance(asked, rail) == 0.0
    assert covariance(asked, rig) == 0.0
    assert asked.sigma == pytest.approx(look.pieces["plain"].sigma)


def test_without_a_marked_way_the_weakest_is_taken_and_said_so():
    look = look_at(study(peg(breaks=None)), CATALOGUE)
    assert (look.intended, look.taken) == (None, "pulls out")
    assert race("plain", look.contenders("plain"), Draws(1, 1000)).intended_chance is None


def test_the_only_way_of_the_piece_needs_no_mark():
    look = look_at(study(bar(10.0, tested=True)), CATALOGUE)
    assert (look.intended, look.taken) == ("snaps", None)


def test_an_expected_median_alone_races_against_the_rig():
    look = look_at(study(bar(10.0), expected=Expected(median=4000.0, cv=0.2)), CATALOGUE)
    found = race("plain", look.contenders("plain"), Draws(1, 1000))
    assert [w.part for w in found.ways if w.intended] == ["piece under test"]
    assert found.intended_chance == pytest.approx(0.78, abs=0.05)


def test_a_tried_change_scales_what_the_person_said_by_the_equation():
    look = look_at(study(peg(), expected=Expected(median=3000.0, cv=0.2)), CATALOGUE)
    deeper = replace(peg(), by_group={"plain": {"depth_mm": 15.0}})
    assert with_part(look, deeper).pieces["plain"].median == pytest.approx(4500.0)
