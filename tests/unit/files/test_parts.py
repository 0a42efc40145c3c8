"""The [[part]] tables of study.toml: what is read of them, and every reason to refuse one."""

from pathlib import Path

import pytest

from breakwright.files.planning import read_plan_source
from breakwright.files.source import ReadOptions, read_source
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.part import Part

HEAD = 'groups = ["plain", "wedged"]\nunit = "kgf"\n'
WHOLE = """[[part]]
name = " rail "
kind = "plate with hole"
material = "ash"
thickness_in = 0.75
width_mm = { value = 30, cv = 0.02 }
mor_MPa = { value = 90 }
span_m = 0.4
tested = true
breaks = "plate bends and cracks"
own_tests = [41.5, 38, 44.2]
[part.group.wedged]
thickness_in = 1
material = "oak"

[[part]]
name = "screws"
kind = "wood screw"
count = 4
share = [0.2, 0.3]
rated_kN = 2
threads_per_in = 18
"""


def parts(folder: Path, text: str) -> tuple[Part, ...]:
    (folder / "study.toml").write_text(HEAD + text, "utf-8")
    return read_plan_source(folder).study.parts


def problems(folder: Path, text: str) -> tuple[Problem, ...]:
    with pytest.raises(InputRefused) as caught:
        parts(folder, text)
    return caught.value.problems


def test_everything_that_a_part_can_say(tmp_path: Path) -> None:
    rail, screws = parts(tmp_path, WHOLE)

    assert (rail.name, rail.kind, rail.count, rail.share) == ("rail", "plate with hole", 1, None)
    assert dict(rail.words) == {"material": "ash"}
    assert rail.numbers["thickness_mm"] == pytest.approx(19.05)
    assert rail.numbers["span_mm"] == 400.0
    assert dict(rail.spread) == {"width_mm": 0.02, "mor_MPa": 0.0}
    assert (rail.tested, rail.breaks) == (True, "plate bends and cracks")
    assert rail.own_tests == pytest.approx((41.5 * 9.80665, 38 * 9.80665, 44.2 * 9.80665))
    assert dict(rail.by_group["wedged"]) == {"thickness_mm": 25.4, "material": "oak"}
    assert (screws.count, screws.share) == (4, (0.2, 0.3))
    assert dict(screws.numbers) == {"rated_N": 2000.0, "threads_per_in": 18.0}


def test_a_part_remembers_its_lines(tmp_path: Path) -> None:
    rail, screws = parts(tmp_path, WHOLE)

    lines = (HEAD + WHOLE).splitlines()
    assert lines[rail.lines["thickness_mm"] - 1] == "thickness_in = 0.75"
    assert lines[rail.lines["breaks"] - 1].startswith("breaks")
    assert lines[screws.lines[""] - 1] == "[[part]]"
    assert lines[screws.lines["count"] - 1] == "count = 4"


def test_a_number_without_cv_has_no_spread_stated(tmp_path: Path) -> None:
    (part,) = parts(tmp_path, '[[part]]\nname = "a"\nkind = "b"\nspan_mm = 3\n')

    assert dict(part.spread) == {}


