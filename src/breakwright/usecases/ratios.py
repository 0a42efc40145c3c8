"""The ratio of two groups' medians as a result: which method applies, and what it says."""

import math
from dataclasses import dataclass

from breakwright.stats.families import Family
from breakwright.stats.fit import Fit, Missing, fit
from breakwright.stats.median import MedianRoot
from breakwright.stats.quick import quick_ratio
from breakwright.stats.ratio import Limits, SignedRoot
from breakwright.stats.sample import Sample
from breakwright.stats.sign import median_at_least
from breakwright.usecases.result import RatioMethod, RatioResult

__all__ = [
    "LARGE",
    "Pair",
    "exp_or_none",
    "median_root",
    "quick_result",
    "ratio_at",
    "ratio_result",
]

# With this many two-sided readings in both groups the calibrated limits differ from those of the
# likelihood ratio by less than 1 % of the interval's width (docs/benchmarks.md).
LARGE = 100
# Loads simulated at once; a group of thousands with few two-sided readings gets fewer resamples.
_MOST_DRAWN = 8_000_000
_FEWEST_RESAMPLES = 399
_TOO_FEW = "too-few-pieces"
_NO_SCATTER = "no-scatter"
_BOTH_CAPPED = "both-all-at-least"
_NO_UPPER = "no-upper-limit"
_NO_LOWER = "no-lower-limit"


@dataclass(frozen=True)
class Pair:
    """Two samples ready to be compared under one family, reference first.

    ``root`` is there when both have an estimate; ``missing`` says by a code why it is not.
    """

    reference: Sample
    group: Sample
    family: Family
    fit_reference: Fit
    fit_group: Fit
    root: SignedRoot | None
    large: bool
    missing: str | None

    @classmethod
    def of(
        cls, reference: Sample, group: Sample, *, family: Family, resamples: int, seed: int
    ) -> "Pair":
        fits = [fit(s.lower, s.upper, family) for s in (reference, group)]
        missing = _missing(fits[0], fits[1], reference, group)
        large = min(int(s.exact.sum()) for s in (reference, group)) >= LARGE
        root = None
        if missing is None:
            drawn = 0 if large else affordable(reference, group, resamples=resamples)
            root = SignedRoot(reference, group, family, drawn, seed)
        return cls(reference, group, family, fits[0], fits[1], root, large, missing)


def _missing(a: Fit, b: Fit, reference: Sample, group: Sample) -> str | None:
    codes = {a.missing, b.missing} - {None}
    if not codes:
        return None
    if codes == {Missing.ALL_AT_LEAST} and a.missing and b.missing:
        return _BOTH_CAPPED
    if min(reference.size, group.size) < 2:
        return _TOO_FEW
    for code, name in (
        (Missing.ONE_VALUE, _NO_SCATTER),
        (Missing.ALL_AT_MOST, "all-at-most"),
        (Missing.UNBOUNDED_SCATTER, "unbounded-scatter"),
    ):
        if code in codes:
            return name
    return "all-at-least"


