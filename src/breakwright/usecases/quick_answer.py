"""The answer for a live screen: the quick interval, made while somebody looks.

The same study read the same way as for the whole answer; only what needs many resamples is left
out (other shapes of scatter, other readings of the data, what was recorded held equal), and the
interval for each ratio is the quick one. ``Comparison.ratio.method`` says so.
"""

from collections.abc import Mapping
from dataclasses import replace

from breakwright.model.notice import Notice
from breakwright.model.study import Study
from breakwright.stats.families import FAMILIES
from breakwright.stats.holm import Step, holm
from breakwright.usecases.doubts import group_doubts, study_doubts
from breakwright.usecases.foretold import foretell
from breakwright.usecases.group_results import group_result
from breakwright.usecases.piling import ceiling_of
from breakwright.usecases.ratios import Pair, quick_result, ratio_result
from breakwright.usecases.result import (
    SCHEMA,
    Answer,
    Chance,
    Comparison,
    LogRank,
    Method,
    RatioResult,
)
from breakwright.usecases.samples import GroupData, groups_of
from breakwright.usecases.settings import Settings
from breakwright.usecases.understand import pieces_of, understanding_notices
from breakwright.usecases.verdicts import two_sided, verdict_of

__all__ = ["quick_answer"]

# The fewest that settings allow: they serve the groups' own limits, and a wholly capped group.
_RESAMPLES = 200
_NOT_YET = "not-yet"


def quick_answer(study: Study, settings: Settings, *, notices: tuple[Notice, ...] = ()) -> Answer:
    """Answer ``study`` in a fraction of a second. The same study and settings give the same."""
    few = replace(settings, resamples=_RESAMPLES, side_resamples=_RESAMPLES)
    read = pieces_of(study)
    ceiling = ceiling_of(study, read, few.ceiling)
    pieces = read if ceiling is None else ceiling.main
    data = groups_of(study.groups, pieces)
    groups = tuple(
        group_result(
            data[name],
            pieces,
            is_reference=name == study.reference,
            family=FAMILIES[0],
            settings=few,
        )
        for name in study.groups
    )
    pairs = {g: _pair(data, study.reference, g, few) for g in study.groups if g != study.reference}
    firsts = {group: _ratio(pair, few.level, few) for group, pair in pairs.items()}
    steps = holm([two_sided(first) for first in firsts.values()], error=1.0 - few.level)
    found = [*notices, *understanding_notices(study, pieces)]
    if ceiling is not None:
        found.append(ceiling.notice())
    for group_found in groups:
        found += group_doubts(group_found)
    return Answer(
        schema=SCHEMA,
        title=study.title,
        question=study.question,
        invented=study.invented,
        unit=study.unit,
        reference=study.reference,
        counts=study.counts,
        worth=study.worth,
        groups=groups,
        comparisons=tuple(
            _comparison(study, pairs[group], first, group=group, step=step, settings=few)
            for (group, first), step in zip(firsts.items(), steps, strict=True)
        ),
        log_rank=LogRank(None, None, _NOT_YET),
        pieces=pieces,
        notices=(*found, *study_doubts(study, pieces)),
        record=study.record,
        lacking=(),
        method=Method(
            version=settings.version,
            family=FAMILIES[0].name,
            families=(FAMILIES[0].name,),
            level=settings.level,
            seed=settings.seed,
            resamples=_RESAMPLES,
            side_resamples=_RESAMPLES,
        ),
        foretold=foretell(study),
    )


def _pair(data: Mapping[str, GroupData], reference: str, group: str, settings: Settings) -> Pair:
    return Pair.of(
        data[reference].sample,
        data[group].sample,
        family=FAMILIES[0],
        resamples=settings.resamples,
        seed=settings.seed,
    )


def _ratio(pair: Pair, level: float, settings: Settings) -> RatioResult:
    """The quick interval; of a wholly capped group, the one limit that there is."""
    if pair.root is not None:
        return quick_result(pair, level=level)
    return ratio_result(pair, level=level, seed=settings.seed, resamples=settings.resamples)


def _comparison(
    study: Study,
    pair: Pair,
    first: RatioResult,
    *,
    group: str,
    step: Step,
    settings: Settings,
) -> Comparison:
    allowed = 1.0 - step.share
    shared = abs(allowed - settings.level) > 1e-12
    return Comparison(
        group=group,
        reference=study.reference,
        verdict=verdict_of(
            _ratio(pair, allowed, settings) if shared else first,
            worth=study.worth,
            step=step,
            pieces=(pair.reference.size, pair.group.size),
        ),
        ratio=first,
        quick=quick_result(pair, level=settings.level),
        chance=Chance(None, None, None, settings.level),
        families=(first,),
        alternatives=(),
        adjusted=(),
        sessions=None,
        log_rank_p=None,
    )
