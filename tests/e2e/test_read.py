"""The demo's film through the installed command: as it is, and as phones and accidents leave it."""

import csv
import importlib
import json
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from breakwright.bootstrap import copy_demo, film_told
from breakwright.bootstrap.film_marks import displays_of_file
from breakwright.cli import demo
from breakwright.cli.main import run

ROOT = Path(__file__).parents[2]
FILM = "peg-C1.mp4"

Command = Callable[..., Any]

pytest.importorskip("av", reason="reading films needs breakwright[video]")


@pytest.fixture
def study(tmp_path: Path) -> Path:
    copy_demo(tmp_path / "study")
    return tmp_path / "study"


def peaks(folder: Path) -> list[dict[str, Any]]:
    form = json.loads((folder / "film.json").read_text("utf-8"))
    return [
        {
            "lower": found["lower"],
            "upper": found["upper"],
            "ending": found["ending"],
            "loads": [(window["display"], window["lower"]) for window in found["windows"]],
        }
        for found in form["breaks"]
    ]


def read(*words: object) -> int:
    return run(["read", *map(str, words)])


def without_drawing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(film_told, "_pictures", lambda _: {})


def test_the_demo_film_says_what_the_sheet_says(breakwright: Command, study: Path) -> None:
    done = breakwright("read", study / FILM, "--study", study, "--piece", "C1")
    assert done.returncode == 0, done.stderr
    words = " ".join(done.stdout.split())
    assert re.search(r"at least 41\.75 kgf: «right scale» went dark 1\.[23] s", words)
    assert "says so already; nothing was written" in words
    assert done.stderr.count("written: ") == 7
    (found,) = peaks(study / "peg-C1-read")
    assert found["loads"] == [("left scale", 20.7), ("right scale", 21.1)]
    assert (found["upper"], found["ending"]) == (None, "screen-lost")


def test_the_demo_puts_what_the_film_says_into_its_copy(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the sheet said before makes no difference: the film's reading takes its place."""
    without_drawing(monkeypatch)
    sheet = study / "trials.csv"
    before = sheet.read_text("utf-8")
    sheet.write_text(before.replace("20.70,>21.10,screen-lost", "10.00,10.00,broke"))
    copy_demo(study)
    said = demo._film_read(study, None)
    assert said.startswith("Piece C1 was read off its film, peg-C1.mp4: at least 41.75 kgf")
    rows = csv.DictReader(sheet.read_text("utf-8").splitlines())
    row = next(row for row in rows if row["specimen"] == "C1")
    assert (row["load_1_kgf"], row["load_2_kgf"]) == ("20.70", ">21.10")
    assert row["ended"] == "screen-lost"
    kept = json.loads((study / "trials-replaced.jsonl").read_text("utf-8"))
    assert kept["row"]["load_1_kgf"] == "10.00"


@pytest.mark.parametrize("kind", ["truncated", "turned", "uneven"])
def test_copies_of_the_film_give_the_same_peak(
    study: Path, kind: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    without_drawing(monkeypatch)
    monkeypatch.syspath_prepend(str(ROOT))
    containers = importlib.import_module("training.clips.containers")
    copy = study / f"{kind}.mp4"
    if kind == "truncated":
        containers.truncated(study / FILM, copy, part=0.97)
    elif kind == "turned":
        containers.turned_copy(study / FILM, copy, degrees=90)
    else:
        containers.uneven_copy(study / FILM, copy, every=5)
    assert read(copy, "--displays", study / "displays.toml", "--study", study) == 0
    (found,) = peaks(study / f"{kind}-read")
    assert found["loads"] == [("left scale", 20.7), ("right scale", 21.1)]
    assert found["lower"] == pytest.approx(41.75 * 9.80665, abs=1e-6)
    assert (found["upper"], found["ending"]) == (None, "screen-lost")


def test_candidates_are_proposed_and_drawn(study: Path, tmp_path: Path) -> None:
    assert read(study / FILM, "--propose", "--out", tmp_path) == 0
    assert (tmp_path / "peg-C1-displays.png").read_bytes().startswith(b"\x89PNG")
    found = displays_of_file(tmp_path / "peg-C1.displays.toml").displays
    middles = [
        (sum(x for x, _ in one.corners) / 4.0, sum(y for _, y in one.corners) / 4.0)
        for one in found
    ]
    # Where the film's own displays.toml has the middles of its two digit rows.
    for x, y in ((273.7, 245.2), (645.1, 251.7)):
        assert any(abs(a - x) < 15.0 and abs(b - y) < 15.0 for a, b in middles)


def test_without_the_libraries_it_says_what_brings_them(study: Path) -> None:
    hidden = (
        "import sys; sys.modules['av'] = None; from breakwright.cli.main import run; "
        f"sys.exit(run(['read', {str(study / FILM)!r}]))"
    )
    done = subprocess.run(
        [sys.executable, "-c", hidden], capture_output=True, text=True, check=False
    )
    assert done.returncode == 2
    assert "breakwright[video]" in done.stderr
    assert "Traceback" not in done.stderr
