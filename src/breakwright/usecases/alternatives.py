"""The same comparison under other readings of the data: what would change if …"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from breakwright.model.outcome import Cause
from breakwright.model.study import Study
from breakwright.stats.families import Family
from breakwright.usecases.piling import Ceiling
from breakwright.usecases.ratios import Pair, ratio_result
from breakwright.usecases.result import Alternative, PieceResult
from breakwright.usecases.samples import GroupData, groups_of
from breakwright.usecases.settings import Settings
from breakwright.usecases.understand import pieces_of
from breakwright.usecases.verdicts import kind_of

__all__ = ["Variant", "alternatives_for", "variants_of"]


@dataclass(frozen=True)
class Variant:
    """Another reading of the whole study. ``changed`` are the specimens treated differently."""

    code: str
    changed: frozenset[str]
    pieces: tuple[PieceResult, ...]

    def touches(self, *groups: str) -> tuple[str, ...]:
        return tuple(
            p.specimen for p in self.pieces if p.group in groups and p.specimen in self.changed
        )


def variants_of(
    study: Study, pieces: tuple[PieceResult, ...], *, ceiling: Ceiling | None
) -> tuple[Variant, ...]:
    """The other readings that this study allows; ``pieces`` is the main reading."""
    found = []
    wrong = frozenset(p.specimen for p in pieces if p.void is None and p.cause is Cause.WRONG_WAY)
    if wrong:
        as_strength = pieces_of(replace(study, counts=None))
        kept = tuple(
            taken if main.specimen in wrong else main
            for main, taken in zip(pieces, as_strength, strict=True)
        )
        found.append(Variant("wrong-way-counts", wrong, kept))
        dropped = tuple(
            replace(p, void="broke another way") if p.specimen in wrong else p for p in pieces
        )
        found.append(Variant("right-way-only", wrong, dropped))
    left_out = frozenset(p.specimen for p in pieces if p.void is not None and p.lower is not None)
    if left_out:
        back = tuple(replace(p, void=None) if p.specimen in left_out else p for p in pieces)
        found.append(Variant("void-back", left_out, back))
    if ceiling is not None:
        found.append(Variant(ceiling.code, ceiling.specimens, ceiling.other))
    per_area = _per_area(pieces)
    if per_area is not None:
        found.append(per_area)
    return tuple(found)


def _per_area(pieces: Sequence[PieceResult]) -> Variant | None:
    """Loads over ``area_mm2``, where every piece that takes part has one and they differ."""
    used = [p for p in pieces if p.void is None and p.lower is not None]
    areas = [p.covariates.get("area_mm2", math.nan) for p in used]
    if not used or not all(a > 0.0 for a in areas) or max(areas) == min(areas):
        return None
    mean = math.fsum(areas) / len(areas)
    changed = frozenset(p.specimen for p in used)

    def scaled(p: PieceResult) -> PieceResult:
        if p.specimen not in changed or p.lower is None:
            return p
        k = mean / p.covariates["area_mm2"]
        return replace(
            p,
            lower=p.lower * k,
            upper=None if p.upper is None else p.upper * k,
            limit=None if p.limit is None else p.limit * k,
        )

    return Variant("per-area", changed, tuple(scaled(p) for p in pieces))


def alternatives_for(
    group: str,
    reference: str,
    variants: Sequence[Variant],
    *,
    family: Family,
    worth: float | None,
    level: float,
    settings: Settings,
) -> tuple[Alternative, ...]:
    """The comparison under each variant that treats a piece of either group differently."""
    found = []
    for variant in variants:
        touched = variant.touches(group, reference)
        if not touched:
            continue
        data = groups_of((reference, group), variant.pieces)
        ratio = ratio_result(
            _pair(data[reference], data[group], family, settings),
            level=level,
            seed=settings.seed,
            resamples=settings.side_resamples,
        )
        found.append(Alternative(variant.code, touched, ratio, kind_of(ratio, worth=worth)))
    return tuple(found)


def _pair(reference: GroupData, group: GroupData, family: Family, settings: Settings) -> Pair:
    return Pair.of(
        reference.sample,
        group.sample,
        family=family,
        resamples=settings.side_resamples,
        seed=settings.seed,
    )
