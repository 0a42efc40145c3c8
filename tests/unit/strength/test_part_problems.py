"""What a person is told of a part that cannot be right."""

import pytest

from breakwright.model.part import Part
from breakwright.strength.resolve import PartProblem, part_problems


def _only(part: Part) -> PartProblem:
    (problem,) = part_problems(part)
    assert problem.part == part.name
    return problem


GOOD = {"thread_length_mm": 25.0, "diameter_mm": 4.83}
MAPLE = {"material": "hard maple"}


def test_nothing_wrong() -> None:
    assert part_problems(Part("s", "wood screw", GOOD, MAPLE)) == ()


def test_unknown_kind_offers_the_nearest() -> None:
    problem = _only(Part("s", "wood screws"))
    assert (problem.key, problem.read) == ("kind", "wood screws")
    assert problem.do == "did you mean 'wood screw'?"
    assert problem.allowed is not None
    assert "'lag screw'" in problem.allowed


def test_unknown_material_offers_the_nearest_or_ones_own_values() -> None:
    problem = _only(Part("s", "wood screw", GOOD, {"material": "hard mapel"}))
    assert problem.key == "material"
    assert problem.do is not None
    assert "'sugar maple'" in problem.do
    assert "specific_gravity" in problem.do


def test_a_material_of_ones_own_is_welcome_with_its_values() -> None:
    words = {"material": "my reclaimed teak"}
    assert part_problems(Part("s", "wood screw", {**GOOD, "density_kg_m3": 650.0}, words)) == ()
    assert part_problems(Part("s", "wood screw", {**GOOD, "specific_gravity": 0.58}, words)) == ()


def test_a_property_that_the_table_lacks() -> None:
    problem = _only(Part("s", "wood screw", GOOD, {"material": "mdf"}))
    assert problem.key == "specific_gravity"
    assert "mdf" in problem.message
    assert problem.do == "weigh and measure a piece and give density_kg_m3"


def test_a_missing_size_says_what_it_is() -> None:
    problem = _only(Part("s", "lag screw", {"diameter_mm": 8.0}, MAPLE))
    assert problem.key == "thread_length_mm"
    assert "length of thread" in problem.message
    assert problem.allowed == "3 to 500"


def test_no_material_and_no_value() -> None:
    problem = _only(Part("s", "wood screw", GOOD))
    assert problem.key == "specific_gravity"
    assert problem.do == "give specific_gravity, or name the material"


@pytest.mark.parametrize("value", [-3.0, 0.0, 2000.0, float("nan"), float("inf")])
def test_sizes_out_of_range(value: float) -> None:
    problem = _only(Part("s", "wood screw", {**GOOD, "diameter_mm": value, "root_mm": 3.0}, MAPLE))
    assert problem.key == "diameter_mm"
    assert problem.read == f"{value:g}"
    assert problem.allowed == "1 to 30"


def test_a_weighed_density_out_of_range() -> None:
    problem = _only(Part("s", "wood screw", {**GOOD, "density_kg_m3": -680.0}, MAPLE))
    assert (problem.key, problem.allowed) == ("density_kg_m3", "50 to 1400")


def test_a_piece_weighed_in_the_wrong_unit() -> None:
    sizes = {"piece_length_mm": 10.0, "piece_width_mm": 4.0, "piece_thickness_mm": 2.8}
    problem = _only(Part("s", "wood screw", {**GOOD, **sizes, "piece_mass_g": 76.0}, MAPLE))
    assert problem.key == "piece_mass_g"
    assert problem.read is not None
    assert "kg/m³" in problem.read


@pytest.mark.parametrize("count", [0.0, -2.0, 2.5, float("nan"), float("inf")])
def test_a_groups_count_is_a_whole_number(count: float) -> None:
    part = Part("s", "wood screw", GOOD, MAPLE, by_group={"six": {"count": count}})
    assert _only(part).key == "count"


def test_a_wrong_word_is_told_once() -> None:
    words = {**MAPLE, "grain": "sied"}
    part = Part("s", "wood screw", GOOD, words, by_group={"a": {"thread_length_mm": 30.0}})
    assert _only(part).key == "grain"


def test_a_slip_in_a_key() -> None:
    problem = _only(Part("s", "wood screw", {**GOOD, "thread_lenght_mm": 30.0}, MAPLE))
    assert problem.key == "thread_lenght_mm"
    assert problem.do is not None
    assert "'thread_length_mm'" in problem.do


def test_a_key_in_the_wrong_unit() -> None:
    numbers = {"thread_length_in": 1.0, "diameter_mm": 4.83}
    problems = part_problems(Part("s", "wood screw", numbers, MAPLE))
    wrong = next(p for p in problems if p.key == "thread_length_in")
    assert wrong.do is not None
    assert "'thread_length_mm'" in wrong.do


def test_a_word_that_is_a_number_and_the_other_way_round() -> None:
    words = {**MAPLE, "diameter_mm": "thick"}
    problems = part_problems(Part("s", "wood screw", GOOD, words))
    assert [(p.key, p.allowed) for p in problems] == [("diameter_mm", "a number")]
    problems = part_problems(Part("s", "wood screw", {**GOOD, "gauge": 10.0}, MAPLE))
    assert [(p.key, p.allowed) for p in problems] == [("gauge", "a word")]


