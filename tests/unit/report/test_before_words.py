"""The sentences before the first cut: the plain thing, its number, what would help."""

import dataclasses

import pytest

from breakwright.report.before_sheets import (
    before_sheet,
    dangers,
    in_short,
    predict_sheet,
    rig_sheet,
    scales_sheet,
)
from breakwright.report.numbers import NBSP
from breakwright.report.passage import Passage, Tone, care, danger, plain
from breakwright.report.plan_words import plan_passages
from breakwright.report.predict_words import predict_passages
from breakwright.report.rig_words import advice_words, caution_passage, rig_passages
from breakwright.report.scales_words import scales_passages
from breakwright.rig.findings import Advice
from breakwright.strength.trust import Trust
from breakwright.usecases.plan_result import Needed, Reach

from . import before_samples

ADVICE = Advice(
    part="rail",
    key="span_mm",
    meaning="distance between the supports",
    unit="mm",
    now=150.0,
    then=110.0,
    direction="down",
    cures=("plate bends",),
    chance_before=0.75,
    chance_after=0.988,
    margin_before=1.29,
    margin_after=2.5,
    changes_the_piece=False,
    leaves=(),
    risk_before=0.251,
    risk_after=0.0101,
)


def spaced(text: str) -> str:
    return text.replace(NBSP, " ")


def told(passages: tuple[Passage, ...]) -> str:
    """All words of some passages as one text."""
    words = []
    for p in passages:
        words += [p.headline.text, *(line.text for line in p.lines), *p.todo]
        words += [cell for view in p.tables for row in view.rows for cell in row]
    return spaced("\n".join(words))


def test_advice_names_the_size_and_both_chances() -> None:
    assert spaced(advice_words(ADVICE)) == (
        "«rail»: distance between the supports (span_mm): 110 mm or less instead of 150 mm. The "
        "chance that it goes before the piece (plate bends) falls from 25 % to 1 %, its margin "
        "goes from 1.2 times to 2.5 times; pieces that break the way they should: from 75 % to "
        "99 %."
    )


def test_advice_for_a_number_of_pieces() -> None:
    more = dataclasses.replace(ADVICE, key="count", unit="", now=4.0, then=6.0, direction="up")

    assert "«rail»: 6 of them instead of 4." in spaced(advice_words(more))


def test_a_second_change_to_the_same_part_is_an_alternative() -> None:
    assert advice_words(ADVICE, also=True).startswith("Or instead: distance")


def test_what_a_change_cannot_cure_is_said() -> None:
    left = dataclasses.replace(ADVICE, leaves=("plate splits",), changes_the_piece=True)

    words = advice_words(left)
    assert "Still too near, and for another change to cure: plate splits." in words
    assert "This changes the piece itself" in words


def test_the_demo_is_caught_in_three_things() -> None:
    found = before_samples.demo()
    rig = told(rig_passages(found.rig))
    scales = told(scales_passages(found.scales))

    assert "Danger. «rail over its supports»: plate bends and cracks at about" in rig
    assert "Danger. «screws of the beam»: shear at about" in rig
    assert "clear distance between the two supports (span_mm): " in rig
    assert "«screws of the beam»: 4 of them instead of 2." in rig
    assert "Too small. «left scale» and «right scale» read up to 92 kgf for certain" in scales
    assert "would run out on at most 1 % of the pieces" in scales
    assert "Do not load this rig as it is." in " ".join(dangers(found))


def test_the_mended_demo_stands_free() -> None:
    found = before_samples.mended()

    assert dangers(found) == ()
    passages = before_sheet(found, version="1").passages
    assert passages[0].headline.tone is Tone.PLAIN
    assert not [p.headline for p in passages if p.headline.tone is Tone.DANGER]
    assert not [line for p in passages for line in p.lines if line.tone is Tone.DANGER]


def test_margins_are_judged_in_words_and_never_rounded_up() -> None:
    (margins,) = [p for p in rig_passages(before_samples.demo().rig) if p.key == "margins"]
    rows = {row[0]: row for row in margins.tables[0].rows}

    assert rows["rail over its supports"][4] == "DANGER: under 1.5"
    assert rows["screws of the beam"][4] in ("DANGER: under 1.5", "low: under 2.5")
    assert rows["jack"][4] == "enough"