def affordable(*samples: Sample, resamples: int) -> int:
    """``resamples``, or fewer where the groups are so large that they would fill the memory."""
    pieces = sum(s.size for s in samples if int(s.exact.sum()) < LARGE)
    return min(resamples, max(_FEWEST_RESAMPLES, _MOST_DRAWN // max(pieces, 1)))


def median_root(sample: Sample, found: Fit, *, resamples: int, seed: int) -> MedianRoot:
    """The test of a group's median: simulated, or the likelihood ratio for a large group."""
    large = int(sample.exact.sum()) >= LARGE
    drawn = 0 if large else affordable(sample, resamples=resamples)
    return MedianRoot(sample, found, drawn, seed)


def ratio_result(pair: Pair, *, level: float, seed: int, resamples: int) -> RatioResult:
    """The ratio with its interval, by the method that the pair allows."""
    if pair.root is None:
        return _without_estimates(pair, level=level, seed=seed, resamples=resamples)
    return ratio_at(pair, level=level)


def ratio_at(pair: Pair, *, level: float) -> RatioResult:
    """The ratio of a pair that has estimates, at ``level``; cheap once another level is known."""
    root = pair.root
    if root is None:
        raise ValueError(f"this pair has no estimates: {pair.missing}")
    if pair.large:
        from scipy.special import ndtr

        limits = root.likelihood_limits(level)
        here = root.observed(0.0).root
        p_up, p_lo = float(ndtr(-here)), float(ndtr(here))
        method = RatioMethod.LIKELIHOOD
    else:
        tail = root.tail(0.0)
        limits = _agreeing(root.limits(level), tail.p_up, tail.p_lo)
        p_up, p_lo = tail.p_up, tail.p_lo
        method = RatioMethod.CALIBRATED
    lower, upper = exp_or_none(limits.lower), exp_or_none(limits.upper)
    return RatioResult(
        family=pair.family.name,
        method=method,
        ratio=math.exp(root.estimate),
        lower=lower,
        upper=upper,
        level=level,
        sure_stronger=1.0 - p_up,
        sure_weaker=1.0 - p_lo,
        resamples=root.resamples,
        missing=_NO_UPPER if upper is None else _NO_LOWER if lower is None else None,
    )


def _agreeing(limits: Limits, p_up: float, p_lo: float) -> Limits:
    """Limits on the side of 1 on which the p-values at 1 put them.

    An end is found to a fraction of the simulation's own error; where it lies that near to 1, the
    p-value at 1, which is computed, decides.
    """
    allowed = 0.5 * (1.0 - limits.level)
    lower = max(limits.lower, 0.0) if p_up <= allowed else min(limits.lower, 0.0)
    upper = min(limits.upper, 0.0) if p_lo <= allowed else max(limits.upper, 0.0)
    return Limits(lower, upper, limits.level)


def exp_or_none(log_value: float) -> float | None:
    """A limit from its log; None where there is no limit."""
    return math.exp(log_value) if math.isfinite(log_value) else None


def quick_result(pair: Pair, *, level: float) -> RatioResult:
    """The quick interval, for showing beside or before the calibrated one."""
    if pair.root is None:
        return _nothing(pair, level)
    exact_a, exact_b = (int(s.exact.sum()) for s in (pair.reference, pair.group))
    found = quick_ratio(
        pair.fit_reference, pair.fit_group, exact_a=exact_a, exact_b=exact_b, level=level
    )
    told = math.isfinite(found.lower)
    return RatioResult(
        family=pair.family.name,
        method=RatioMethod.QUICK,
        ratio=math.exp(found.estimate),
        lower=exp_or_none(found.lower),
        upper=exp_or_none(found.upper),
        level=level,
        sure_stronger=1.0 - found.p_up if told else None,
        sure_weaker=1.0 - found.p_lo if told else None,
        resamples=0,
        missing=None if told else "one-exact-reading",
    )


def _nothing(pair: Pair, level: float) -> RatioResult:
    return RatioResult(
        family=pair.family.name,
        method=RatioMethod.NONE,
        ratio=None,
        lower=None,
        upper=None,
        level=level,
        sure_stronger=None,
        sure_weaker=None,
        resamples=0,
        missing=pair.missing,
    )


def _without_estimates(pair: Pair, *, level: float, seed: int, resamples: int) -> RatioResult:
    """One group wholly capped: only one limit exists, from its held loads and the other's median.

    The allowed one-sided error is shared between 'all pieces held though the median lies lower'
    and 'the other group's median lies beyond its limit'.
    """
    a_capped = pair.fit_reference.missing is Missing.ALL_AT_LEAST
    b_capped = pair.fit_group.missing is Missing.ALL_AT_LEAST
    if a_capped == b_capped or (pair.fit_group.missing and pair.fit_reference.missing):
        return _nothing(pair, level)
    capped, other = (pair.group, pair.reference) if b_capped else (pair.reference, pair.group)
    found = pair.fit_reference if b_capped else pair.fit_group
    error = 0.5 * (1.0 - level)
    half = 0.5 * error
    held = median_at_least(capped.lower, confidence=1.0 - half)
    missed = 1.0 - held.confidence
    spent = error - missed if missed <= half else half
    root = median_root(other, found, resamples=resamples, seed=seed)
    top = exp_or_none(root.limit(sign=1.0, error=spent))
    if top is None:
        return _nothing(pair, level)
    limit = held.load / top
    return RatioResult(
        family=pair.family.name,
        method=RatioMethod.SIGN,
        ratio=None,
        lower=limit if b_capped else None,
        upper=None if b_capped else 1.0 / limit,
        level=1.0 - missed - spent,
        sure_stronger=None,
        sure_weaker=None,
        resamples=resamples,
        missing=_NO_UPPER if b_capped else _NO_LOWER,
    )
