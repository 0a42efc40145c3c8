"""Moments and deflections against anastruct 1.7.0, a general-purpose plane frame program.

Its numbers are recorded in peers/anastruct_beams.csv by the script beside it. It solves in single
precision here and there, so moments agree to 1e-7 and deflections to 1e-6.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from breakwright.strength.beams import beam_moment
from breakwright.strength.deflection import bending_deflection

RECORDED = Path(__file__).parent / "peers" / "anastruct_beams.csv"


def rows() -> list[dict[str, float]]:
    lines = RECORDED.read_text("utf-8").splitlines()
    assert lines[0] == "# recorded with anastruct 1.7.0"
    return [{k: float(v) for k, v in row.items()} for row in csv.DictReader(lines[1:])]


@pytest.mark.parametrize("case", rows())
def test_moment_and_deflection(case: dict[str, float]) -> None:
    v = {k: np.asarray(x) for k, x in case.items()}
    moment = beam_moment(v["load_N"], v["span_mm"], v["spread_mm"])
    assert float(moment) == pytest.approx(case["moment_Nmm"], rel=1e-7)
    stiffness = v["moe_MPa"] * v["width_mm"] * v["depth_mm"] ** 3 / 12.0
    sag = bending_deflection(
        v["load_N"], span_mm=v["span_mm"], spread_mm=v["spread_mm"], stiffness_Nmm2=stiffness
    )
    assert float(sag) == pytest.approx(case["bending_mm"], rel=1e-6)


def test_five_cases_are_recorded() -> None:
    assert [case["spread_mm"] for case in rows()] == [0.0, 400.0, 200.0, 0.0, 500.0]
