"""A study before anything is broken: study.toml without a sheet, and what it says ahead."""

from pathlib import Path

import pytest

from breakwright.files.planning import read_plan_source
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.foresight import Expected, Layout, Wish
from breakwright.model.units import ForceUnit

WHOLE = """title = "Pegs"
question = "Does a wedge help?"
groups = ["plain", "wedged tenon"]
reference = "plain"
worth = 1.2
unit = "kgf"
sharing = "same-moment"

[[instrument]]
name = "left scale"
capacity = 50
[[instrument]]
name = "right"
capacity = 50

[expected]
median = 60
cv = 0.2
ratio = { "wedged tenon" = 1.4 }
wrong_way = 0.1
pilots = [52, 61.5]

[wish]
pieces = 12
chance = 0.9
width = 1.3
blocks = ["A", "B"]
days = 2
operators = ["me", "you"]
pairs = true
longest_run = 3
seed = 7

[layout]
scale_at_mm = { "left scale" = 0, right = 500 }
load_at_mm = 250
wander_mm = 20
rate = 1.5
loose_mass_kg = 0.4
stroke_mm = 60
"""


def study_at(folder: Path, text: str) -> Path:
    (folder / "study.toml").write_text(text, "utf-8")
    return folder


def problems(folder: Path, text: str) -> tuple[Problem, ...]:
    with pytest.raises(InputRefused) as caught:
        read_plan_source(study_at(folder, text))
    return caught.value.problems


def test_everything_that_can_be_said_ahead(tmp_path: Path) -> None:
    source = read_plan_source(study_at(tmp_path, WHOLE))
    study = source.study

    assert study.trials == ()
    assert study.groups == ("plain", "wedged tenon")
    assert (study.unit, study.reference, study.worth) == (ForceUnit.KGF, "plain", 1.2)
    assert study.expected == Expected(
        median=60 * 9.80665,
        cv=0.2,
        ratio={"wedged tenon": 1.4},
        wrong_way=0.1,
        pilots=(52 * 9.80665, 61.5 * 9.80665),
    )
    assert study.wish == Wish(
        pieces=12,
        chance=0.9,
        width=1.3,
        blocks=("A", "B"),
        days=2,
        operators=("me", "you"),
        pairs=True,
        longest_run=3,
        seed=7,
    )
    assert study.layout == Layout(
        scale_at={"left scale": 0.0, "right": 500.0},
        load_at=250.0,
        wander=20.0,
        rate=1.5 * 9.80665,
        loose_mass=0.4,
        stroke=60.0,
    )
    assert [scale.capacity for scale in study.instruments] == [490.3325, 490.3325]
    assert source.study_file == str(tmp_path / "study.toml")
    assert source.notices == ()


def test_a_sheet_beside_it_is_not_looked_at(tmp_path: Path) -> None:
    (tmp_path / "trials.csv").write_text("not,a\nsheet", "utf-8")

    assert read_plan_source(study_at(tmp_path, WHOLE)).study.trials == ()


def test_a_file_of_another_name_can_be_planned_from(tmp_path: Path) -> None:
    (tmp_path / "other.toml").write_text(WHOLE, "utf-8")

    assert read_plan_source(tmp_path / "other.toml").study.title == "Pegs"


def test_without_groups_there_is_one(tmp_path: Path) -> None:
    study = read_plan_source(study_at(tmp_path, 'title = "x"\n')).study

    assert (study.groups, study.reference, study.unit) == (("pieces",), "pieces", ForceUnit.N)


def test_the_first_group_is_the_reference_and_it_is_said(tmp_path: Path) -> None:
    source = read_plan_source(study_at(tmp_path, 'groups = ["a", "b"]\n'))

    assert source.study.reference == "a"
    assert [notice.code for notice in source.notices] == ["reference-from-order"]


@pytest.mark.parametrize(
    "loads",
    [
        '[[instrument]]\nname = "s"\ncapacity = 50\n',
        "[expected]\nmedian = 50\n",
        "[expected]\npilots = [50]\n",
        "[layout]\nrate = 1\n",
        '[[part]]\nname = "a"\nkind = "own tests"\nown_tests = [5, 6, 7]\n',
    ],
)
def test_loads_without_a_unit_are_asked_about(loads: str, tmp_path: Path) -> None:
    (found,) = problems(tmp_path, loads)

    assert found.code == "unit-missing"
    assert "unit = " in (found.do or "")


