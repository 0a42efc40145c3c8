"""What could make the answer say more than the pieces can bear: notices about the comparison."""

import math
from collections.abc import Mapping, Sequence

from breakwright.model.interval import IntervalKind
from breakwright.model.notice import Notice, Weight
from breakwright.model.outcome import Cause
from breakwright.model.study import Study
from breakwright.stats.confounding import block_share, separation
from breakwright.usecases.result import (
    Alternative,
    Comparison,
    GroupResult,
    PieceResult,
    RatioMethod,
    VerdictKind,
)
from breakwright.usecases.samples import GroupData

__all__ = ["comparison_doubts", "group_doubts", "stock_doubts", "study_doubts"]

Facts = dict[str, str | float | int | None]

_CHANCE = 0.05
_FEW = 5
_SPREAD = 2.0
_POOR = 4.0  # another family's log-likelihood is this much higher: e^4 times as likely


def group_doubts(group: GroupResult) -> tuple[Notice, ...]:
    """Doubts about one group by itself."""
    name = (group.name,)
    found = []

    def warn(code: str, weight: Weight = Weight.WARNING, **facts: int | float | str) -> None:
        found.append(Notice(code, weight, name, (), facts))

    measured = group.used - group.at_least - group.at_most
    if group.used and group.at_least == group.used:
        warn("all-capped", n=group.used)
    elif group.used == 1:
        # A lone row is told of when the sheet is read.
        if group.pieces > 1:
            warn("one-piece")
    elif group.used == 2:
        warn("two-pieces")
    elif 0 < group.used < _FEW:
        warn("few-pieces", n=group.used)
    if measured == 1 and group.used > 1:
        warn("one-exact-reading", n=group.used)
    if group.used > 1 and any(f.missing == "one-value-explains-all" for f in group.fits):
        warn("no-scatter", n=group.used)
    fits = {f.family: f.loglik for f in group.fits if f.loglik is not None}
    if group.fits and group.fits[0].family in fits:
        default = fits[group.fits[0].family]
        best = max(fits, key=lambda k: fits[k])
        if fits[best] - default > _POOR:
            warn("poor-fit", family=group.fits[0].family, better=best)
    return tuple(found)


def stock_doubts(reference: GroupData, group: GroupData) -> tuple[Notice, ...]:
    """Does something recorded, other than the treatment, separate the two groups?"""
    names = (group.name, reference.name)
    found = []
    covariates: dict[str, None] = {}
    for piece in (*reference.pieces, *group.pieces):
        covariates.update(dict.fromkeys(piece.covariates))
    for covariate in covariates:
        sides = [
            [p.covariates[covariate] for p in side.pieces if covariate in p.covariates]
            for side in (group, reference)
        ]
        found += _separated(covariate, sides, names)
    found += _ordered(reference, group, names)
    for code, label in (("block", _block), ("date", _date)):
        sides_of = [[x for x in map(label, side.pieces) if x] for side in (group, reference)]
        share = block_share(sides_of[0], sides_of[1])
        pieces = len(sides_of[0]) + len(sides_of[1])
        if share is None or share.total == pieces:
            continue
        facts: Facts = {"block": code, "shared": share.shared, "total": share.total}
        if share.shared == 0:
            found.append(Notice(f"confounded-{code}", Weight.WARNING, names, (), facts))
        elif share.p_value < _CHANCE:
            unequal: Facts = {**facts, "p": share.p_value}
            found.append(Notice(f"{code}-unbalanced", Weight.WARNING, names, (), unequal))
    return tuple(found)


def _block(piece: PieceResult) -> str | None:
    return piece.block


def _date(piece: PieceResult) -> str | None:
    return piece.date.isoformat() if piece.date else None


def _separated(
    covariate: str, sides: Sequence[Sequence[float]], names: tuple[str, ...]
) -> list[Notice]:
    told = separation(sides[0], sides[1])  # type: ignore[arg-type]
    if told is None or min(len(s) for s in sides) < 2:
        return []
    facts: Facts = {
        "covariate": covariate,
        "group_mean": told.group_mean,
        "reference_mean": told.reference_mean,
        "overlap": told.overlap,
        "p": told.p_value,
    }
    if told.complete:
        return [Notice("confounded-covariate", Weight.WARNING, names, (), facts)]
    if told.p_value < _CHANCE:
        return [Notice("covariate-differs", Weight.WARNING, names, (), facts)]
    return []


