"""The chance of seeing a ratio with so many pieces, by simulating the analysis to be made."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.plan.borrowed import reference_roots, tails
from breakwright.plan.roots import Pairs, fit_pairs, median_variance, tie
from breakwright.plan.truth import Readings, Truth, draw_readings
from breakwright.stats.sign import median_at_least

__all__ = ["Effort", "Power", "Trials", "make_trials", "power_of"]


@dataclass(frozen=True, slots=True)
class Effort:
    """How much is simulated for one number of pieces.

    ``experiments`` for the chance, each with ``resamples`` of its own and those of its
    ``neighbours`` nearest; ``widths`` experiments for the interval's width.
    """

    experiments: int = 2000
    resamples: int = 6
    neighbours: int = 200
    widths: int = 120

    def __post_init__(self) -> None:
        if self.resamples * min(self.neighbours, self.experiments) < 199:
            raise ValueError("fewer than 199 borrowed resamples give no p-value near 2.5 %")


@dataclass(frozen=True)
class Trials:
    """Simulated experiments with their own fits."""

    pieces: int
    weak: Readings
    strong: Readings
    pairs: Pairs


@dataclass(frozen=True, slots=True)
class Power:
    """``chance`` that the stronger group is called stronger; ``unanswered`` the share without an
    estimate for both groups; ``capped`` the mean number of pieces out of range, both groups."""

    pieces: int
    chance: float
    unanswered: float
    capped: float


def make_trials(truth: Truth, *, pieces: int, experiments: int, rng: np.random.Generator) -> Trials:
    """Draw experiments of ``pieces`` a group and fit them."""
    weak, strong = draw_readings(truth, pieces=pieces, experiments=experiments, rng=rng)
    size = (experiments,)
    mu = np.stack([np.zeros(size), np.full(size, truth.distance)])
    pairs = fit_pairs(weak, strong, mu=mu, sigma=np.full((2, experiments), truth.sigma))
    return Trials(pieces, weak, strong, pairs)


def power_of(trials: Trials, *, error: float, effort: Effort, rng: np.random.Generator) -> Power:
    """The share of ``trials`` in which 'as strong' is refused at ``error`` (two-sided).

    Where the stronger group is wholly capped the sign test's limit counts if it lies above 1 with
    the one-sided confidence asked for, as it does in the answer.
    """
    size = trials.pairs.both.size
    seen = np.zeros(size, dtype=np.bool_)
    rows = np.flatnonzero(trials.pairs.both)
    if rows.size:
        weak, strong = trials.weak.take(rows), trials.strong.take(rows)
        nothing = np.zeros(rows.size)
        tied = tie(trials.pairs.take(rows), nothing)
        roots = reference_roots(weak, strong, tied, nothing, resamples=effort.resamples, rng=rng)
        found = tails(weak, strong, tied, nothing, roots=roots, neighbours=effort.neighbours)
        seen[rows] = found.up <= 0.5 * error
    rows = np.flatnonzero(trials.pairs.fit_weak.exists & trials.pairs.strong_capped)
    seen[rows] = _by_sign(trials, rows, error=error)
    capped = [
        (side.held & ~side.by_chance).sum(axis=0).mean() for side in (trials.weak, trials.strong)
    ]
    return Power(
        pieces=trials.pieces,
        chance=float(seen.mean()),
        unanswered=1.0 - float(trials.pairs.both.mean()),
        capped=float(sum(capped)),
    )


def _by_sign(trials: Trials, rows: NDArray[np.intp], *, error: float) -> NDArray[np.bool_]:
    """Is the one limit above 1, surely enough? The weaker median's limit by t quantiles.

    The answer calibrates that limit by simulation; without capping it is the t quantile's.
    """
    from scipy.special import stdtrit

    one_sided = 0.5 * error
    half = 0.5 * one_sided
    fits = trials.pairs.fit_weak
    variance = median_variance(fits)
    seen = np.zeros(rows.size, dtype=np.bool_)
    exact = trials.weak.exact
    for k, row in enumerate(rows):
        loads = np.exp(trials.strong.y[:, row])
        held = median_at_least(loads, confidence=1.0 - half)
        missed = 1.0 - held.confidence
        measured = float(exact[row])
        if missed > half or measured < 2.0:
            continue
        reach = float(stdtrit(measured - 1.0, 1.0 - (one_sided - missed)))
        spread = math.sqrt(float(variance[row]) * measured / (measured - 1.0))
        seen[k] = math.log(held.load) > float(fits.mu[row]) + reach * spread
    return seen
