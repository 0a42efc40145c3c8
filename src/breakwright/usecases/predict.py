"""Predict every part of a study: at what load, how, how far to be trusted, what moves it."""

import math
from collections.abc import Iterable, Sequence

from breakwright.model.notice import Notice, Weight
from breakwright.model.part import Part
from breakwright.model.study import Study
from breakwright.rig.look import Catalogue
from breakwright.strength.prediction import Prediction
from breakwright.strength.trust import Trust
from breakwright.usecases.predict_result import (
    PREDICT_SCHEMA,
    PartPredictions,
    PredictResult,
    WayPrediction,
)
from breakwright.usecases.rig import strength_catalogue

__all__ = ["predict_study"]


def predict_study(study: Study, *, catalogue: Catalogue | None = None) -> PredictResult:
    """Every way of every part, and of the part under test for each group.

    The parts must have passed ``strength.resolve.part_problems``; ``PartRefused`` is raised for
    one that has not. ``catalogue`` stands in for the strength room's own.
    """
    known = catalogue or strength_catalogue()
    parts = tuple(
        _predicted(part, group, known)
        for part in study.parts
        for group in (study.groups if part.tested else (None,))
    )
    return PredictResult(
        schema=PREDICT_SCHEMA,
        title=study.title,
        invented=study.invented,
        unit=study.unit,
        groups=study.groups,
        reference=study.reference,
        parts=parts,
        notices=tuple(_notices(study, parts)),
    )


def _predicted(part: Part, group: str | None, known: Catalogue) -> PartPredictions:
    found = sorted(known.predictions(part, group), key=lambda p: p.median)
    kind = known.kinds.get(part.kind)
    only = found[0].mechanism if part.tested and len(found) == 1 else None
    return PartPredictions(
        part=part.name,
        kind=part.kind,
        meaning="" if kind is None else kind.meaning,
        tested=part.tested,
        group=group,
        breaks=part.breaks,
        count=part.count,
        ways=tuple(
            _way(p, intended=p.mechanism == (part.breaks or only), governs=k == 0)
            for k, p in enumerate(found)
        ),
    )


def _way(prediction: Prediction, *, intended: bool, governs: bool) -> WayPrediction:
    inputs = tuple(sorted(prediction.inputs, key=lambda i: -i.share))
    first = inputs[0] if inputs else None
    moves = first is not None and first.share > 0.0 and first.share >= prediction.model_share
    return WayPrediction(
        mechanism=prediction.mechanism,
        intended=intended,
        governs=governs,
        median=prediction.median,
        p5=prediction.p5,
        p95=prediction.p95,
        sigma=prediction.sigma,
        cv=math.sqrt(math.expm1(prediction.sigma**2)),
        trust=prediction.trust,
        source=prediction.source,
        inputs=inputs,
        model_share=prediction.model_share,
        moves_most=first.name if first is not None and moves else None,
        break_three_first=prediction.trust is Trust.ORDER,
        calibrated_on=prediction.calibrated_on,
        notes=prediction.notes,
    )


def _notices(study: Study, parts: Sequence[PartPredictions]) -> Iterable[Notice]:
    if not parts:
        yield Notice("no-parts", Weight.WARNING)
    elif not any(p.tested for p in parts):
        yield Notice("no-tested-part", Weight.WARNING)
    for part in parts:
        if not part.tested or part.group is None:
            continue
        asked = next((w for w in part.ways if w.intended), None)
        if asked is None:
            if part.group == study.reference:
                facts = {"part": part.part, "taken": part.ways[0].mechanism}
                yield Notice("no-intended-mechanism", Weight.WARNING, facts=facts)
            continue
        groups = (part.group,)
        loads = {"median_N": asked.median, "p5_N": asked.p5, "p95_N": asked.p95}
        if asked.break_three_first:
            yield Notice("break-three-first", Weight.WARNING, groups, facts=loads)
        elif asked.calibrated_on:
            n = {"n": asked.calibrated_on, **loads}
            yield Notice("calibrated-on-own", Weight.REMARK, groups, facts=n)
