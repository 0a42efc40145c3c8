"""Everything before the first cut in one: predictions, rig, scales, plan."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from breakwright.model.study import Study
from breakwright.usecases.plan_result import PlanResult
from breakwright.usecases.predict_result import PredictResult
from breakwright.usecases.rig_result import RigResult
from breakwright.usecases.scales_result import ScalesResult

__all__ = ["BEFORE_SCHEMA", "Before", "Progress", "look_ahead"]

BEFORE_SCHEMA = "breakwright/before/1"

Progress = Callable[[str, float], None]


@dataclass(frozen=True, slots=True)
class Before:
    """The four results of one study, made with one seed."""

    schema: str
    predict: PredictResult
    rig: RigResult
    scales: ScalesResult
    plan: PlanResult


def look_ahead(
    study: Study, *, seed: int, offers: tuple[float, ...] = (), progress: Progress | None = None
) -> Before:
    """Foretell, check and plan. The same study and seed give the same, to the bit.

    ``offers`` are capacities (N) of scales that could be bought.
    """
    from breakwright.usecases.plan import plan_study
    from breakwright.usecases.predict import predict_study
    from breakwright.usecases.rig import check_rig
    from breakwright.usecases.scales import check_scales

    tell = progress or _silent
    study = replace(study, wish=replace(study.wish, seed=seed))
    tell("foretelling what breaks", 0.0)
    predict = predict_study(study)
    tell("holding the rig against the pieces", 0.1)
    rig = check_rig(study, seed=seed)
    tell("trying the scales", 0.3)
    scales = check_scales(study, rig, seed=seed, offers=offers)
    tell("counting pieces", 0.45)
    plan = plan_study(study, rig=rig, scales=scales)
    tell("done", 1.0)
    return Before(BEFORE_SCHEMA, predict, rig, scales, plan)


def _silent(_what: str, _share: float) -> None:
    return None
