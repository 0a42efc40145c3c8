"""Planning a study: what it rests on, what it says, in what order."""

import json
import math
from collections import Counter
from dataclasses import asdict, replace
from types import MappingProxyType

import pytest

from breakwright.model.errors import ImpossibleValue, InputRefused
from breakwright.model.foresight import Expected, Wish
from breakwright.model.instrument import Instrument
from breakwright.model.part import Part
from breakwright.model.study import Study
from breakwright.model.trial import Sharing
from breakwright.usecases.plan import PlanSettings, plan_study
from breakwright.usecases.plan_basis import pilots_of
from breakwright.usecases.plan_result import RatioOrigin, Reach, ScatterOrigin
from breakwright.usecases.rig import check_rig
from breakwright.usecases.scales import check_scales

QUICK = PlanSettings(experiments=400, widths=30)
SCALE = Instrument("hanging scale", capacity=520.0, resolution=1.0)
STUDY = Study(
    (),
    ("plain", "wedged"),
    "plain",
    worth=1.3,
    expected=Expected(median=400.0, cv=0.2),
)


def planned(study, *, rig=None, scales=None):
    return plan_study(study, rig=rig, scales=scales, settings=QUICK)


def codes(result):
    return [n.code for n in result.notices]


def facts_of(result, code):
    (found,) = [n.facts for n in result.notices if n.code == code]
    return found


@pytest.fixture(scope="module")
def free():
    return planned(STUDY)


LAID_OUT = replace(
    STUDY,
    instruments=(SCALE,),
    wish=Wish(pieces=5, width=1.6, blocks=("A", "B"), days=2, operators=("x", "y"), pairs=True),
)


@pytest.fixture(scope="module")
def limited():
    return planned(LAID_OUT)


@pytest.fixture(scope="module")
def hopeless():
    """Nearly every piece of either group lies beyond the scale."""
    return planned(replace(STUDY, instruments=(replace(SCALE, capacity=290.0),)))


def test_without_a_scale_the_number_is_that_of_the_t_test(free):
    """n for power 0.8 at ln 1.3 over sqrt(ln 1.04): (1.96 + 0.8416)^2 x 2/d^2 = 8.96, and about
    one piece more for estimated scatters (Guenther, W. C. (1981), The American Statistician
    35, 243-244, adds z^2/4 = 0.96; from memory)."""
    d = math.log(1.3) / math.sqrt(math.log(1.04))
    expected = (1.959964 + 0.841621) ** 2 * 2.0 / d**2 + 1.959964**2 / 4.0
    group = free.groups[0]
    assert abs(group.for_chance.pieces - math.ceil(expected)) <= 1
    assert group.for_chance.reach is Reach.WITHIN
    assert free.recommended == free.used == group.for_chance.pieces
    assert (group.cost, group.capacity, group.capped) == (None, None, 0.0)
    assert {r.chance_without_limit for r in group.curve} == {None}
    assert "plan-scale-costs" not in codes(free)


def test_everything_is_json_and_repeatable(limited):
    again = planned(LAID_OUT)
    assert again == limited

    def plain(value):
        return dict(value) if isinstance(value, MappingProxyType) else str(value)

    # asdict cannot copy a mapping proxy, so the notices go in on their own.
    bare = asdict(replace(limited, notices=()))
    json.dumps(bare, allow_nan=False)
    for notice in limited.notices:
        json.dumps(dict(notice.facts), allow_nan=False, default=plain)


def test_the_persons_own_number_is_placed_on_the_table(limited):
    group = limited.groups[0]
    assert group.own == group.curve[5 - 3]
    assert limited.used == 5
    assert limited.recommended > 5
    found = [n.facts for n in limited.notices if n.code == "plan-too-few-pieces"]
    assert {f["what"] for f in found} == {"chance", "width"}
    assert found[0]["needed"] == group.for_chance.pieces
    assert found[0]["chance"] == group.own.chance


def test_what_the_scale_costs_is_told(limited):
    """400 N x 1.3 = 520 N: half of the stronger group lies beyond a scale of 519.5 N."""
    group = limited.groups[0]
    assert group.capacity == 519.5
    assert group.capped == pytest.approx(0.5, abs=0.01)
    assert group.reference_capped == pytest.approx(0.093, abs=0.005)
    cost = group.cost
    assert cost.pieces == 5
    assert cost.width > cost.width_without_limit
    assert cost.chance <= cost.chance_without_limit
    assert group.for_width.pieces > group.for_width.without_limit
    assert facts_of(limited, "plan-scale-costs")["capped"] == group.capped


def test_a_question_that_the_scale_cannot_answer_gets_no_number(hopeless):
    group = hopeless.groups[0]
    assert group.for_chance.reach is Reach.NOT_WITH_SCALE
    assert group.for_chance.pieces is None
    assert group.for_chance.without_limit in range(8, 13)
    assert group.for_chance.best < 0.5
    assert hopeless.recommended is None
    told = facts_of(hopeless, "plan-cannot-with-this-scale")
    assert told["capacity"] == 289.5
    assert told["capped"] > 0.99
    assert "plan-scale-costs" not in codes(hopeless)
    assert group.cost.pieces == 40
    # An order is made all the same, and it is said that it answers nothing.
    assert hopeless.used == 10
    assert len(hopeless.order) == 20
    assert facts_of(hopeless, "plan-order-for")["pieces"] == 10