def test_a_word_that_is_not_allowed() -> None:
    problem = _only(Part("j", "wood screw", GOOD, {**MAPLE, "grain": "sied"}, breaks=None))
    assert (problem.key, problem.read, problem.allowed) == ("grain", "sied", "'side', 'end'")
    assert problem.do == "did you mean 'side'?"


def test_a_hole_larger_than_the_thread() -> None:
    problem = _only(Part("s", "wood screw", {**GOOD, "hole_mm": 5.0}, MAPLE))
    assert problem.key == "hole_mm"
    assert "would hold nothing" in problem.message
    problem = _only(Part("s", "wood screw", {**GOOD, "hole_mm": 4.0}, MAPLE))
    assert "larger than the root" in problem.message
    assert part_problems(Part("s", "wood screw", {**GOOD, "hole_mm": 2.5}, MAPLE)) == ()


def test_a_nail_size_that_no_table_has() -> None:
    words = {**MAPLE, "size": "17d"}
    numbers = {"penetration_mm": 40.0, "diameter_mm": 4.0}
    problem = _only(Part("n", "nail", numbers, words))
    assert problem.key == "size"
    assert "16d" in problem.message


def test_breaks_must_name_a_way_of_this_part() -> None:
    problem = _only(Part("s", "wood screw", GOOD, MAPLE, breaks="withdraw"))
    assert (problem.key, problem.read) == ("breaks", "withdraw")
    assert problem.allowed == "'withdrawal', 'screw snaps'"
    assert problem.do == "did you mean 'withdrawal'?"


def test_groups_are_checked_too() -> None:
    part = Part(
        "s",
        "wood screw",
        GOOD,
        MAPLE,
        by_group={
            "a": {"thread_length_mm": -1.0},
            "b": {"material": "asch"},
            "c": {"thread": 3.0},
            "d": {"gauge": 10.0},
        },
    )
    found = {p.key: p for p in part_problems(part)}
    assert set(found) == {"thread_length_mm", "material", "thread", "gauge"}
    assert "group 'a'" in found["thread_length_mm"].message
    assert found["gauge"].allowed == "a word"


def test_a_scatter_that_is_none() -> None:
    problem = _only(Part("s", "wood screw", GOOD, MAPLE, spread={"specific_gravity": 10.0}))
    assert problem.key == "specific_gravity"
    assert problem.allowed is not None
    assert "0 to 2" in problem.allowed
    assert _only(Part("s", "wood screw", GOOD, MAPLE, spread={"gravity": 0.1})).key == "gravity"


def test_a_part_with_no_equation() -> None:
    # A drift bolt in end grain has none.
    words = {**MAPLE, "material_class": "plastic"}
    problems = part_problems(Part("d", "wood screw", GOOD, words))
    assert [p.key for p in problems] == ["material_class"]


def test_own_tests_need_three() -> None:
    problem = _only(Part("odd", "own tests", own_tests=(4000.0,)))
    assert problem.key == "own_tests"


def test_thread_longer_than_the_penetration() -> None:
    part = Part(
        "j",
        "screwed joint",
        {"diameter_mm": 4.8, "side_thickness_mm": 20.0, "penetration_mm": 25.0}
        | {"thread_length_mm": 30.0},
        {"material": "ash", "side_material": "birch plywood"},
    )
    assert _only(part).key == "thread_length_mm"


def test_a_screw_outside_eurocodes_shape() -> None:
    part = Part(
        "s",
        "structural screw",
        {"diameter_mm": 8.0, "thread_length_mm": 60.0, "root_mm": 4.0},
        {"material": "douglas fir"},
    )
    assert "0.6 to 0.75" in _only(part).message


def test_each_piece_of_a_joint_asks_for_its_own_material() -> None:
    numbers = {"diameter_mm": 4.8, "side_thickness_mm": 20.0, "penetration_mm": 25.0}
    part = Part("j", "screwed joint", numbers, {"material": "ash"})
    problem = _only(part)
    assert problem.key == "side_density_kg_m3"
    assert problem.do == "give side_density_kg_m3, or name the side_material"
    both = Part("j", "screwed joint", numbers, {"material": "ash", "side_material": "asch"})
    assert _only(both).key == "side_material"


def test_a_metal_given_as_a_material() -> None:
    part = Part(
        "plate",
        "plate with hole",
        {"hole_mm": 9.0, "thickness_mm": 6.0, "width_mm": 60.0, "span_mm": 120.0},
        {"material": "steel"},
    )
    problem = next(p for p in part_problems(part) if p.key == "material")
    assert problem.do is not None
    assert "metal = 'mild steel'" in problem.do


def test_the_ends_of_a_range_are_allowed() -> None:
    for angle in (0.0, 90.0):
        numbers = {"diameter_mm": 8.0, "thickness_mm": 20.0, "angle_deg": angle}
        assert part_problems(Part("p", "bearing under a pin", numbers, MAPLE)) == ()


def test_a_size_of_zero_does_not_crash_the_kinds_own_check() -> None:
    numbers = {"diameter_mm": 0.0, "thread_length_mm": 60.0}
    assert _only(Part("s", "structural screw", numbers, MAPLE)).key == "diameter_mm"
