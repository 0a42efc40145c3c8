"""Propagation of scatter by ``predict`` against the package uncertainties 3.2.3.

Its numbers are recorded in peers/uncertainties_loads.csv by the script beside it, which writes
the formulas out again. The package gives the exact derivative; ours is a central difference of
logs with step 1e-4, so exponents agree to 1e-6. Our scatter is that of logs, sqrt(ln(1 + CV^2)):
its pieces are turned into the package's plain CVs before they are compared.
"""

import csv
import math
from itertools import groupby
from pathlib import Path

import pytest

from breakwright.strength.catalogue import kinds
from breakwright.strength.mechanism import Mechanism
from breakwright.strength.predict import Resolved, predict
from breakwright.strength.trust import MODEL_SIGMA

RECORDED = Path(__file__).parent / "peers" / "uncertainties_loads.csv"
# Case -> kind, mechanism, numbers that are known exactly.
MEANT = {
    "beam": ("beam", "beam bends and breaks", {"spread_mm": 0.0}),
    "washer": ("washer", "washer sinks in", {}),
    "plate": ("plate with hole", "plate bends and cracks", {}),
    "post": ("post", "post crushes or buckles", {"end_factor": 1.0}),
    "bolt off its axis": (
        "bolt",
        "stretches for good",
        {"pitch_mm": 1.25, "stress_area_cut": 0.9382},
    ),
    "dowel": (
        "dowel joint",
        "dowel pulls out",
        {"glue_factor": 1.0, "fit_factor": 1.0, "surface_factor": 1.0},
    ),
    "lap by its ends": (
        "glued lap",
        "glue line fails from its ends",
        {"other_thickness_mm": 10.0},
    ),
}


def cases() -> dict[str, list[dict[str, str]]]:
    lines = RECORDED.read_text("utf-8").splitlines()
    assert lines[0] == "# recorded with uncertainties 3.2.3"
    rows = csv.DictReader(lines[1:])
    return {case: list(found) for case, found in groupby(rows, lambda row: row["case"])}


def mechanism_of(kind: str, name: str) -> Mechanism:
    return next(m for m in kinds()[kind].mechanisms if m.name == name)


def test_every_case_is_recorded() -> None:
    assert set(cases()) == set(MEANT)


@pytest.mark.parametrize("case", MEANT)
def test_load_exponents_and_scatter(case: str) -> None:
    rows = cases()[case]
    kind, name, exact = MEANT[case]
    mechanism = mechanism_of(kind, name)
    resolved = Resolved(
        part=case,
        numbers={**exact, **{row["input"]: float(row["value"]) for row in rows}},
        cv={row["input"]: float(row["cv"]) for row in rows},
        origin={},
        words={},
        piece_share=1.0,
    )
    found = predict(mechanism, resolved)
    # A grade's minimum is taken up to a median on the way; the package knows nothing of it.
    up = 1.0
    if mechanism.characteristic:
        up = math.exp(1.6448536269514722 * log_sigma(mechanism.cv_if_characteristic))
    assert found.median / up == pytest.approx(float(rows[0]["load_N"]), rel=1e-12)
    inputs = {x.name: x for x in found.inputs}
    for row in rows:
        expected = float(row["exponent"])
        assert inputs[row["input"]].exponent == pytest.approx(expected, rel=1e-6, abs=1e-6)
    plain = math.sqrt(sum((x.exponent * x.cv) ** 2 for x in found.inputs))
    assert plain == pytest.approx(float(rows[0]["relative_scatter"]), rel=1e-6)
    logs = sum((x.exponent * log_sigma(x.cv)) ** 2 for x in found.inputs)
    assert found.sigma == pytest.approx(math.hypot(math.sqrt(logs), MODEL_SIGMA[found.trust]))


def log_sigma(cv: float) -> float:
    return math.sqrt(math.log1p(cv * cv))
