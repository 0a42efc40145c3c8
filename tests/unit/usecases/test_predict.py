"""Predictions by part and group: complete, sorted, with what moves them and how far to trust."""

import dataclasses
import json
import math
from dataclasses import replace

import pytest

from breakwright.model.part import Part
from breakwright.model.study import Study
from breakwright.strength.resolve import predictions
from breakwright.strength.trust import Trust
from breakwright.usecases.predict import predict_study

PLATE = Part(
    "plate",
    "tapped plate",
    numbers={"thickness_mm": 18.0, "width_mm": 100.0, "span_mm": 150.0},
    words={"material": "birch plywood", "thread": "M8"},
    tested=True,
    breaks="thread strips",
    by_group={"deep": {"thickness_mm": 24.0}},
)
BEAM = Part(
    "beam",
    "beam",
    numbers={"width_mm": 38.0, "depth_mm": 89.0, "span_mm": 400.0},
    words={"material": "douglas fir"},
)


def found(*parts):
    return predict_study(Study((), ("plain", "deep"), "plain", parts=parts))


def codes(result):
    return {n.code for n in result.notices}


def test_the_tested_part_has_every_group_and_the_others_none():
    result = found(PLATE, BEAM)
    assert [(p.part, p.group) for p in result.parts] == [
        ("plate", "plain"),
        ("plate", "deep"),
        ("beam", None),
    ]


def test_every_way_that_applies_is_there_weakest_first():
    for part in found(PLATE, BEAM).parts:
        made = PLATE if part.tested else BEAM
        known = {p.mechanism: p for p in predictions(made, part.group)}
        assert {w.mechanism for w in part.ways} == set(known)
        medians = [w.median for w in part.ways]
        assert medians == sorted(medians)
        assert [w.governs for w in part.ways] == [True] + [False] * (len(medians) - 1)
        for way in part.ways:
            assert way.median == known[way.mechanism].median
            assert way.cv == pytest.approx(math.sqrt(math.exp(way.sigma**2) - 1.0))
            shares = [i.share for i in way.inputs]
            assert shares == sorted(shares, reverse=True)
            assert sum(shares) + way.model_share == pytest.approx(1.0)


def test_a_group_with_numbers_of_its_own_is_predicted_by_them():
    plain, deep = (p for p in found(PLATE).parts)
    strip = {w.mechanism: w.median for w in plain.ways}["thread strips"]
    deeper = {w.mechanism: w.median for w in deep.ways}["thread strips"]
    assert deeper / strip == pytest.approx(24.0 / 18.0)


def test_the_intended_way_is_marked_and_asks_for_three_pilots():
    result = found(PLATE)
    asked = [w for w in result.parts[0].ways if w.intended]
    assert [w.mechanism for w in asked] == ["thread strips"]
    assert asked[0].break_three_first
    assert asked[0].trust is Trust.ORDER
    assert asked[0].moves_most is None  # the equation's own doubt outweighs every input
    assert "break-three-first" in codes(result)


def test_three_tests_of_ones_own_calibrate_it():
    tested = replace(PLATE, own_tests=(3500.0, 4100.0, 3900.0))
    result = found(tested)
    asked = next(w for w in result.parts[0].ways if w.intended)
    assert asked.calibrated_on == 3
    assert not asked.break_three_first
    assert "calibrated-on-own" in codes(result)
    assert "break-three-first" not in codes(result)


def test_what_moves_a_beam_most_is_its_wood():
    beam = found(PLATE, BEAM).parts[-1]
    assert {w.mechanism: w.moves_most for w in beam.ways}["beam bends and breaks"] == "mor_MPa"


def test_what_is_missing_is_said():
    assert "no-tested-part" in codes(found(BEAM))
    assert "no-parts" in codes(found())
    assert "no-intended-mechanism" in codes(found(replace(PLATE, breaks=None)))


def test_the_result_is_plain_data():
    one = found(PLATE, BEAM)
    assert one == found(PLATE, BEAM)
    json.dumps(dataclasses.asdict(replace(one, notices=())), allow_nan=False)
