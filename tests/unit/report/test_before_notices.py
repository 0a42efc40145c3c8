"""Every notice that real studies raise before the first cut has words that fit its facts."""

from pathlib import Path

import pytest

from breakwright.bootstrap import read_plan
from breakwright.model.units import ForceUnit
from breakwright.report.before_page import before_page
from breakwright.report.before_sheets import before_sheet
from breakwright.report.notice_words import notice_words

from . import before_samples

PEG = """[[part]]
name = "peg"
kind = "glued lap"
tested = true
material = "ash"
width_mm = 44
overlap_mm = 20
glue_shear_MPa = { value = 0.68, cv = 0.15 }
"""
TAPPED = """[[part]]
name = "hole"
kind = "tapped plate"
tested = true
breaks = "thread strips"
thread = "M8"
material = "birch plywood"
thickness_mm = 18
width_mm = 100
span_mm = 100
"""
HEAD = 'groups = ["plain", "wedged"]\nunit = "kgf"\n'
STUDIES = {
    "nothing at all": HEAD,
    "no way marked": HEAD + PEG,
    "no scatter known": HEAD + "[expected]\nmedian = 60\n",
    "a ratio worth knowing": HEAD
    + "worth = 1.2\n"
    + PEG.replace("tested", 'breaks = "glue line shears"\ntested'),
    "an order of magnitude": HEAD
    + TAPPED
    + '[[instrument]]\nname = "s"\ncapacity = 300\nresolution = 20\n'
    + "[wish]\npieces = 3\nwidth = 1.1\n",
    "own tests": HEAD + TAPPED + "own_tests = [390, 420, 400]\n",
    "pilots all alike": HEAD + TAPPED + "[expected]\npilots = [400, 400, 400]\n",
    "pilots that disagree": HEAD + "[expected]\ncv = 0.9\npilots = [400, 420, 390]\n",
    "a few pilots": HEAD + "worth = 1.3\n[expected]\npilots = [400, 420, 390]\n",
    "a weak rig": HEAD
    + PEG
    + '[[part]]\nname = "eye"\nkind = "rated part"\nwhat = "eye bolt"\nrated_kgf = 60\n'
    + '[[part]]\nname = "ply"\nkind = "tapped plate"\nthread = "M8"\nmaterial = "birch plywood"\n'
    + "thickness_mm = 18\nwidth_mm = 100\nspan_mm = 2000\n"
    + "[layout]\nloose_mass_kg = 0.01\nstroke_mm = 1\n",
    "scales of every kind": HEAD
    + 'sharing = "separate-peaks"\nworth = 1.2\n'
    + PEG
    + '[[instrument]]\nname = "a"\ncapacity = 40\ntare = 10\nfactor = [0.8, 1.2]\n'
    + "refresh_s = 1\nweight = [{ true = 5, shown = 5 }]\n"
    + '[[instrument]]\nname = "b"\nrefresh_s = 1\n'
    + "[layout]\nscale_at_mm = { a = 0, b = 500 }\nwander_mm = 400\nrate = 5\n",
    "scales in the corner": 'sharing = "same-moment"\n'
    + HEAD
    + PEG
    + '[[instrument]]\nname = "a"\ncapacity = 40\n[[instrument]]\nname = "b"\ncapacity = 40\n'
    + "[layout]\nscale_at_mm = { a = 0, b = 500 }\nload_at_mm = 100\n",
    "three scales": 'sharing = "same-moment"\n'
    + HEAD
    + PEG
    + "".join(f'[[instrument]]\nname = "{n}"\ncapacity = 20\n' for n in "abc")
    + "[layout]\nscale_at_mm = { a = 0, b = 250, c = 500 }\n",
    "scales nobody placed": 'sharing = "same-moment"\n'
    + HEAD
    + PEG
    + "".join(f'[[instrument]]\nname = "{n}"\ncapacity = 20\n' for n in "ab"),
    "scales nobody shares": HEAD
    + PEG
    + "".join(f'[[instrument]]\nname = "{n}"\ncapacity = 20\n' for n in "ab"),
    "a limit and no strength": HEAD + '[[instrument]]\nname = "a"\ncapacity = 20\n',
    "odd numbers to spread": HEAD
    + PEG
    + '[wish]\npieces = 5\nblocks = ["A", "B", "C", "D", "E", "F", "G"]\ndays = 2\n',
    "as strong as the other": HEAD + PEG + "[expected]\nratio = { wedged = 1.0 }\n",
    "three groups": 'groups = ["a", "b", "c"]\nunit = "N"\nworth = 1.5\n'
    + "[expected]\nmedian = 60\ncv = 0.2\n",
}


@pytest.mark.parametrize("name", sorted(STUDIES))
def test_it_is_told_in_whole_sentences(name: str, tmp_path: Path) -> None:
    (tmp_path / "study.toml").write_text(STUDIES[name], "utf-8")
    study = read_plan(tmp_path).study

    found = before_samples.quickly(study)

    for result in (found.predict, found.rig, found.scales, found.plan):
        for notice in result.notices:
            words = notice_words(notice, ForceUnit.KGF)
            assert "has something to say" not in words
            assert words.endswith(".")
    page = before_page(before_sheet(found, version="1"))
    assert 'id="h-short"' in page
    assert "None" not in page
    assert "nan" not in page


def test_together_they_raise_most_of_the_codes(tmp_path: Path) -> None:
    raised: set[str] = set()
    for text in STUDIES.values():
        (tmp_path / "study.toml").write_text(text, "utf-8")
        study = read_plan(tmp_path).study
        found = before_samples.without_plan(study)
        for result in found:
            raised |= {notice.code for notice in result.notices}
    assert len(raised) >= 25, sorted(raised)