def test_a_difference_too_small_for_forty_is_no_fault_of_the_scale():
    study = replace(STUDY, worth=1.03, instruments=(replace(SCALE, capacity=450.0),))
    result = planned(study)
    assert result.groups[0].for_chance.reach is Reach.BEYOND
    assert "plan-beyond-table" in codes(result)
    assert "plan-cannot-with-this-scale" not in codes(result)


def test_order_has_every_piece_once_and_spreads_the_sets(limited):
    rows = limited.order
    assert [r.order for r in rows] == list(range(1, 11))
    assert len({r.label for r in rows}) == 10
    assert Counter(r.group for r in rows) == {"plain": 5, "wedged": 5}
    assert Counter(r.pair for r in rows) == {str(k): 2 for k in range(1, 6)}
    for pair in {r.pair for r in rows}:
        both = [r for r in rows if r.pair == pair]
        assert {r.group for r in both} == {"plain", "wedged"}
        assert len({(r.block, r.day, r.operator) for r in both}) == 1
    uneven = [n.facts["what"] for n in limited.notices if n.code == "plan-uneven"]
    assert uneven == ["blocks", "days", "operators"]


def test_more_boards_than_pieces_is_pointed_out():
    wish = Wish(pieces=3, blocks=("A", "B", "C", "D"))
    assert facts_of(planned(replace(STUDY, wish=wish)), "plan-unused")["what"] == "blocks"


@pytest.mark.parametrize("pieces", [2, 45])
def test_a_number_outside_the_table_is_simulated_on_its_own(pieces):
    result = planned(replace(STUDY, wish=Wish(pieces=pieces)))
    own = result.groups[0].own
    assert own.pieces == pieces
    assert own.simulated
    assert len(result.order) == 2 * pieces
    edge = result.groups[0].curve[0 if pieces < 3 else -1].chance
    assert own.chance <= edge if pieces < 3 else own.chance > 0.95


def test_ten_thousand_pieces_are_ordered_but_not_simulated():
    result = planned(replace(STUDY, wish=Wish(pieces=3000, longest_run=4)))
    assert result.groups[0].own is None
    assert len({r.label for r in result.order}) == 6000


def test_pilots_give_the_scatter_and_how_sure_it_is():
    study = replace(STUDY, expected=Expected(pilots=(320.0, 400.0, 470.0)))
    result = planned(study)
    assert result.basis.origin is ScatterOrigin.PILOTS
    assert result.basis.median == pytest.approx((320 * 400 * 470) ** (1 / 3))
    assert result.basis.median_from == "pilots"
    # ln 320, ln 400, ln 470: standard deviation 0.1931, by hand; upper 80 % limit sqrt(2/0.4463).
    assert result.basis.sigma == pytest.approx(0.1931, abs=5e-4)
    upper = math.sqrt(math.log1p(result.basis.cv_upper**2))
    assert upper == pytest.approx(0.1931 * math.sqrt(2 / 0.4463), rel=3e-3)
    group = result.groups[0]
    # The scatter may be twice as large: then four times as many pieces, more than the table has.
    assert group.for_chance_upper.reach is Reach.BEYOND
    assert group.for_chance_upper.pieces is None
    pilots = result.pilots
    assert (pilots.have, pilots.advised, pilots.more) == (3, 5, 2)
    assert pilots.because == "few-pilots"
    assert pilots.now.pilots == 3
    assert [g.pilots for g in pilots.gains] == [4, 5]
    told = facts_of(result, "plan-scatter-from-pilots")
    assert (told["pieces"], told["pieces_upper"]) == (group.for_chance.pieces, None)
    five = planned(replace(STUDY, expected=Expected(pilots=(320, 400, 470, 380, 430))))
    assert five.pilots.more == 0
    needed = five.groups[0]
    assert needed.for_chance_upper.pieces > needed.for_chance.pieces
    assert "plan-pilots-first" not in codes(five)


def test_nothing_known_is_said_to_be_assumed():
    study = replace(STUDY, worth=None, expected=Expected(), instruments=(SCALE,))
    result = planned(study)
    assert result.basis.origin is ScatterOrigin.ASSUMED
    assert result.groups[0].ratio_from is RatioOrigin.ASSUMED
    assert {
        "plan-scatter-assumed",
        "plan-ratio-assumed",
        "plan-no-median",
        "plan-pilots-first",
    } <= set(codes(result))
    assert (result.pilots.advised, result.pilots.because) == (5, "scatter-assumed")
    assert [g.pilots for g in result.pilots.gains] == [3, 4, 5]


