"""The conditions under which the interval is tried: what is true, and how it is read."""

import math
from dataclasses import dataclass

import numpy as np

from breakwright.stats.families import LOGLOGISTIC, LOGNORMAL, WEIBULL, Family
from breakwright.stats.sample import Sample, make_sample

__all__ = ["FAMILY", "Condition", "draw_pair", "identical_cells", "main_cells", "other_cells"]

FAMILY = {f.name: f for f in (LOGNORMAL, WEIBULL, LOGLOGISTIC)}


@dataclass(frozen=True)
class Condition:
    """One cell.

    ``sigma`` is of log load (reference, group); ``capped`` the share of the stronger group's
    pieces that the common capacity stops; ``wrong`` the share that breaks another way first;
    ``step`` the display's resolution in sigmas of the reference at its median; ``fitted`` what
    the analysis supposes.
    """

    label: str
    n: int
    capped: float = 0.0
    truth: str = "lognormal"
    fitted: str = "lognormal"
    ratio: float = 1.5
    sigma: tuple[float, float] = (0.2, 0.2)
    wrong: float = 0.0
    step: float = 0.0


def _standard(family: Family, uniforms: np.ndarray) -> np.ndarray:
    """Standard errors with median 0."""
    return family.law.quantile(uniforms) - family.law.z50


def _capacity(c: Condition) -> float:
    """The one capacity of both groups, beyond which a share ``capped`` of the stronger lies."""
    if c.capped == 0.0:
        return math.inf
    family = FAMILY[c.truth]
    z = family.quantile_at(1.0 - c.capped) - family.law.z50
    return math.exp(math.log(c.ratio) + c.sigma[1] * z)


def draw_pair(c: Condition, rng: np.random.Generator) -> tuple[Sample, Sample]:
    """Two groups' readings as a bench would have them, the reference's median at 1 N."""
    cap = _capacity(c)
    out = []
    for sigma, shift in zip(c.sigma, (0.0, math.log(c.ratio)), strict=True):
        family = FAMILY[c.truth]
        load = np.exp(shift + sigma * _standard(family, rng.random(c.n)))
        lower, upper = load.copy(), load.copy()
        if c.step > 0.0:
            # The display rounds; the reading is known to half a step.
            step = c.step * c.sigma[0]
            shown = step * np.round(load / step)
            lower, upper = np.maximum(shown - 0.5 * step, 1e-3), shown + 0.5 * step
        capped = load >= cap
        lower, upper = np.where(capped, cap, lower), np.where(capped, np.inf, upper)
        by_chance = np.zeros(c.n, dtype=bool)
        if c.wrong > 0.0:
            # The other way of breaking: lognormal, wider, first in a share ``wrong`` of pieces.
            other_sigma = 0.3
            z = float(LOGNORMAL.law.quantile(np.array(c.wrong)))
            distance = -z * math.hypot(other_sigma, sigma)
            other = np.exp(shift + distance + other_sigma * rng.standard_normal(c.n))
            by_chance = other < np.minimum(load, cap)
            lower, upper = np.where(by_chance, other, lower), np.where(by_chance, np.inf, upper)
        out.append(make_sample(lower, upper, cap=np.full(c.n, cap), chance_cap=by_chance))
    return out[0], out[1]


def main_cells() -> list[Condition]:
    """n = 3, 5, 10, 20 by 0, 30, 50 % capped, lognormal and Weibull, each fitted as what it is."""
    return [
        Condition(f"{family}", n, capped, truth=family, fitted=family)
        for family in ("lognormal", "weibull")
        for n in (3, 5, 10, 20)
        for capped in (0.0, 0.3, 0.5)
    ]


def other_cells() -> list[Condition]:
    """Harder conditions, at n = 5 and 10, three in ten of the stronger group capped."""
    cells = []
    for n in (5, 10):
        cells += [
            Condition("true ratio 1", n, 0.3, ratio=1.0),
            Condition("true ratio 1.2", n, 0.3, ratio=1.2),
            Condition("scatter 0.35", n, 0.3, sigma=(0.35, 0.35)),
            Condition("spreads 0.1, 0.3", n, 0.3, sigma=(0.1, 0.3)),
            Condition("spreads 0.3, 0.1", n, 0.3, sigma=(0.3, 0.1)),
            Condition("Weibull fitted lognormal", n, 0.3, truth="weibull"),
            Condition("lognormal fitted Weibull", n, 0.3, fitted="weibull"),
            Condition("loglogistic", n, 0.3, truth="loglogistic", fitted="loglogistic"),
            Condition("25 % wrong way", n, wrong=0.25),
            Condition("50 % wrong way", n, wrong=0.5),
            Condition("25 % wrong way and capped", n, 0.3, wrong=0.25),
            Condition("rounded to 0.5 sigma", n, step=0.5),
            Condition("rounded to 1.5 sigma", n, step=1.5),
            # Four in five of the stronger group stopped: about half of all pieces.
            Condition("four in five capped", n, 0.8),
        ]
    return cells


def identical_cells() -> list[Condition]:
    """Two groups that are one and the same, n = 3 to 20 by 0 to 50 % capped."""
    grids = (
        ("lognormal", (3, 4, 5, 6, 8, 10, 15, 20), (0.0, 0.1, 0.3, 0.5)),
        ("weibull", (3, 5, 10, 20), (0.0, 0.3, 0.5)),
    )
    return [
        Condition("identical", n, capped, ratio=1.0, truth=family, fitted=family)
        for family, sizes, shares in grids
        for n in sizes
        for capped in shares
    ]
