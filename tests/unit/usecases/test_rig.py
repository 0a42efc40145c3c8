"""The check of a rig with the real equations: what it catches, and that its advice cures it."""

import dataclasses
import json
from dataclasses import replace

import pytest

from breakwright.model.foresight import Expected, Layout
from breakwright.model.part import Part
from breakwright.model.study import Study
from breakwright.rig.findings import Level
from breakwright.strength.resolve import PartRefused, part_problems, predictions
from breakwright.usecases.rig import check_rig

PLATE = Part(
    "plate",
    "tapped plate",
    numbers={"thickness_mm": 18.0, "width_mm": 100.0, "span_mm": 300.0, "hole_mm": 6.8},
    words={"material": "birch plywood", "thread": "M8"},
    tested=True,
    breaks="thread strips",
)
BEAM = Part(
    "beam",
    "beam",
    numbers={"width_mm": 38.0, "depth_mm": 30.0, "span_mm": 500.0},
    words={"material": "douglas fir"},
)
BOLT = Part("bolt", "bolt", words={"thread": "M8", "grade": "4.6"})
ENDS = Part(
    "beam ends",
    "screwed joint",
    numbers={
        "side_thickness_mm": 38.0,
        "penetration_mm": 40.0,
        "thread_length_mm": 40.0,
        "diameter_mm": 6.0,
        "head_mm": 12.0,
    },
    words={"material": "douglas fir", "side_material": "douglas fir"},
    count=4,
)
EXPECTED = Expected(median=2600.0, cv=0.2)


def study(*parts, **more):
    more.setdefault("expected", EXPECTED)
    return Study((), ("plain", "hardened"), "plain", parts=parts, worth=1.15, **more)


def check(*parts, draws=20_000, **more):
    return check_rig(study(*parts, **more), seed=7, draws=draws)


def codes(result):
    return {n.code for n in result.notices}


def follow(parts, result):
    """Every weak part changed by its first advice that leaves nothing: as a person would."""
    done = []
    for part in parts:
        first = next((a for a in result.advice if a.part == part.name and not a.leaves), None)
        if first is None:
            done.append(part)
        elif first.key == "count":
            done.append(replace(part, count=round(first.then)))
        elif first.key == "thread":
            named = first.meaning.split(" instead")[0]
            done.append(replace(part, words={**part.words, "thread": named}))
        else:
            done.append(replace(part, numbers={**part.numbers, first.key: first.then}))
    return done


def test_the_parts_of_these_tests_are_sound():
    assert [p for part in (PLATE, BEAM, BOLT, ENDS) for p in part_problems(part)] == []


def test_advice_followed_part_by_part_makes_the_warnings_go():
    parts = [PLATE, BEAM, BOLT, ENDS]
    before = check(*parts)
    red = {"part-weaker-than-piece", "part-margin-low", "intended-not-first"}
    assert codes(before) >= red
    assert {a.part for a in before.advice} == {"plate", "beam", "bolt", "beam ends"}
    after = check(*follow(parts, before))
    assert not codes(after) & red
    assert after.advice == after.no_advice == ()
    assert min(r.intended_chance for r in after.races) >= 0.99
    assert all(m.level in (Level.ENOUGH, Level.OWN) for m in after.margins)


def test_each_advice_is_what_a_new_check_of_the_changed_part_finds():
    before = check(PLATE, BEAM)
    for advice in before.advice:
        if advice.part != "beam" or advice.key == "count":
            continue
        changed = replace(BEAM, numbers={**BEAM.numbers, advice.key: advice.then})
        after = check(PLATE, changed)
        weakest = min(m.margin for m in after.margins if m.part == "beam")
        assert weakest == pytest.approx(advice.margin_after)
        assert weakest >= 2.5
        assert min(r.intended_chance for r in after.races) == advice.chance_after


def test_a_thicker_bolt_is_advised_by_its_name():
    advice = {a.key: a for a in check(PLATE, BOLT).advice if a.part == "bolt"}["thread"]
    assert advice.meaning == "M10 instead of M8"
    assert (advice.now, advice.then, advice.unit) == (8.0, 10.0, "mm")


def test_chances_add_up_and_the_strongest_group_is_the_one_worth_knowing():
    found = check(PLATE, BEAM, BOLT)
    for race in found.races:
        assert sum(w.chance for w in race.ways) == pytest.approx(1.0)
        assert next(w for w in race.ways if w.intended).chance == race.intended_chance
    assert {m.strongest_group for m in found.margins} == {"hardened"}
    assert found.pieces[1].median == pytest.approx(1.15 * 2600.0)


def test_an_order_of_magnitude_asks_for_three_pilots_and_pilots_answer():
    unknown = check(PLATE, expected=Expected())
    assert "break-three-first" in codes(unknown)
    known = check(PLATE, expected=Expected(pilots=(2500.0, 2700.0, 2600.0)))
    assert "break-three-first" not in codes(known)
    assert known.pieces[0].calibrated_on == 3
    assert known.pieces[0].sigma < unknown.pieces[0].sigma


def test_the_frame_names_what_has_no_equation_for_its_give():
    found = check(PLATE, BEAM, ENDS, layout=Layout(loose_mass=0.2, stroke=1.0))
    assert found.frame.unknown == ("beam ends",)
    assert found.frame.strongest.energy > found.frame.usual.energy > 0.0
    assert "stroke-short" in codes(found)


def test_a_part_known_by_its_own_tests_only_is_weighed_but_not_changed():
    hinge = Part("hinge", "own tests", own_tests=(5000.0, 5400.0, 5200.0), breaks="opens")
    found = check(PLATE, hinge)
    assert [m.level for m in found.margins if m.part == "hinge"] == [Level.DANGER]
    assert "hinge" not in {a.part for a in (*found.advice, *found.no_advice)}


def test_own_tests_of_a_rig_part_are_scaled_with_the_change():
    """Two tests at 5 kN of a beam as it is; a beam twice as deep is not pulled back to 5 kN."""
    tested = replace(BEAM, own_tests=(5000.0, 5100.0), breaks="beam bends and breaks")
    advice = {a.key: a for a in check(PLATE, tested).advice if a.part == "beam"}
    changed = replace(BEAM, numbers={**BEAM.numbers, "depth_mm": advice["depth_mm"].then})
    grown = predictions(changed, None)[0].median / predictions(BEAM, None)[0].median
    before = predictions(tested, None)[0].median
    bends = advice["depth_mm"].margin_after
    strongest = check(PLATE, tested).margins[-1].strongest_piece
    assert advice["depth_mm"].margin_after * strongest == pytest.approx(before * grown, rel=0.02)
    assert bends >= 2.5


def test_without_a_tested_part_or_a_median_nothing_is_weighed():
    found = check(BEAM, expected=Expected())
    assert found.races == found.margins == found.advice == found.pieces == ()
    assert {"no-tested-part", "no-strength-known"} <= codes(found)
    assert "no-parts" in codes(check())
    assert check(BEAM).races  # an expected median is enough


def test_an_impossible_part_is_refused_with_its_problem():
    wrong = replace(BEAM, words={"material": "dougles fir"})
    with pytest.raises(PartRefused, match="dougles"):
        check(PLATE, wrong)


def test_the_result_is_plain_data_and_the_same_every_time():
    one, two = check(PLATE, BEAM, BOLT, ENDS), check(PLATE, BEAM, BOLT, ENDS)
    assert one == two
    text = json.dumps(dataclasses.asdict(replace(one, notices=())), allow_nan=False)
    assert json.loads(text)["tested"] == "plate"
    assert all(json.dumps(dict(n.facts), allow_nan=False) for n in one.notices)