def _ordered(reference: GroupData, group: GroupData, names: tuple[str, ...]) -> list[Notice]:
    orders = [[p.order for p in side.pieces if p.order is not None] for side in (group, reference)]
    told = separation([float(x) for x in orders[0]], [float(x) for x in orders[1]])  # type: ignore[arg-type]
    if told is not None and told.complete and min(map(len, orders)) >= 2:
        return [Notice("order-confounded", Weight.WARNING, names)]
    return []


def comparison_doubts(
    comparison: Comparison, groups: Mapping[str, GroupResult]
) -> tuple[Notice, ...]:
    """Doubts about a finished comparison: does the verdict hang on a choice?"""
    names = (comparison.group, comparison.reference)
    found = []
    kinds = {f.family: f for f in comparison.families}
    spoken = [f for f in kinds.values() if f.ratio is not None]
    if len(spoken) > 1 and len({_says(f.lower, f.upper) for f in spoken}) > 1:
        ratios = [f.ratio for f in spoken if f.ratio is not None]
        facts: Facts = {"lowest": min(ratios), "highest": max(ratios)}
        found.append(Notice("families-disagree", Weight.WARNING, names, (), facts))
    for code, notice in (
        ("wrong-way-counts", "wrong-way-changes-verdict"),
        ("right-way-only", "wrong-way-changes-verdict"),
        ("void-back", "left-out-changes-verdict"),
        ("ceiling", "ceiling-changes-verdict"),
        ("ceiling-as-read", "ceiling-changes-verdict"),
    ):
        other = next((a for a in comparison.alternatives if a.code == code), None)
        if other is not None and _changed(other, comparison.verdict.kind):
            facts = {"verdict": other.verdict.value}
            if all(n.code != notice for n in found):
                found.append(Notice(notice, Weight.WARNING, names, other.pieces, facts))
    agreement = comparison.sessions
    if agreement is not None and agreement.p_value is not None:
        apart = agreement.p_value < _CHANCE
        code = "sessions-disagree" if apart else "sessions-agree"
        weight = Weight.WARNING if apart else Weight.REMARK
        found.append(Notice(code, weight, names, (), {"p": agreement.p_value}))
    if comparison.ratio.method is RatioMethod.LIKELIHOOD:
        smallest = min(groups[n].used for n in names)
        found.append(Notice("large-groups", Weight.REMARK, names, (), {"n": smallest}))
    found += _spread(groups, names)
    return tuple(found)


def _says(lower: float | None, upper: float | None) -> int:
    if lower is not None and lower > 1.0:
        return 1
    return -1 if upper is not None and upper < 1.0 else 0


def _changed(other: Alternative, main: VerdictKind) -> bool:
    return other.verdict is not main


def _spread(groups: Mapping[str, GroupResult], names: tuple[str, ...]) -> list[Notice]:
    sigmas = [groups[n].fits[0].sigma for n in names]
    if None in sigmas or min(groups[n].used for n in names) < _FEW:
        return []
    ratio = math.exp(abs(math.log(sigmas[0] / sigmas[1])))  # type: ignore[operator]
    if ratio < _SPREAD:
        return []
    wider = names[0] if sigmas[0] > sigmas[1] else names[1]  # type: ignore[operator]
    return [Notice("unequal-spread", Weight.REMARK, names, (), {"ratio": ratio, "wider": wider})]


def study_doubts(study: Study, pieces: Sequence[PieceResult]) -> tuple[Notice, ...]:
    """Doubts about the study as a whole: what was left out, counted otherwise or not written."""
    found = []
    wrong = tuple(p.specimen for p in pieces if p.void is None and p.cause is Cause.WRONG_WAY)
    if wrong:
        # Counting them as 'at least' supposes that the two ways of breaking don't know of each
        # other.
        facts = {"count": len(wrong)}
        found.append(Notice("wrong-way-independence", Weight.REMARK, (), wrong, facts))
    void = tuple(p.specimen for p in pieces if p.void is not None)
    if void:
        found.append(Notice("left-out", Weight.REMARK, (), void, {"count": len(void)}))
    if any(p.void is None and p.kind is IntervalKind.AT_MOST for p in pieces):
        found.append(Notice("interval-readings-logrank", Weight.REMARK))
    if all(p.order is None for p in pieces):
        found.append(Notice("order-not-recorded", Weight.REMARK))
    if study.worth is None:
        found.append(Notice("no-worth-stated", Weight.REMARK))
    others = len(study.groups) - 1
    if others > 1:
        found.append(Notice("several-groups", Weight.REMARK, study.groups, (), {"k": others}))
    return tuple(found)
