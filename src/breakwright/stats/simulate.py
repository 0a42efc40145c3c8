"""What else could have been read: resamples of a group under a fitted law and its own limits.

A piece keeps its instrument: its capacity, its smallest reading, the width of its readings. A
piece that broke another way keeps the load at which it did; the pieces that broke the right way
get such a load drawn from the Kaplan-Meier curve of those loads, given that it lies above what
they showed. The same uniforms serve every trial distance, so that p-values move smoothly.
"""

from dataclasses import dataclass

import numpy as np

from breakwright.stats.cells import Batch, Span, Spot
from breakwright.stats.families import Family, Floats
from breakwright.stats.sample import Sample

__all__ = ["Draws", "draw", "resample"]

# Readings finer than this many sigmas are resampled as exact: rounding that fine adds less than
# 0.4 % to the variance (width^2/12 against sigma^2).
_FINE = 0.2


@dataclass(frozen=True)
class Draws:
    """The random part of ``B`` resamples of one group: standard errors z, caps and positions.

    ``z``: (n, B). ``cap``: (n, 1) or (n, B) on the scale of y (inf: none). ``floor``: (n, 1),
    -inf for none, or None. ``width``: (n,) in N. ``place``: (n, B), where in its interval the
    true load lies, or None where no reading has a width.
    """

    z: Floats
    cap: Floats
    floor: Floats | None
    width: Floats
    place: Floats | None


def draw(sample: Sample, family: Family, *, resamples: int, rng: np.random.Generator) -> Draws:
    """Draw the random part once; (n, B) with B = ``resamples``."""
    n = sample.size
    uniforms = rng.random((n, resamples))
    z = family.law.quantile(np.clip(uniforms, 1e-15, 1.0 - 1e-15))
    if sample.chance_cap.any():
        loads = _chance_caps(sample, rng.random((n, resamples)))
        cap = family.scale(np.minimum(loads, sample.cap[:, None]))
    else:
        cap = family.scale(sample.cap[:, None])
    floor = family.scale(sample.floor[:, None]) if (sample.floor > 0.0).any() else None
    width = sample.width
    if (width > 0.0).any():
        # A piece that ran out of range would have been read as finely as its fellows.
        usual = float(np.median(width[sample.exact]))
        width = np.where(sample.exact, width, usual)
    place = rng.random((n, resamples)) if (width > 0.0).any() else None
    return Draws(z, cap, floor, width, place)


def _chance_caps(sample: Sample, uniforms: Floats) -> Floats:
    """Loads (N) at which each piece would have ended by chance; (n, B), inf for 'never'."""
    ended = sample.chance_cap
    shown = np.where(np.isfinite(sample.upper), sample.upper, sample.lower)
    loads, holding = _held(shown, ended)
    out = np.empty_like(uniforms)
    out[ended] = sample.lower[ended][:, None]
    for i in np.flatnonzero(~ended):
        beyond = loads > shown[i]
        start = holding[~beyond][-1] if (~beyond).any() else 1.0
        # Inverse of the curve given survival past the reading; what is left over never ends.
        share = holding[beyond] / start if start > 0.0 else np.zeros(0)
        index = np.searchsorted(-share, -uniforms[i], side="left")
        out[i] = np.append(loads[beyond], np.inf)[index]
    return out


def _held(time: Floats, event: np.typing.NDArray[np.bool_]) -> tuple[Floats, Floats]:
    """Kaplan-Meier curve: distinct event loads and the share that holds after each."""
    loads = np.unique(time[event])
    at_risk = np.array([(time >= t).sum() for t in loads], dtype=np.float64)
    events = np.array([((time == t) & event).sum() for t in loads], dtype=np.float64)
    return loads, np.cumprod(1.0 - events / at_risk)


def resample(draws: Draws, family: Family, *, mu: float, sigma: float, centre: float) -> Batch:
    """The batch of readings that the draws give under (mu, sigma); mu and centre on y's scale."""
    y = (mu - centre) + sigma * draws.z
    size = y.shape[1]
    cap = draws.cap - centre
    capped = y >= cap
    right = _capped_block(cap, capped)
    low = None
    measured = ~capped
    if draws.floor is not None:
        floor = draws.floor - centre
        low_mask = measured & (y < floor)
        measured &= ~low_mask
        if low_mask.any():
            low = Spot(np.where(np.isfinite(floor), floor, 0.0), low_mask.astype(np.float64))

    between = None
    exact_rows = measured
    if draws.place is not None and family.logs:
        scale = np.exp(mu) * sigma
        wide = draws.width > _FINE * scale
        if wide.any():
            load = np.exp(y[wide] + centre)
            width, place = draws.width[wide][:, None], draws.place[wide]
            under = np.maximum(load - place * width, 1e-9 * load)
            between = Span(
                np.log(under) - centre,
                np.log(under + width) - centre,
                measured[wide].astype(np.float64),
            )
            exact_rows = measured & ~wide[:, None]
    exact = Spot(np.where(exact_rows, y, 0.0), exact_rows.astype(np.float64))
    return Batch(size=size, centre=centre, exact=exact, right=right, left=low, between=between)


def _capped_block(cap: Floats, capped: np.typing.NDArray[np.bool_]) -> Spot | None:
    if not capped.any():
        return None
    if cap.shape[1] == 1 and (cap == cap[0]).all():
        # One capacity for all: its survival is needed once a data set, times the number capped.
        count = np.add.reduce(capped, axis=0, dtype=np.float64)
        return Spot(cap[:1], count[None, :])
    return Spot(
        np.where(capped, np.broadcast_to(cap, capped.shape), 0.0), capped.astype(np.float64)
    )
