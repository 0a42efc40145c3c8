"""Arrays into a study: what was given is what is there, and every fault is told at once."""

from math import inf, nan

import pytest

from breakwright.model.errors import ImpossibleValue
from breakwright.model.interval import Interval
from breakwright.model.study import Study
from breakwright.model.units import ForceUnit
from breakwright.usecases.gather import gather_study


def gather(
    group: list[object],
    lower: list[object],
    upper: list[object] | None = None,
    *,
    failure: list[object] | None = None,
    reference: str | None = "a",
    counts: str | None = None,
    resolution: float | None = None,
    capacity: float | None = None,
) -> Study:
    study, _ = gather_study(
        group,
        lower,
        upper=upper,
        failure=failure,
        unit=ForceUnit.KN,
        reference=reference,
        counts=counts,
        worth=None,
        resolution=resolution,
        capacity=capacity,
    )
    return study


def test_every_kind_of_reading_keeps_its_ends() -> None:
    study = gather(["a", "a", "b", "b"], [1, 2, 0, 3], [1, inf, 4, 3.5])
    assert [trial.readings[0].shown for trial in study.trials] == [
        Interval(1000.0, 1000.0),
        Interval(2000.0, inf),
        Interval(0.0, 4000.0),
        Interval(3000.0, 3500.0),
    ]
    assert [trial.specimen for trial in study.trials] == ["1", "2", "3", "4"]
    assert study.groups == ("a", "b")
    assert study.unit is ForceUnit.KN


def test_the_text_of_a_reading_is_in_the_unit_that_was_given() -> None:
    study = gather(["a", "b", "b", "b"], [0.412, 0.44, 0, 0.405], [0.412, inf, 0.03, 0.44])
    assert [trial.readings[0].text for trial in study.trials] == [
        "0.412",
        ">0.44",
        "<0.03",
        "0.405..0.44",
    ]


def test_capacity_and_resolution_make_a_display_that_the_readings_name() -> None:
    study = gather(["a", "b"], [1, 2], resolution=0.01, capacity=5)
    (display,) = study.instruments
    assert (display.capacity, display.resolution) == (5000.0, 10.0)
    assert {trial.readings[0].instrument for trial in study.trials} == {display.name}


def test_ways_of_breaking_come_along_and_empty_ones_are_none() -> None:
    study = gather(["a", "b", "b"], [1, 2, 3], failure=["pulled", nan, " "], counts="pulled")
    assert [trial.failure for trial in study.trials] == ["pulled", None, None]


def test_a_reference_nobody_named_is_said() -> None:
    study, notices = gather_study(
        ["b", "a"],
        [1, 2],
        upper=None,
        failure=None,
        unit=ForceUnit.N,
        reference=None,
        counts=None,
        worth=None,
        resolution=None,
        capacity=None,
    )
    assert study.reference == "b"
    assert [(n.code, n.facts["reference"]) for n in notices] == [("no-reference-stated", "b")]


@pytest.mark.parametrize(
    ("group", "lower", "upper", "said"),
    [
        (["a", "b"], [1, -2], None, "a negative load at index 1"),
        (["a", "b"], [1, nan], None, "not a number"),
        (["a", "b"], [1, inf], None, "an infinite lower end at index 1"),
        (["a", "b"], [1, 2], [1, 1.5], "a lower end above the upper one at index 1"),
        (["a", "b"], [1, 0], None, "a load of 0"),
        (["a", "b"], [1, "x"], None, r"lower\[1\] is 'x', which is not a number"),
        (["a", "b"], [1], None, "must be equally long; they hold 2, 1 and 1"),
        (["a", "a"], [1, 2], None, "two groups at least"),
        ([], [], None, "two groups at least"),
        (["b", "c"], [1, 2], None, "reference is 'a'; the groups are b, c"),
        (["a", "b"] * 4, [-1, 2] * 4, None, "index 0, 2, 4, 6"),
        (["a", "b"] * 7, [-1, -2] * 7, None, "index 0, 1, 2, 3, 4 and 9 more"),
    ],
)
def test_a_fault_is_named_with_its_place(
    group: list[object], lower: list[object], upper: list[object] | None, said: str
) -> None:
    with pytest.raises(ImpossibleValue, match=said):
        gather(group, lower, upper)


def test_all_faults_are_told_together() -> None:
    with pytest.raises(ImpossibleValue) as caught:
        gather(["a", "b", "b"], [nan, -1, 5], [2, 3, 4], reference="c", counts="pulled")
    said = str(caught.value)
    for fault in ("not a number", "negative", "above the upper", "reference is 'c'", "failure"):
        assert fault in said
