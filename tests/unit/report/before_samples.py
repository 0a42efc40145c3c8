"""Results before the first cut to draw and word: the demo as it is, and mended. Quickly made."""

from functools import cache
from pathlib import Path

from breakwright.bootstrap import read_plan
from breakwright.model.study import Study
from breakwright.usecases.before import BEFORE_SCHEMA, Before
from breakwright.usecases.plan import PlanSettings, plan_study
from breakwright.usecases.predict import predict_study
from breakwright.usecases.predict_result import PredictResult
from breakwright.usecases.rig import check_rig
from breakwright.usecases.rig_result import RigResult
from breakwright.usecases.scales import check_scales
from breakwright.usecases.scales_result import ScalesResult

ROOT = Path(__file__).parents[3]
DEMO = ROOT / "src" / "breakwright" / "demo"
MENDED = ROOT / "tests" / "e2e" / "mended_demo"


def without_plan(study: Study) -> tuple[PredictResult, RigResult, ScalesResult]:
    """The three results that need no simulated experiments, with few draws."""
    rig = check_rig(study, seed=1, draws=20_000)
    return predict_study(study), rig, check_scales(study, rig, seed=1, draws=2_000)


def quickly(study: Study) -> Before:
    """The four results with few experiments."""
    predict, rig, scales = without_plan(study)
    return Before(
        BEFORE_SCHEMA,
        predict,
        rig,
        scales,
        plan_study(study, rig=rig, scales=scales, settings=PlanSettings(experiments=400)),
    )


@cache
def demo() -> Before:
    return quickly(read_plan(DEMO).study)


@cache
def mended() -> Before:
    return quickly(read_plan(MENDED).study)
