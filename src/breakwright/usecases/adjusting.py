"""The ratio with something else held equal: covariates, boards, days. Common scale, log load."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from breakwright.stats.families import Family, Floats
from breakwright.stats.inversion import FARTHEST
from breakwright.stats.regression import Regression, regress
from breakwright.usecases.ratios import Pair, quick_result
from breakwright.usecases.result import (
    AdjustedRatio,
    RatioMethod,
    RatioResult,
    SessionAgreement,
    SessionRatio,
)
from breakwright.usecases.samples import GroupData, group_data

__all__ = ["adjusted_ratios", "session_agreement"]

# A regression needs this many two-sided readings more than it has columns.
_SPARE = 3


@dataclass(frozen=True)
class _Table:
    """Both groups' readings side by side, the reference first; ``treated`` is 1 for the group."""

    lower: Floats
    upper: Floats
    treated: Floats

    @classmethod
    def of(cls, reference: GroupData, group: GroupData) -> "_Table":
        return cls(
            np.concatenate([reference.sample.lower, group.sample.lower]),
            np.concatenate([reference.sample.upper, group.sample.upper]),
            np.concatenate([np.zeros(reference.sample.size), np.ones(group.sample.size)]),
        )


def adjusted_ratios(
    reference: GroupData, group: GroupData, *, family: Family, level: float
) -> tuple[AdjustedRatio, ...]:
    """The ratio adjusted for each covariate recorded in both groups, and for boards and days."""
    table = _Table.of(reference, group)
    pieces = (*reference.pieces, *group.pieces)
    found = []
    for name in _shared_covariates(reference, group):
        values = np.array([p.covariates.get(name, math.nan) for p in pieces])
        spread = float(np.nanstd(values))
        if spread > 0.0:
            column = ((values - np.nanmean(values)) / spread)[:, None]
            found.append(_adjusted(table, column, (name,), family=family, level=level))
    for on, labels in (
        ("block", [p.block for p in pieces]),
        ("date", [p.date.isoformat() if p.date else None for p in pieces]),
    ):
        columns = _dummies(labels, table.treated)
        if columns is not None:
            found.append(_adjusted(table, columns, (on,), family=family, level=level))
    return tuple(f for f in found if f is not None)


def _shared_covariates(reference: GroupData, group: GroupData) -> list[str]:
    """Covariates that at least two pieces of each group have."""
    names: dict[str, None] = {}
    for piece in (*reference.pieces, *group.pieces):
        names.update(dict.fromkeys(piece.covariates))
    return [
        name
        for name in names
        if all(sum(name in p.covariates for p in side.pieces) >= 2 for side in (reference, group))
    ]


def _dummies(labels: Sequence[str | None], treated: Floats) -> Floats | None:
    """Columns for labels beyond the first; nan for no label. None unless two labels are shared."""
    shown = [label for label in labels if label is not None]
    names = sorted(set(shown))
    sides: Mapping[str, set[float]] = {n: set() for n in names}
    for label, side in zip(labels, treated, strict=True):
        if label is not None:
            sides[label].add(float(side))
    if sum(len(s) == 2 for s in sides.values()) < 2:
        return None
    return np.array(
        [[math.nan if x is None else float(x == name) for name in names[1:]] for x in labels]
    )


def _adjusted(
    table: _Table, columns: Floats, on: tuple[str, ...], *, family: Family, level: float
) -> AdjustedRatio | None:
    known = np.isfinite(columns).all(axis=1)
    design = np.column_stack([np.ones(table.treated.size), table.treated, columns])[known]
    fitted = _regress(table.lower[known], table.upper[known], design, family)
    if fitted is None:
        return None
    variance = float(fitted.covariance[1, 1])
    if not variance > 0.0 or not np.abs(fitted.coef[1:]).max() < FARTHEST:
        # The covariate or the 'at least' readings leave the coefficient free.
        return None
    numeric = columns.shape[1] == 1 and on[0] not in ("block", "date")
    slopes = {on[0]: math.exp(float(fitted.coef[2]))} if numeric else {}
    ratio = _coefficient_ratio(fitted, family=family, level=level)
    return AdjustedRatio(on, int(known.sum()), ratio, slopes)


