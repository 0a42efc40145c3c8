"""The table of numbers of pieces: simulated on a grid, read off a smooth curve between."""

import math
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from breakwright.plan.power import Effort, Power, make_trials, power_of
from breakwright.plan.truth import Truth
from breakwright.plan.width import Width, width_of
from breakwright.stats.families import Floats

__all__ = ["LARGEST", "SIZES", "SMALLEST", "Row", "Table", "first_within", "make_table", "row_at"]

SMALLEST, LARGEST = 3, 40
SIZES = (3, 4, 5, 7, 10, 14, 20, 28, 40)
_WORKERS = 2
_ROUNDS = 25
_FAR = 7.0  # normal scores beyond which a chance is 0 or 1
_HALF_LOG_2PI = 0.5 * math.log(2.0 * math.pi)


@dataclass(frozen=True, slots=True)
class Row:
    """One number of pieces a group; ``log_width`` is inf where half the intervals have no end."""

    pieces: int
    chance: float
    log_width: float
    open_ended: float
    unanswered: float
    capped: float
    simulated: bool


@dataclass(frozen=True)
class Table:
    """Rows for ``SMALLEST``..``LARGEST`` pieces, in order."""

    rows: tuple[Row, ...]


def make_table(truth: Truth, *, error: float, level: float, effort: Effort, seed: int) -> Table:
    """Simulate every size of ``SIZES`` and smooth; the same seed gives the same bytes.

    Each size has a random stream of its own, so that the threads' order changes nothing.
    """

    def one(pieces: int) -> tuple[Power, Width]:
        rng = np.random.default_rng(np.random.SeedSequence([seed, 31, pieces]))
        trials = make_trials(truth, pieces=pieces, experiments=effort.experiments, rng=rng)
        power = power_of(trials, error=error, effort=effort, rng=rng)
        return power, width_of(trials, level=level, effort=effort, rng=rng)

    with ThreadPoolExecutor(max_workers=_WORKERS) as pool:
        # The largest first: it takes longest.
        done = list(pool.map(one, SIZES[::-1]))[::-1]
    return smooth([p for p, _ in done], [w for _, w in done], experiments=effort.experiments)


def smooth(powers: Sequence[Power], widths: Sequence[Width], *, experiments: int) -> Table:
    """A row for every number of pieces from those that were simulated."""
    sizes = np.array([p.pieces for p in powers], dtype=np.float64)
    every = np.arange(SMALLEST, LARGEST + 1, dtype=np.float64)
    chance = smooth_chance(
        sizes, np.array([p.chance for p in powers]), every=every, experiments=experiments
    )
    log_width = _smooth_width(sizes, np.array([w.log_width for w in widths]), every)
    between = {
        "open_ended": np.interp(every, sizes, [w.open_ended for w in widths]),
        "unanswered": np.interp(every, sizes, [p.unanswered for p in powers]),
        "capped": np.interp(every, sizes, [p.capped for p in powers]),
    }
    known = {p.pieces for p in powers}
    return Table(
        tuple(
            Row(
                pieces=int(n),
                chance=float(chance[k]),
                log_width=float(log_width[k]),
                open_ended=float(between["open_ended"][k]),
                unanswered=float(between["unanswered"][k]),
                capped=float(between["capped"][k]),
                simulated=int(n) in known,
            )
            for k, n in enumerate(every)
        )
    )


def smooth_chance(sizes: Floats, chance: Floats, *, every: Floats, experiments: int) -> Floats:
    """The chance at ``every`` number of pieces, never falling.

    A probit regression (maximum likelihood) of the counts on 1, sqrt n, 1/n and log n: for a
    t test the normal score of the chance is close to a straight line in sqrt n, bent at small n
    by the wider quantile.
    """
    from scipy.special import log_ndtr, ndtr, ndtri

    basis = _basis(sizes)
    scale = np.linalg.norm(basis, axis=0)
    x = basis / scale
    # Half an experiment each way keeps the fit finite where all or none were seen.
    p = (chance * experiments + 0.5) / (experiments + 1.0)
    score = ndtri(p)
    for _ in range(_ROUNDS):
        q = np.clip(ndtr(score), 1e-12, 1.0 - 1e-12)
        log_density = -0.5 * score**2 - _HALF_LOG_2PI
        density = np.exp(log_density)
        # Fisher scoring; q (1 - q) by its logs, which keep their digits in both tails.
        weight = np.exp(2.0 * log_density - log_ndtr(score) - log_ndtr(-score))
        working = score + (p - q) / np.maximum(density, 1e-9)
        root = np.sqrt(weight)[:, None]
        solved, *_ = np.linalg.lstsq(x * root, working * root[:, 0], rcond=None)
        score = np.clip(x @ solved, -_FAR, _FAR)
    fitted = np.asarray(ndtr(_basis(every) / scale @ solved))
    return np.maximum.accumulate(fitted)


def _basis(n: Floats) -> Floats:
    return np.stack([np.ones_like(n), np.sqrt(n), 1.0 / n, np.log(n)], axis=1)


def _smooth_width(sizes: Floats, log_width: Floats, every: Floats) -> Floats:
    """Log width, falling about as 1/sqrt n; inf below the first size that has a width."""
    there = np.isfinite(log_width)
    if there.sum() < 2:
        return np.full(every.size, np.inf)
    x, y = np.log(sizes[there]), np.log(log_width[there])
    degree = min(3, int(there.sum()) - 1)
    fitted = np.exp(np.polynomial.Polynomial.fit(x, y, degree)(np.log(every)))
    fitted = np.minimum.accumulate(fitted)
    # Open at a larger size than one with a width can only be chance; the last open one counts.
    last_open = sizes[~there].max() if (~there).any() else 0.0
    first = sizes[there & (sizes > last_open)]
    return np.where(every >= (first.min() if first.size else np.inf), fitted, np.inf)


def first_within(
    table: Table, *, chance: float | None = None, width: float | None = None
) -> int | None:
    """The smallest number of pieces that has the ``chance`` and the ``width`` (upper/lower)."""
    for row in table.rows:
        enough = chance is None or row.chance >= chance
        narrow = width is None or row.log_width <= math.log(width)
        if enough and narrow:
            return row.pieces
    return None


def row_at(table: Table, pieces: int) -> Row | None:
    """The row of ``pieces``, None outside the table."""
    inside = SMALLEST <= pieces <= LARGEST
    return table.rows[pieces - SMALLEST] if inside else None
