"""A study's text changed from a form says what was wanted, and keeps all that was not touched."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from breakwright.files.edit_study import (
    moved_item,
    retold,
    study_table,
    with_item,
    with_keys,
    without_item,
)
from breakwright.files.new_study import NewScale, NewStudy, free_handle, new_study_toml
from breakwright.files.planning import plan_source_of
from breakwright.model.errors import ImpossibleValue

DEMO = (Path(__file__).parents[3] / "src/breakwright/demo/study.toml").read_text("utf-8")

NAMES = st.text("abcdefgh_", min_size=1, max_size=6)
PLAIN = (
    st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=12)
    | st.integers(-1000, 1000)
    | st.floats(-1e6, 1e6, allow_nan=False)
    | st.booleans()
)
VALUES = PLAIN | st.lists(PLAIN, max_size=3) | st.dictionaries(NAMES, PLAIN, min_size=1, max_size=3)
PARTS = st.dictionaries(NAMES, VALUES, min_size=1, max_size=4)


def comments(text: str) -> list[str]:
    return [line.partition("#")[2] for line in text.splitlines() if "#" in line]


@settings(max_examples=60, deadline=None)
@given(
    changes=st.dictionaries(
        st.sampled_from(["title", "worth", "counts", "sharing", "unit", "new_one", "other"]),
        st.none() | PLAIN,
    )
)
def test_keys_change_and_every_other_line_stays(changes: dict[str, Any]) -> None:
    made = with_keys(DEMO, changes)
    wanted = study_table(DEMO)
    for key, value in changes.items():
        if value is None or value == "":
            wanted.pop(key, None)
        else:
            wanted[key] = value
    assert tomllib.loads(made) == wanted
    touched = {key for key in changes if changes[key] != study_table(DEMO).get(key)}
    kept = [
        line
        for line in DEMO.splitlines()
        if line.strip() and line.partition("=")[0].strip() not in touched
    ]
    there = made.splitlines()
    assert [line for line in kept if line not in there] == []


@settings(max_examples=60, deadline=None)
@given(items=st.lists(PARTS, max_size=5), seed=st.randoms(use_true_random=False))
def test_any_parts_can_be_told_in_place_of_others(items: list[dict[str, Any]], seed: Any) -> None:
    wanted = study_table(DEMO)
    parts = [*wanted["part"], *items]
    seed.shuffle(parts)
    wanted["part"] = parts[: seed.randint(1, len(parts))]
    made = retold(DEMO, wanted)
    assert tomllib.loads(made) == wanted
    # Remarks that do not stand within a part are still there.
    outside = comments(DEMO.partition("[[part]]")[0])
    assert comments(made)[: len(outside)] == outside


def test_one_size_of_one_part_is_one_line() -> None:
    part = dict(study_table(DEMO)["part"][1], hole_mm=16)
    before, after = DEMO.splitlines(), with_item(DEMO, "part", 1, part).splitlines()
    changed = [(a, b) for a, b in zip(before, after, strict=True) if a != b]
    assert changed == [("hole_mm = 14", "hole_mm = 16")]


def test_a_remark_behind_a_value_stays_behind_it() -> None:
    made = with_keys(DEMO, {"worth": 1.25})
    assert "worth = 1.25                # a tenth more is worth the trouble" in made


def test_a_new_key_of_the_file_stands_before_its_tables() -> None:
    made = with_keys(
        'title = "x" # mine\n\n# the scale\n[[instrument]]\nname = "a"\n', {"unit": "N"}
    )
    assert made.splitlines()[:2] == ['title = "x" # mine', 'unit = "N"']


def test_a_table_that_loses_its_last_key_goes() -> None:
    assert study_table(with_keys("[wish]\npieces = 3\n", {"pieces": None}, within="wish")) == {}


def test_parts_move_and_go() -> None:
    names = [part["name"] for part in study_table(DEMO)["part"]]
    moved = study_table(moved_item(DEMO, "part", 0, to=2))["part"]
    assert [part["name"] for part in moved] == [names[1], names[2], names[0], *names[3:]]
    left = study_table(without_item(DEMO, "part", 2))["part"]
    assert [part["name"] for part in left] == [*names[:2], *names[3:]]
    with pytest.raises(ImpossibleValue, match="no part number 7"):
        without_item(DEMO, "part", 6)


def test_what_is_no_toml_is_said_to_be_none() -> None:
    with pytest.raises(ImpossibleValue, match="not valid TOML"):
        with_keys("title = ", {"worth": 1.1})


def test_a_new_study_is_read_by_the_strict_reader() -> None:
    new = NewStudy(
        question='Does a "wedge"\nhelp?  I doubt it.',
        groups=("plain", "with wedge"),
        reference="plain",
        counts="pull-out",
        worth=1.2,
        unit="kgf",
        scales=(NewScale("crane scale", 600, 0.2), NewScale("old scale")),
        sharing="separate-peaks",
    )
    study = plan_source_of(new_study_toml(new), file="study.toml").study
    assert (study.title, study.question) == (
        'Does a "wedge" help?',
        'Does a "wedge" help? I doubt it.',
    )
    assert (study.groups, study.reference, study.counts, study.worth) == (
        ("plain", "with wedge"),
        "plain",
        "pull-out",
        1.2,
    )
    assert [i.name for i in study.instruments] == ["crane scale", "old scale"]
    # 600 kgf, by the definition of the kilogram-force
    assert study.instruments[0].capacity == pytest.approx(600 * 9.80665, rel=1e-12)
    assert study.instruments[1].capacity is None


def test_a_handle_is_never_empty_and_never_taken() -> None:
    assert free_handle("???", ()) == "study"
    assert free_handle("Peg test!", {"peg-test", "peg-test-2"}) == "peg-test-3"