START = '[[part]]\nname = "a"\nkind = "b"\n'
BAD = {
    "no kind": ('[[part]]\nname = "a"\nknid = "b"\n', "missing-key", 3, ("kind", "knid")),
    "no name": ('[[part]]\nkind = "b"\n', "missing-key", 3, ("name",)),
    "empty name": ('[[part]]\nname = " "\nkind = "b"\n', "bad-part", 4, ("empty",)),
    "kind a number": ('[[part]]\nname = "a"\nkind = 3\n', "wrong-type", 5, ("text",)),
    "two of one name": (START + START, "bad-part", 7, ("two parts",)),
    "count of none": (START + "count = 0\n", "bad-part", 6, ("1 to",)),
    "half a piece": (START + "count = 2.5\n", "wrong-type", 6, ("whole number",)),
    "share in per cent": (START + "share = 54\n", "bad-part", 6, ("0.54",)),
    "share turned round": (START + "share = [0.5, 0.4]\n", "bad-part", 6, ("least",)),
    "share of three": (START + "share = [0.1, 0.2, 0.3]\n", "wrong-type", 6, ("brackets",)),
    "shares too large": (
        START + "count = 4\nshare = 0.5\n",
        "shares-do-not-add-up",
        7,
        ("at least 2", "0.25"),
    ),
    "shares too small": (
        START + "count = 4\nshare = [0.1, 0.2]\n",
        "shares-do-not-add-up",
        7,
        ("at most 0.8",),
    ),
    "tested in words": (START + 'tested = "yes"\n', "wrong-type", 6, ("true or false",)),
    "breaks of a rig's part": (START + 'breaks = "x"\n', "bad-part", 6, ("tested = true",)),
    "own tests of one": (START + "own_tests = 41\n", "wrong-type", 6, ("list of loads",)),
    "own tests of nothing": (START + "own_tests = [0]\n", "bad-part", 6, ("above 0",)),
    "a flag for a size": (START + "span_mm = true\n", "wrong-type", 6, ("number",)),
    "a list for a size": (START + "span_mm = [3, 4]\n", "wrong-type", 6, ("cv",)),
    "no number at all": (START + "span_mm = nan\n", "wrong-type", 6, ("number",)),
    "spread in per cent": (
        START + "span_mm = { value = 3, cv = 15 }\n",
        "bad-part",
        6,
        ("0.15 for 15 %",),
    ),
    "spread misspelt": (
        START + "span_mm = { value = 3, vc = 0.1 }\n",
        "unknown-key",
        6,
        ("value, vc",),
    ),
    "spread without value": (START + "span_mm = { cv = 0.1 }\n", "missing-key", 6, ("value",)),
    "one size twice": (START + "span_mm = 3\nspan_in = 3\n", "bad-part", 7, ("given twice",)),
    "an empty word": (START + 'material = ""\n', "bad-part", 6, ("empty",)),
    "unknown group": (
        START + "[part.group.wegded]\nspan_mm = 3\n",
        "unknown-group",
        6,
        ("'wedged'",),
    ),
    "group not a table": (START + "group = 3\n", "wrong-type", 6, ("[part.group.wedged]",)),
    "count by group": (
        START + "[part.group.wedged]\ncount = 3\n",
        "unknown-key",
        7,
        ("whole part",),
    ),
    "spread by group": (
        START + "[part.group.wedged]\nspan_mm = { value = 3, cv = 0.1 }\n",
        "wrong-type",
        7,
        ("spread is that of the part",),
    ),
    "two tested": (
        START + "tested = true\n" + START.replace('"a"', '"c"') + "tested = true\n",
        "two-tested-parts",
        10,
        ("one part only",),
    ),
    "part not a list": ("part = 3\n", "wrong-type", 3, ("list",)),
}


@pytest.mark.parametrize("name", sorted(BAD))
def test_it_is_refused_with_its_reason_and_place(name: str, tmp_path: Path) -> None:
    text, code, line, says = BAD[name]

    (found,) = problems(tmp_path, text)

    assert (found.code, found.line) == (code, line)
    assert found.file == str(tmp_path / "study.toml")
    assert found.do
    words = " ".join(filter(None, (found.message, found.read, found.allowed, found.do)))
    for said in says:
        assert said in words


def test_several_problems_at_once(tmp_path: Path) -> None:
    found = problems(
        tmp_path,
        START + "count = 0\nshare = 7\n[wish]\npieces = 1\n[layout]\nstroke_mm = -1\n",
    )

    assert [(p.code, p.column_name) for p in found] == [
        ("bad-part", "part[1].count"),
        ("bad-part", "part[1].share"),
        ("bad-wish", "wish.pieces"),
        ("bad-layout", "layout.stroke_mm"),
    ]


def test_an_answer_reads_the_parts_as_well(tmp_path: Path) -> None:
    (tmp_path / "study.toml").write_text(HEAD + WHOLE, "utf-8")
    (tmp_path / "trials.csv").write_text("group,load\nplain,41\nplain,42\nwedged,53\n", "utf-8")

    source = read_source(tmp_path, ReadOptions())

    assert source.study.parts == parts(tmp_path, WHOLE)
    assert source.study_file == str(tmp_path / "study.toml")


@pytest.mark.parametrize(
    ("written", "house", "value"),
    [
        ("span_in = 2", "span_mm", 50.8),
        ("span_cm = 2", "span_mm", 20.0),
        ("rated_kgf = 100", "rated_N", 980.665),
        ("rated_lbf = 100", "rated_N", 444.8222),
        ("mor_psi = 1000", "mor_MPa", 6.894757),
        ("proof_ksi = 100", "proof_MPa", 689.4757),
        ("moe_GPa = 12", "moe_MPa", 12000.0),
        ("density_g_cm3 = 0.65", "density_kg_m3", 650.0),
        ("density_lb_ft3 = 100", "density_kg_m3", 1601.846),
    ],
)
def test_other_units_are_converted(written: str, house: str, value: float, tmp_path: Path) -> None:
    """Factors as NIST Special Publication 811, appendix B, prints them (seven digits, memory)."""
    (part,) = parts(tmp_path, START + written + "\n")

    assert dict(part.numbers) == {house: pytest.approx(value, rel=3e-7)}