def _regress(lower: Floats, upper: Floats, design: Floats, family: Family) -> Regression | None:
    """The fit, or None where the readings cannot carry it (too few, or collinear)."""
    exact = int((np.isfinite(upper) & (lower > 0.0)).sum())
    if exact < design.shape[1] + _SPARE:
        return None
    try:
        return regress(lower, upper, design, family)
    except ValueError:
        return None


def _coefficient_ratio(fitted: Regression, *, family: Family, level: float) -> RatioResult:
    """The treated column's factor, with the variance and degrees of an ordinary regression."""
    from scipy.special import stdtr, stdtrit

    columns = fitted.coef.size
    freedom = fitted.exact - columns
    error = math.sqrt(float(fitted.covariance[1, 1]) * fitted.exact / freedom)
    d = float(fitted.coef[1])
    reach = float(stdtrit(freedom, 0.5 + 0.5 * level)) * error
    t = d / error
    return RatioResult(
        family=family.name,
        method=RatioMethod.REGRESSION,
        ratio=math.exp(d),
        lower=math.exp(d - reach) if reach < 2.0 * FARTHEST else None,
        upper=math.exp(d + reach) if reach < 2.0 * FARTHEST else None,
        level=level,
        sure_stronger=float(stdtr(freedom, t)),
        sure_weaker=float(stdtr(freedom, -t)),
        resamples=0,
        missing=None,
    )


def session_agreement(
    reference: GroupData, group: GroupData, *, family: Family, level: float
) -> SessionAgreement | None:
    """Ratio by day, and whether the days agree; None with fewer than two days that hold two
    pieces of each group."""
    days: dict[str, list[int]] = {}
    pieces = (*reference.pieces, *group.pieces)
    for i, piece in enumerate(pieces):
        if piece.date is not None:
            days.setdefault(piece.date.isoformat(), []).append(i)
    sessions, rows = [], []
    for day, index in sorted(days.items()):
        sides = [
            group_data(side.name, [pieces[i] for i in index], cap=math.inf)
            for side in (reference, group)
        ]
        if min(s.sample.size for s in sides) < 2:
            continue
        pair = Pair.of(sides[0].sample, sides[1].sample, family=family, resamples=200, seed=0)
        sessions.append(
            SessionRatio(
                day, sides[1].sample.size, sides[0].sample.size, quick_result(pair, level=level)
            )
        )
        rows.append(index)
    if len(sessions) < 2:
        return None
    return SessionAgreement(
        tuple(sessions), _interaction(_Table.of(reference, group), rows, family)
    )


def _interaction(table: _Table, rows: Sequence[Sequence[int]], family: Family) -> float | None:
    """p-value of 'one ratio fits every session', by the F form of the likelihood ratio.

    F = (exp(D/n) - 1)(n - p)/q is the ordinary F test where every reading is exact and normal.
    """
    from scipy.special import fdtrc

    every = np.concatenate([np.asarray(r) for r in rows])
    session = np.concatenate([np.full(len(r), k) for k, r in enumerate(rows)])
    lower, upper, treated = table.lower[every], table.upper[every], table.treated[every]
    days = (session[:, None] == np.arange(1, len(rows))).astype(np.float64)
    plain = np.column_stack([np.ones(every.size), treated, days])
    full = np.column_stack([plain, days * treated[:, None]])
    one, many = (_regress(lower, upper, d, family) for d in (plain, full))
    if one is None or many is None:
        return None
    q = days.shape[1]
    freedom = many.exact - full.shape[1]
    drop = max(0.0, 2.0 * (many.loglik - one.loglik))
    return float(fdtrc(q, freedom, math.expm1(drop / many.exact) * freedom / q))
