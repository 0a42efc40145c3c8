"""What is said of parts that can't be: the sentence names the number, and what is allowed."""

import pytest

from breakwright.model.part import Part
from breakwright.strength.part_problems import part_problems

PLATE = {"thickness_mm": 18.0, "width_mm": 100.0, "span_mm": 100.0}


@pytest.mark.parametrize(
    ("kind", "numbers", "words", "said"),
    [
        ("bolt", {}, {"thread": "M8y", "grade": "8.8"}, "did you mean 'M8'"),
        (
            "bolt",
            {"tensile_MPa": 800.0, "proof_MPa": 580.0},
            {"thread": "M6", "grade": "8.9"},
            "8.8",
        ),
        (
            "bolt",
            {"diameter_mm": 10.0},
            {"thread": "M8", "grade": "8.8"},
            "leave one of the two out",
        ),
        ("tapped plate", {**PLATE, "hole_mm": 8.0}, {"thread": "M8"}, "no thread to pull on"),
        ("tapped plate", {**PLATE, "hole_mm": 6.0}, {"thread": "M8"}, "6.38 mm is the least"),
        ("tapped plate", {**PLATE, "width_mm": 7.0}, {"thread": "M8"}, "no wider than the thread"),
        (
            "tapped plate",
            {**PLATE, "engagement_mm": 20.0},
            {"thread": "M8"},
            "more than the plate's",
        ),
        (
            "tapped plate",
            PLATE,
            {"thread": "M8", "metal": "mild stell"},
            "did you mean 'mild steel'",
        ),
        (
            "plate with hole",
            {**PLATE, "hole_mm": 100.0},
            {"material": "ash"},
            "as wide as the plate",
        ),
        (
            "washer",
            {"washer_mm": 8.5},
            {"thread": "M8", "material": "ash"},
            "nothing is left to bear",
        ),
        (
            "beam",
            {"width_mm": 38.0, "depth_mm": 89.0, "span_mm": 400.0, "spread_mm": 500.0},
            {"material": "ash"},
            "longer than the span",
        ),
        (
            "metal beam",
            {"width_mm": 20.0, "depth_mm": 40.0, "span_mm": 400.0, "wall_mm": 10.0},
            {"metal": "steel"},
            "two walls fill the section",
        ),
        ("glued lap", {"width_mm": 25.0, "overlap_mm": 25.0}, {"glue": "epoxi"}, "'epoxy'"),
        ("rated part", {"rated_N": 2e3}, {"what": "shackel"}, "did you mean 'shackle'"),
    ],
)
def test_what_cannot_be_is_told(
    kind: str, numbers: dict[str, float], words: dict[str, str], said: str
) -> None:
    problems = part_problems(Part("it", kind, numbers, words))
    assert any(said in problem.message for problem in problems), [p.message for p in problems]


@pytest.mark.parametrize(
    ("numbers", "words"),
    [
        ({**PLATE, "hole_mm": 6.8}, {"thread": "M8", "material": "ash"}),
        ({**PLATE, "diameter_mm": 8.0, "pitch_mm": 1.25}, {"material": "ash"}),
        ({**PLATE, "diameter_mm": 8.0}, {"thread": "M8", "material": "ash"}),
    ],
)
def test_what_can_be_is_let_through(numbers: dict[str, float], words: dict[str, str]) -> None:
    assert part_problems(Part("it", "tapped plate", numbers, words)) == ()
