"""Two groups whose medians are held a given distance apart: the constrained maximum, batched.

Unknowns are the reference's median m (on the scale of y) and the two betas; the other group's
median is m + d. With m fixed each group's log-likelihood is concave in its beta, so the betas
are eliminated from the Newton system and one number is left for m. A step that lowers the
likelihood is halved; the profile may have two humps when the groups disagree, hence the starts
from several m.
"""

from dataclasses import dataclass

import numpy as np

from breakwright.stats.cells import Batch
from breakwright.stats.families import Floats, Law
from breakwright.stats.likelihood import sums
from breakwright.stats.newton import damping, readings

__all__ = ["Constrained", "best_of_starts", "fit_constrained", "profile_at"]

_ROUNDS = 100
_TOP_LOG_FALL = 1.0  # log beta moves by at most this in one step
_TOP_MOVE = 3.0  # m moves by at most this many sigmas in one step


@dataclass(frozen=True)
class Constrained:
    """The constrained maximum of each pair of data sets, each (B,): m is the reference's median."""

    m: Floats
    beta_a: Floats
    beta_b: Floats
    loglik: Floats


@dataclass
class _Side:
    """One group's share of the system at (m, beta), after a pass over its readings."""

    loglik: Floats
    g_m: Floats
    h_mm: Floats
    g_b: Floats
    h_bb: Floats
    h_mb: Floats


def _side(batch: Batch, law: Law, m: Floats, beta: Floats) -> _Side:
    # z = beta*(y - m) + z50; u = y - m.
    s = sums(batch, law, beta * m - law.z50, beta)
    second_u = s.second_y - m * s.second
    return _Side(
        loglik=s.loglik,
        g_m=-beta * s.first,
        h_mm=beta * beta * s.second,
        g_b=s.first_y - m * s.first + s.exact / beta,
        h_bb=s.second_yy - 2.0 * m * s.second_y + m * m * s.second - s.exact / (beta * beta),
        h_mb=-beta * second_u - s.first,
    )


def fit_constrained(
    a: Batch,
    b: Batch,
    law: Law,
    *,
    distance: Floats,
    m: Floats,
    beta_a: Floats,
    beta_b: Floats,
    tolerance: float = 1e-9,
) -> Constrained:
    """Maximise lA + lB subject to mB = mA + distance, from the start given, each (B,).

    ``a`` and ``b`` must share their centre, and every data set in them must have an estimate.
    """
    size = a.size
    out = Constrained(*(np.full(size, np.nan) for _ in range(4)))
    rows = np.arange(size)
    point = np.stack([m, np.log(beta_a), np.log(beta_b)]).astype(np.float64)
    shift = np.broadcast_to(np.asarray(distance, dtype=np.float64), (size,)).copy()
    best = np.full(size, -np.inf)
    kept = point.copy()
    step = np.zeros_like(point)
    work_a, work_b = a, b
    count = readings(a) + readings(b)

    for turn in range(_ROUNDS):
        ba, bb = np.exp(point[1]), np.exp(point[2])
        sa = _side(work_a, law, point[0], ba)
        sb = _side(work_b, law, point[0] + shift, bb)
        loglik = sa.loglik + sb.loglik
        worse = ~(loglik >= best - 1e-12 * (1.0 + np.abs(best)))
        # The betas are moved on their logs: that keeps them positive however long the step.
        h_aa = sa.h_bb * ba * ba
        h_bb = sb.h_bb * bb * bb
        k_a = sa.h_mb * ba
        k_b = sb.h_mb * bb
        g_a = sa.g_b * ba
        g_b = sb.g_b * bb
        schur = sa.h_mm + sb.h_mm - k_a * k_a / h_aa - k_b * k_b / h_bb
        schur = np.where(schur < 0.0, schur, sa.h_mm + sb.h_mm)
        g_m = sa.g_m + sb.g_m
        d_m = -(g_m - k_a * g_a / h_aa - k_b * g_b / h_bb) / schur
        d_a = -(g_a + k_a * d_m) / h_aa
        d_b = -(g_b + k_b * d_m) / h_bb
        decrement = g_m * d_m + g_a * d_a + g_b * d_b
        done = ~worse & ~(np.abs(decrement) > tolerance)
        if turn == _ROUNDS - 1:
            done[:] = True
        if done.any():
            take = rows[done]
            for field, value in zip(
                (out.m, out.beta_a, out.beta_b, out.loglik),
                (
                    np.where(worse, kept[0], point[0]),
                    np.exp(np.where(worse, kept[1], point[1])),
                    np.exp(np.where(worse, kept[2], point[2])),
                    np.where(worse, best, loglik + 0.5 * np.abs(decrement) * (turn < _ROUNDS - 1)),
                ),
                strict=True,
            ):
                field[take] = value[done]
        going = np.flatnonzero(~done)
        if going.size == 0:
            break
        scale = damping(np.abs(decrement), count)
        top = _TOP_MOVE / np.minimum(ba, bb)
        scale = np.minimum(scale, top / np.maximum(np.abs(d_m), 1e-300))
        longest = np.maximum(np.maximum(np.abs(d_a), np.abs(d_b)), 1e-300)
        scale = np.minimum(scale, _TOP_LOG_FALL / longest)
        fresh = scale * np.stack([d_m, d_a, d_b])
        kept = np.where(worse, kept, point)
        best = np.where(worse, best, loglik)
        step = np.where(worse, 0.4 * step, fresh)
        point = kept + step
        if going.size < 0.7 * rows.size:
            work_a, work_b = work_a.take(going), work_b.take(going)
            rows, shift, best, count = rows[going], shift[going], best[going], count[going]
            point, kept, step = point[:, going], kept[:, going], step[:, going]
    return out


