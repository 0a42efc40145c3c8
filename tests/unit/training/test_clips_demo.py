"""The demo's film: what it shows agrees with the sheet, and what is shipped is that film."""

import csv
import tomllib
from importlib import resources

import numpy as np
import pytest
from training.clips.demo import DARK_AT, FILM, SCENE, SEED
from training.clips.take import take
from training.clips.truth import Truth

from breakwright.model.film import Shown

_DEMO = resources.files("breakwright.demo")


@pytest.fixture(scope="module")
def truth() -> Truth:
    return take(SCENE, seed=SEED).truth


def test_the_last_numbers_are_those_of_the_sheet(truth: Truth) -> None:
    rows = csv.DictReader(_DEMO.joinpath("trials.csv").read_text("utf-8").splitlines())
    (row,) = [row for row in rows if row["specimen"] == "C1"]
    left, right = truth.displays
    dark = int(np.searchsorted(truth.times, DARK_AT))
    assert (left.texts[dark - 1], f">{right.texts[dark - 1]}") == (
        row["load_1_kgf"],
        row["load_2_kgf"],
    )
    both = [
        n
        for n in range(dark)
        if left.texts[n] == left.texts[dark - 1] and left.settled[n]
        if right.texts[n] == right.texts[dark - 1] and right.settled[n]
    ]
    assert len(both) >= 2


def test_the_right_one_stays_dark_and_the_left_one_goes_on(truth: Truth) -> None:
    left, right = truth.displays
    (peak,) = truth.peaks
    after = truth.times > DARK_AT + 0.05
    assert all(right.shown[n] is Shown.BLANK for n in np.flatnonzero(after))
    assert peak.at > DARK_AT + 1.0
    assert np.nanmax(left.values[after]) > 20.70
    assert left.texts[-1] == "0.00"


def test_the_shipped_film_is_this_one(truth: Truth) -> None:
    av = pytest.importorskip("av")
    table = tomllib.loads(_DEMO.joinpath("displays.toml").read_text("utf-8"))
    assert table["film"] == FILM
    assert [display["instrument"] for display in table["display"]] == ["left scale", "right scale"]
    with resources.as_file(_DEMO.joinpath(FILM)) as path:
        assert path.stat().st_size < 600_000
        with av.open(str(path)) as container:
            assert "nvented" in container.metadata["comment"]
            assert container.streams.audio
            seen = [float(p.pts * p.time_base) for p in container.demux(video=0) if p.size]
    assert sorted(seen) == pytest.approx(truth.times.tolist(), abs=1e-4)
    frame = int(np.argmin(np.abs(truth.times - table["display"][0]["time"])))
    for display, one in zip(table["display"], truth.displays, strict=True):
        # A person's corners are off by a pixel or two, no more.
        assert np.abs(np.array(display["corners"]) - one.corners[frame]).max() < 2.5