HEAD = 'groups = ["plain", "wedged"]\nunit = "N"\n'
BAD = {
    "median of nothing": ("[expected]\nmedian = 0\n", "bad-expected", 4, "above 0"),
    "scatter in per cent": ("[expected]\ncv = 20\n", "bad-expected", 4, "0.2 means 20 %"),
    "all break wrong": ("[expected]\nwrong_way = 1.0\n", "bad-expected", 4, "below 1"),
    "ratio of a stranger": (
        "[expected]\nratio = { wegded = 1.3 }\n",
        "unknown-name",
        4,
        "Did you mean 'wedged'?",
    ),
    "ratio of nothing": ("[expected]\nratio = { wedged = 0 }\n", "bad-expected", 4, "1.2"),
    "pilot below 0": ("[expected]\npilots = [4, -4]\n", "bad-expected", 4, "above 0"),
    "pilots alone": ("[expected]\npilots = 4\n", "wrong-type", 4, "list"),
    "one piece": ("[wish]\npieces = 1\n", "bad-wish", 4, "2 or more"),
    "half a piece": ("[wish]\npieces = 2.5\n", "wrong-type", 4, "whole number"),
    "chance of one": ("[wish]\nchance = 1\n", "bad-wish", 4, "between 0 and 1"),
    "width below 1": ("[wish]\nwidth = 0.9\n", "bad-wish", 4, "above 1"),
    "no day": ("[wish]\ndays = 0\n", "bad-wish", 4, "1 or more"),
    "a run of none": ("[wish]\nlongest_run = 0\n", "bad-wish", 4, "1 or more"),
    "a seed below 0": ("[wish]\nseed = -1\n", "bad-wish", 4, "0 or more"),
    "a block twice": ('[wish]\nblocks = ["A", "A "]\n', "bad-wish", 4, "twice"),
    "unknown wish": ("[wish]\nchanse = 0.8\n", "unknown-key", 4, "Did you mean 'chance'?"),
    "unknown layout": ("[layout]\nload_at = 3\n", "unknown-key", 4, "load_at_mm"),
    "a scale of nobody": ("[layout]\nscale_at_mm = { left = 0 }\n", "unknown-name", 4, "none"),
    "wander below 0": ("[layout]\nwander_mm = -1\n", "bad-layout", 4, "0 or more"),
    "no mass": ("[layout]\nloose_mass_kg = 0\n", "bad-layout", 4, "above 0"),
    "reference of nobody": ('reference = "plian"\n', "unknown-reference", 3, "'plain'"),
}


@pytest.mark.parametrize("name", sorted(BAD))
def test_it_is_refused_with_its_reason_and_place(name: str, tmp_path: Path) -> None:
    text, code, line, says = BAD[name]

    (found,) = problems(tmp_path, HEAD + text)

    assert (found.code, found.line) == (code, line)
    assert found.do
    assert says in " ".join(filter(None, (found.message, found.read, found.allowed, found.do)))


SCALES = '[[instrument]]\nname = "a"\n[[instrument]]\nname = "b"\n[layout]\n'


@pytest.mark.parametrize(
    ("layout", "says"),
    [
        ("scale_at_mm = { a = 5, b = 5 }\n", "same place"),
        ("scale_at_mm = { a = 0, b = 500 }\nload_at_mm = 600\n", "0 to 500 mm"),
    ],
)
def test_a_layout_that_cannot_stand(layout: str, says: str, tmp_path: Path) -> None:
    (found,) = problems(tmp_path, HEAD + SCALES + layout)

    assert found.code == "bad-layout"
    assert says in f"{found.message} {found.allowed}"


def test_where_there_is_no_study(tmp_path: Path) -> None:
    (tmp_path / "sheet.csv").write_text("group,load_N\n", "utf-8")
    for path, code in (
        (tmp_path, "no-study-in-folder"),
        (tmp_path / "sheet.csv", "not-a-study"),
        (tmp_path / "none.toml", "no-such-file"),
    ):
        with pytest.raises(InputRefused) as caught:
            read_plan_source(path)
        assert [p.code for p in caught.value.problems] == [code]


def test_toml_that_cannot_be_read_is_told_once(tmp_path: Path) -> None:
    (found,) = problems(tmp_path, "groups = [\n")

    assert found.code == "toml-syntax"