def best_of_starts(
    a: Batch,
    b: Batch,
    law: Law,
    *,
    distance: Floats,
    starts: tuple[Floats, ...],
    beta_a: Floats,
    beta_b: Floats,
    tolerance: float = 1e-9,
) -> Constrained:
    """The best constrained maximum over several starts of m, each (B,).

    Each start first settles the betas for its m, which a far start needs.
    """
    best: Constrained | None = None
    for m in starts:
        ra, _ = profile_at(a, law, m=m, beta=beta_a)
        rb, _ = profile_at(b, law, m=m + distance, beta=beta_b)
        found = fit_constrained(
            a, b, law, distance=distance, m=m, beta_a=ra, beta_b=rb, tolerance=tolerance
        )
        if best is None:
            best = found
            continue
        better = found.loglik > best.loglik
        best = Constrained(
            np.where(better, found.m, best.m),
            np.where(better, found.beta_a, best.beta_a),
            np.where(better, found.beta_b, best.beta_b),
            np.where(better, found.loglik, best.loglik),
        )
    if best is None:
        raise ValueError("best_of_starts needs at least one start")
    return best


def profile_at(
    batch: Batch, law: Law, *, m: Floats, beta: Floats, tolerance: float = 1e-9
) -> tuple[Floats, Floats]:
    """Maximise one group's log-likelihood over beta with its median held at m; each (B,).

    Returns (beta, loglik). Concave in beta; a step that lowers the likelihood is cut back.
    """
    b = beta.astype(np.float64).copy()
    kept, move = b, np.zeros_like(b)
    best = np.full(batch.size, -np.inf)
    count = readings(batch)
    for _ in range(_ROUNDS):
        s = _side(batch, law, m, b)
        worse = ~(s.loglik >= best - 1e-13 * (1.0 + np.abs(best)))
        step = -s.g_b / s.h_bb
        decrement = s.g_b * step
        kept = np.where(worse, kept, b)
        best = np.where(worse, best, s.loglik)
        going = worse | (decrement > tolerance)
        if not going.any():
            break
        scale = damping(decrement, count)
        scale = np.where(step < 0.0, np.minimum(scale, 0.65 * b / np.maximum(-step, 1e-300)), scale)
        move = np.where(worse, 0.4 * move, np.where(going, scale * step, 0.0))
        b = kept + move
    return kept, best