@pytest.mark.parametrize(
    ("expected", "code"),
    [
        (Expected(pilots=(400.0, 400.0)), "plan-pilots-alike"),
        (Expected(cv=0.05, pilots=(200.0, 400.0, 700.0, 330.0)), "plan-scatter-disagrees"),
    ],
)
def test_pilots_that_say_nothing_or_something_else(expected, code):
    assert code in codes(planned(replace(STUDY, expected=expected)))


def test_a_weaker_group_needs_as_many_as_a_stronger_one():
    """Without a capacity the ratio and its inverse are the same question."""
    up = planned(replace(STUDY, expected=Expected(cv=0.2, ratio={"wedged": 1.25})))
    down = planned(replace(STUDY, expected=Expected(cv=0.2, ratio={"wedged": 0.8})))
    assert up.groups[0].ratio_from is RatioOrigin.GIVEN
    assert up.groups[0].for_chance.pieces == down.groups[0].for_chance.pieces
    assert [r.chance for r in up.groups[0].curve] == [r.chance for r in down.groups[0].curve]


def test_a_weaker_group_stays_in_range():
    """The scale takes the reference's stronger half; the weaker group's pieces lie below it."""
    expected = Expected(median=400.0, cv=0.2, ratio={"wedged": 0.7})
    result = planned(
        replace(STUDY, expected=expected, instruments=(replace(SCALE, capacity=400.5),))
    )
    assert result.groups[0].reference_capped == pytest.approx(0.5)
    assert result.groups[0].capped == pytest.approx(0.036, abs=0.002)


def test_several_groups_share_the_error_and_are_simulated_once_if_alike():
    result = planned(replace(STUDY, groups=("plain", "wedged", "pinned")))
    assert result.basis.error == pytest.approx(0.025)
    one, other = result.groups
    assert one.curve == other.curve
    assert one.for_chance.pieces >= planned(STUDY).groups[0].for_chance.pieces
    assert facts_of(result, "plan-error-shared")["comparisons"] == 2
    assert {r.group for r in result.order} == {"plain", "wedged", "pinned"}


def test_one_group_gets_an_order_and_no_number():
    result = planned(replace(STUDY, groups=("plain",), wish=Wish(pieces=4)))
    assert (result.groups, result.recommended, result.used) == ((), None, 4)
    assert codes(result)[0] == "plan-one-group"


def test_a_run_that_cannot_be_is_refused_with_what_to_do():
    study = replace(STUDY, groups=("plain",), wish=Wish(pieces=4, longest_run=2))
    with pytest.raises(InputRefused) as refused:
        planned(study)
    (problem,) = refused.value.problems
    assert problem.code == "longest-run-impossible"
    assert problem.column_name == "wish.longest_run"
    assert problem.allowed == "4 or more"


def test_what_the_plan_leaves_out_is_said():
    twice = (SCALE, replace(SCALE, name="other"))
    unclear = planned(replace(STUDY, instruments=twice))
    assert {"plan-scales-unclear", "plan-separate-peaks"} <= set(codes(unclear))
    together = planned(replace(STUDY, instruments=twice, sharing=Sharing.SAME_MOMENT))
    assert "plan-separate-peaks" not in codes(together)
    coarse = planned(replace(STUDY, instruments=(replace(SCALE, resolution=20.0),)))
    assert facts_of(coarse, "plan-coarse-display")["step"] == 20.0
    even = planned(replace(STUDY, expected=Expected(cv=0.2, ratio={"wedged": 1.0})))
    assert "plan-ratio-of-one" in codes(even)


def test_settings_out_of_bounds_are_refused():
    with pytest.raises(ImpossibleValue, match="level"):
        PlanSettings(level=0.999)
    with pytest.raises(ImpossibleValue, match="experiments"):
        PlanSettings(experiments=10)
    with pytest.raises(ImpossibleValue, match="widths"):
        PlanSettings(widths=5)


PART = Part(
    "the screw",
    "wood screw withdrawal",
    numbers={"diameter_mm": 4.83, "threaded_length_mm": 25.0},
    words={"material": "hard maple"},
    tested=True,
)


def test_with_a_rig_its_strengths_and_the_scales_limit_are_used():
    """Rig and scales of one stated median: the plan takes what they found, and no more."""
    study = replace(STUDY, instruments=(SCALE,))
    rig = check_rig(study, seed=1, draws=2000)
    scales = check_scales(study, rig, seed=1)
    result = planned(study, rig=rig, scales=scales)
    assert result.groups[0].capacity == pytest.approx(scales.limit)
    assert result.basis.median == 400.0
    assert result.basis.origin is ScatterOrigin.GIVEN
    alone = planned(study)
    assert result.groups[0].curve == alone.groups[0].curve


def test_own_tests_of_the_part_under_test_are_pilots():
    part = replace(PART, own_tests=(500.0, 610.0))
    assert pilots_of(replace(STUDY, parts=(part,))) == (500.0, 610.0)
    stated = replace(STUDY, parts=(part,), expected=Expected(pilots=(400.0,)))
    assert pilots_of(stated) == (400.0,)
    assert pilots_of(STUDY) == ()
