"""What is said of one group by itself: counts, fits, limits of its median and 5th percentile."""

import math

import numpy as np

from breakwright.model.interval import IntervalKind
from breakwright.model.outcome import Cause
from breakwright.stats.curves import held_curve
from breakwright.stats.families import FAMILIES, Family
from breakwright.stats.fit import Fit, Missing, fit
from breakwright.stats.pivot import FEWEST_TRUTHS, plausible, quantile_limit
from breakwright.stats.sign import median_at_least
from breakwright.usecases.ratios import exp_or_none, median_root
from breakwright.usecases.result import Bound, Curve, FamilyFit, GroupResult, HeldCurve, PieceResult
from breakwright.usecases.samples import GroupData
from breakwright.usecases.settings import Settings

__all__ = ["family_fit", "group_result"]

_CURVE_POINTS = 81
_SMALLEST_SHARE, _LARGEST_SHARE = 0.005, 0.995


def family_fit(found: Fit) -> FamilyFit:
    """A fit as plain numbers in N."""
    if found.missing is not None:
        return FamilyFit(
            found.family.name, None, None, None, None, None, None, None, found.missing.value
        )
    return FamilyFit(
        family=found.family.name,
        mu=found.mu,
        sigma=found.sigma,
        median=found.quantile(0.5),
        p5=found.quantile(0.05),
        p95=found.quantile(0.95),
        cv=_variation(found),
        loglik=found.loglik,
        missing=None,
    )


def _variation(found: Fit) -> float | None:
    """Coefficient of variation of the fitted law; None where its second moment is infinite."""
    s = found.sigma
    if found.family.name == "lognormal":
        return math.sqrt(math.expm1(s * s)) if s < 20.0 else None
    if found.family.name == "weibull":
        first, second = math.lgamma(1.0 + s), math.lgamma(1.0 + 2.0 * s)
        return math.sqrt(math.expm1(second - 2.0 * first)) if s < 20.0 else None
    if found.family.name == "loglogistic":
        if s >= 0.5:
            return None
        x = math.pi * s
        return math.sqrt(math.tan(x) / x - 1.0) if x > 1e-9 else 0.0
    raise ValueError(f"no coefficient of variation for {found.family.name!r}")


def group_result(
    data: GroupData,
    every: tuple[PieceResult, ...],
    *,
    is_reference: bool,
    family: Family,
    settings: Settings,
) -> GroupResult:
    """One group; ``every`` holds all pieces of the study, left-out ones too."""
    own = [p for p in every if p.group == data.name]
    kinds = [p.kind for p in data.pieces]
    sample = data.sample
    fits = {f.name: fit(sample.lower, sample.upper, f) for f in FAMILIES}
    found = fits[family.name]
    median, p5_75, p5_95 = _limits(data, found, settings)
    measured = sample.lower[sample.exact], sample.upper[sample.exact]
    middles = 0.5 * (measured[0] + measured[1])
    return GroupResult(
        name=data.name,
        is_reference=is_reference,
        pieces=len(own),
        used=sample.size,
        void=sum(p.void is not None for p in own),
        exact=kinds.count(IntervalKind.EXACT),
        between=kinds.count(IntervalKind.BETWEEN),
        at_most=kinds.count(IntervalKind.AT_MOST),
        at_least=kinds.count(IntervalKind.AT_LEAST),
        wrong_way=sum(p.cause is Cause.WRONG_WAY for p in data.pieces),
        lowest=float(middles.min()) if middles.size else None,
        highest=float(middles.max()) if middles.size else None,
        median=median,
        at_least_median=_held_median(data, found, settings.level),
        p5_lower_75=p5_75,
        p5_lower_95=p5_95,
        fits=tuple(family_fit(f) for f in fits.values()),
        curve=_curve(found),
        held=_held(data),
    )


def _limits(
    data: GroupData, found: Fit, settings: Settings
) -> tuple[Bound, float | None, float | None]:
    if found.missing is not None:
        return Bound(None, None, None, settings.level), None, None
    truths = plausible(data.sample, found, resamples=settings.resamples, seed=settings.seed)
    error = 0.5 * (1.0 - settings.level)
    root = median_root(data.sample, found, resamples=settings.resamples, seed=settings.seed)
    median = Bound(
        found.quantile(0.5),
        exp_or_none(root.limit(sign=-1.0, error=error)),
        exp_or_none(root.limit(sign=1.0, error=error)),
        settings.level,
    )
    if truths.mu.size < FEWEST_TRUTHS:
        return median, None, None
    return (
        median,
        quantile_limit(truths, p=0.05, confidence=0.75),
        quantile_limit(truths, p=0.05, confidence=0.95),
    )


def _held_median(data: GroupData, found: Fit, level: float) -> Bound | None:
    if found.missing is not Missing.ALL_AT_LEAST:
        return None
    held = median_at_least(data.sample.lower, confidence=level)
    return Bound(None, held.load, None, held.confidence)


def _curve(found: Fit) -> Curve | None:
    if found.missing is not None:
        return None
    shares = np.linspace(_SMALLEST_SHARE, _LARGEST_SHARE, _CURVE_POINTS)
    loads = np.exp(found.mu + found.sigma * found.family.law.quantile(shares))
    return Curve(tuple(loads.tolist()), tuple(shares.tolist()))


def _held(data: GroupData) -> HeldCurve | None:
    sample = data.sample
    if sample.size == 0 or ((sample.lower == 0.0) & np.isfinite(sample.upper)).any():
        return None
    held = held_curve(sample.lower, sample.upper)
    return HeldCurve(tuple(held.load.tolist()), tuple(held.holding.tolist()))
