"""From a study to its answer: the main deed of the house."""

from collections.abc import Callable, Sequence

from breakwright.model.notice import Notice
from breakwright.model.study import RECORD_KEYS, Study
from breakwright.stats.curves import log_rank_all
from breakwright.stats.families import FAMILIES
from breakwright.usecases.alternatives import variants_of
from breakwright.usecases.comparing import compare_rest, first_ratio, has_at_most, holm_steps
from breakwright.usecases.doubts import (
    comparison_doubts,
    group_doubts,
    stock_doubts,
    study_doubts,
)
from breakwright.usecases.foretold import foretell
from breakwright.usecases.group_results import group_result
from breakwright.usecases.piling import ceiling_of
from breakwright.usecases.result import SCHEMA, Answer, LogRank, Method, PieceResult
from breakwright.usecases.samples import GroupData, groups_of
from breakwright.usecases.settings import Settings
from breakwright.usecases.understand import pieces_of, understanding_notices

__all__ = ["Progress", "answer_study"]

Progress = Callable[[str, float], None]


def answer_study(
    study: Study,
    settings: Settings,
    *,
    notices: tuple[Notice, ...] = (),
    progress: Progress | None = None,
) -> Answer:
    """Answer ``study``'s question. The same study and settings give the same answer, to the bit.

    ``notices`` are those of reading the input, which the answer carries on. ``progress`` is told
    what is being done and the share that is behind (0..1).
    """
    tell = progress or _silent
    tell("reading the rows", 0.0)
    read = pieces_of(study)
    ceiling = ceiling_of(study, read, settings.ceiling)
    pieces = read if ceiling is None else ceiling.main
    variants = variants_of(study, pieces, ceiling=ceiling)
    data = groups_of(study.groups, pieces)
    others = [g for g in study.groups if g != study.reference]

    groups = {}
    for k, name in enumerate(study.groups):
        tell(f"group «{name}»", 0.05 + 0.15 * k / len(study.groups))
        groups[name] = group_result(
            data[name],
            pieces,
            is_reference=name == study.reference,
            family=FAMILIES[0],
            settings=settings,
        )
    firsts = []
    for k, name in enumerate(others):
        tell(f"«{name}» against «{study.reference}»", 0.2 + 0.4 * k / len(others))
        firsts.append(first_ratio(name, data, reference=study.reference, settings=settings))
    comparisons = []
    steps = holm_steps(firsts, level=settings.level)
    for k, (first, step) in enumerate(zip(firsts, steps, strict=True)):
        tell(f"other readings of «{first.name}»", 0.6 + 0.4 * k / len(others))
        comparisons.append(
            compare_rest(study, data, first, step=step, variants=variants, settings=settings)
        )
    tell("done", 1.0)

    found = [*notices, *understanding_notices(study, pieces)]
    if ceiling is not None:
        found.append(ceiling.notice())
    for group in groups.values():
        found += group_doubts(group)
    for comparison in comparisons:
        found += stock_doubts(data[study.reference], data[comparison.group])
        found += comparison_doubts(comparison, groups)
    found += study_doubts(study, pieces)
    return Answer(
        schema=SCHEMA,
        title=study.title,
        question=study.question,
        invented=study.invented,
        unit=study.unit,
        reference=study.reference,
        counts=study.counts,
        worth=study.worth,
        groups=tuple(groups.values()),
        comparisons=tuple(comparisons),
        log_rank=_log_rank([data[g] for g in study.groups]),
        pieces=pieces,
        notices=tuple(found),
        record=study.record,
        lacking=_lacking(study, pieces),
        method=Method(
            version=settings.version,
            family=FAMILIES[0].name,
            families=tuple(f.name for f in FAMILIES),
            level=settings.level,
            seed=settings.seed,
            resamples=settings.resamples,
            side_resamples=settings.side_resamples,
        ),
        foretold=foretell(study),
    )


def _silent(_what: str, _share: float) -> None:
    return None


def _log_rank(groups: Sequence[GroupData]) -> LogRank:
    there = [g for g in groups if g.sample.size > 0]
    if len(there) < 2:
        return LogRank(None, None, "fewer-than-two-groups")
    if any(has_at_most(g) for g in there):
        return LogRank(None, None, "at-most-readings")
    if not any(g.sample.exact.any() for g in there):
        return LogRank(None, None, "all-at-least")
    found = log_rank_all([(g.sample.lower, g.sample.upper) for g in there])
    if found is None:
        return LogRank(None, None, "nothing-side-by-side")
    return LogRank(found.statistic, found.p_value, None)


def _lacking(study: Study, pieces: Sequence[PieceResult]) -> tuple[str, ...]:
    """Keys of the record that neither the study nor a column of its sheet fills."""
    columns: set[str] = set()
    for piece in pieces:
        columns.update(piece.covariates)
    by_column = {
        "density": any(c.startswith("density") for c in columns),
        "moisture": any(c.startswith("moisture") for c in columns),
        "date": any(p.date is not None for p in pieces),
    }
    return tuple(
        key
        for key in RECORD_KEYS
        if not study.record.get(key, "").strip() and not by_column.get(key, False)
    )