def test_the_prediction_says_load_range_trust_and_what_moves_it() -> None:
    words = told(predict_passages(before_samples.demo().predict))

    assert "A piece («peg») should break at about 61 kgf, nine of ten between 40 and 93" in words
    assert "fair (the middle value should be within about two fifths)" in words
    assert "glue_shear_MPa (35 %, given) and the equation itself (65 %)" in words
    assert "makes no difference between «plain» and «wedged»" in words


def test_an_order_of_magnitude_asks_for_three_breaks() -> None:
    result = before_samples.demo().predict
    part = result.parts[0]
    rough = dataclasses.replace(part.ways[0], trust=Trust.ORDER, break_three_first=True)
    words = told(
        predict_passages(
            dataclasses.replace(
                result, parts=(dataclasses.replace(part, group=None, ways=(rough,)),)
            )
        )
    )

    assert "Break three pieces like «peg» first" in words
    assert "order of magnitude only" in words


def test_own_tests_are_named_for_trust() -> None:
    result = before_samples.demo().predict
    part = result.parts[0]
    own = dataclasses.replace(part.ways[0], calibrated_on=4)
    words = told(
        predict_passages(
            dataclasses.replace(result, parts=(dataclasses.replace(part, ways=(own,)),))
        )
    )

    assert "calibrated on your 4 pieces" in words


def test_nothing_described_says_what_to_write() -> None:
    found = before_samples.demo()
    empty = dataclasses.replace(found.predict, parts=())
    bare = dataclasses.replace(found.rig, races=(), pieces=(), margins=())
    none = dataclasses.replace(found.scales, sets=(), main=None)

    assert "[[part]]" in told(predict_passages(empty))
    assert "tested = true" in told(rig_passages(bare))
    assert "names no scale" in told(scales_passages(none))


def test_the_number_of_pieces_and_the_persons_own() -> None:
    plan = before_samples.mended().plan
    words = told(plan_passages(plan))

    assert "The 12 that you have in mind are enough." in words
    assert "12 (yours)" in words
    assert "(enough)" in words
    few = dataclasses.replace(plan, own=3, recommended=8)
    assert "You have 3 in mind: too few for that." in told(plan_passages(few))


def test_a_question_that_the_scale_hides_is_said_plainly() -> None:
    plan = before_samples.demo().plan
    hidden = Needed(Reach.NOT_WITH_SCALE, None, 9, 0.31)
    group = dataclasses.replace(plan.groups[0], for_chance=hidden)
    words = told(plan_passages(dataclasses.replace(plan, recommended=None, groups=(group,))))

    assert "no number of pieces up to 40 a group" in words
    assert "9 would do with a scale that does not run out" in words


def test_cautions_stand_with_every_rig_and_plan() -> None:
    found = before_samples.demo()
    sheets = (
        rig_sheet(found.rig, version="1"),
        before_sheet(found, version="1"),
    )
    for sheet in sheets:
        (cautions,) = [p for p in sheet.passages if p.key == "cautions"]
        assert len(cautions.lines) == len(found.rig.cautions)
    words = told((caution_passage(found.rig),))
    for moment in ("Building the rig", "Gluing", "Before loading", "Loading", "After the break"):
        assert moment in words
    assert "licensed engineer" in words


@pytest.mark.parametrize(
    ("heads", "tone", "says"),
    [
        ([plain("a"), danger("b"), danger("c")], Tone.DANGER, "2 things to cure"),
        ([plain("a"), care("b")], Tone.CARE, "Nearly"),
        ([plain("a")], Tone.PLAIN, "Nothing that is known here"),
    ],
)
def test_what_it_comes_to(heads: list, tone: Tone, says: str) -> None:
    short = in_short([Passage(str(i), "t", head) for i, head in enumerate(heads)])

    assert short.headline.tone is tone
    assert says in spaced(short.headline.text)
    assert list(short.lines) == heads


def test_nothing_is_said_twice() -> None:
    """What a passage tells with its numbers is not repeated as a notice."""
    found = before_samples.demo()
    for sheet in (
        predict_sheet(found.predict, version="1"),
        rig_sheet(found.rig, version="1"),
        scales_sheet(found.scales, found.rig, version="1"),
        before_sheet(found, version="1"),
    ):
        codes = [notice.code for notice in sheet.notices]
        assert "scale-too-small" not in codes
        assert "part-weaker-than-piece" not in codes
        assert len(set(codes)) == len(codes)
