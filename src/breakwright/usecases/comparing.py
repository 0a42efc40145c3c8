"""One group against the reference: the main interval, its verdict, and everything beside it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from breakwright.model.study import Study
from breakwright.stats.curves import log_rank
from breakwright.stats.families import FAMILIES, Floats
from breakwright.stats.fit import Fit
from breakwright.stats.holm import Step, holm
from breakwright.stats.pivot import FEWEST_TRUTHS, chance_to_beat, plausible
from breakwright.usecases.adjusting import adjusted_ratios, session_agreement
from breakwright.usecases.alternatives import Variant, alternatives_for
from breakwright.usecases.ratios import Pair, quick_result, ratio_at, ratio_result
from breakwright.usecases.result import Chance, Comparison, RatioResult
from breakwright.usecases.samples import GroupData
from breakwright.usecases.settings import Settings
from breakwright.usecases.verdicts import two_sided, verdict_of

__all__ = ["First", "compare_rest", "first_ratio", "has_at_most"]


@dataclass(frozen=True)
class First:
    """The main comparison of one group, before the other groups are known."""

    name: str
    pair: Pair
    ratio: RatioResult


def first_ratio(
    name: str, data: Mapping[str, GroupData], *, reference: str, settings: Settings
) -> First:
    """The ratio of ``name`` over ``reference`` with its interval at the level asked for."""
    pair = Pair.of(
        data[reference].sample,
        data[name].sample,
        family=FAMILIES[0],
        resamples=settings.resamples,
        seed=settings.seed,
    )
    ratio = ratio_result(
        pair, level=settings.level, seed=settings.seed, resamples=settings.resamples
    )
    return First(name, pair, ratio)


def holm_steps(firsts: Sequence[First], *, level: float) -> tuple[Step, ...]:
    """Holm's steps over all the groups that are compared with the one reference."""
    return holm([two_sided(f.ratio) for f in firsts], error=1.0 - level)


def compare_rest(
    study: Study,
    data: Mapping[str, GroupData],
    first: First,
    *,
    step: Step,
    variants: Sequence[Variant],
    settings: Settings,
) -> Comparison:
    """All that stands beside the main interval; ``step`` is what Holm allows this comparison."""
    reference, group = data[study.reference], data[first.name]
    family, level = FAMILIES[0], settings.level
    allowed = 1.0 - step.share
    ratio = first.ratio
    if first.pair.root is not None and abs(allowed - level) > 1e-12:
        ratio = ratio_at(first.pair, level=allowed)
    elif first.pair.root is None and abs(allowed - level) > 1e-12:
        ratio = ratio_result(
            first.pair, level=allowed, seed=settings.seed, resamples=settings.resamples
        )
    return Comparison(
        group=first.name,
        reference=study.reference,
        verdict=verdict_of(
            ratio,
            worth=study.worth,
            step=step,
            pieces=(reference.sample.size, group.sample.size),
        ),
        ratio=first.ratio,
        quick=quick_result(first.pair, level=level),
        chance=_chance(first.pair, settings),
        families=(first.ratio, *_other_families(reference, group, settings)),
        alternatives=alternatives_for(
            first.name,
            study.reference,
            variants,
            family=family,
            worth=study.worth,
            level=allowed,
            settings=settings,
        ),
        adjusted=adjusted_ratios(reference, group, family=family, level=level),
        sessions=session_agreement(reference, group, family=family, level=level),
        log_rank_p=_log_rank_p(reference, group),
    )


def _other_families(
    reference: GroupData, group: GroupData, settings: Settings
) -> tuple[RatioResult, ...]:
    return tuple(
        ratio_result(
            Pair.of(
                reference.sample,
                group.sample,
                family=family,
                resamples=settings.side_resamples,
                seed=settings.seed,
            ),
            level=settings.level,
            seed=settings.seed,
            resamples=settings.side_resamples,
        )
        for family in FAMILIES[1:]
    )


def _chance(pair: Pair, settings: Settings) -> Chance:
    """Chance that one piece of the group beats one of the reference, limits by the pivot."""
    if pair.root is None:
        return Chance(None, None, None, settings.level)
    a, b = pair.fit_reference, pair.fit_group
    estimate = float(chance_to_beat(_point(a), _point(b), pair.family)[0])
    # Two seeds: the groups' plausible truths are independent of each other.
    truths = [
        plausible(sample, found, resamples=settings.resamples, seed=settings.seed + 7 * k)
        for k, (sample, found) in enumerate(((pair.reference, a), (pair.group, b)))
    ]
    size = min(t.mu.size for t in truths)
    if size < FEWEST_TRUTHS:
        return Chance(estimate, None, None, settings.level)
    spread = chance_to_beat(
        (truths[0].mu[:size], truths[0].sigma[:size]),
        (truths[1].mu[:size], truths[1].sigma[:size]),
        pair.family,
    )
    error = 0.5 * (1.0 - settings.level)
    low, high = np.quantile(spread, [error, 1.0 - error])
    return Chance(estimate, float(low), float(high), settings.level)


def _point(found: Fit) -> tuple[Floats, Floats]:
    return np.array([found.mu]), np.array([found.sigma])


def has_at_most(data: GroupData) -> bool:
    sample = data.sample
    return bool(((sample.lower == 0.0) & np.isfinite(sample.upper)).any())


def _log_rank_p(reference: GroupData, group: GroupData) -> float | None:
    sides = (reference, group)
    if any(s.sample.size == 0 or has_at_most(s) for s in sides):
        return None
    if not any(s.sample.exact.any() for s in sides):
        return None
    found = log_rank(*((s.sample.lower, s.sample.upper) for s in sides))
    return None if found is None else found.p_value
