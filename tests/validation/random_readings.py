"""Random censored readings for the tests against other libraries: data, and nothing else."""

import math
from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class Readings:
    """``lower``, ``upper``: closed intervals of load, shape (n,)."""

    lower: np.ndarray
    upper: np.ndarray

    @property
    def exact(self) -> np.ndarray:
        return self.lower == self.upper

    @property
    def right(self) -> np.ndarray:
        return np.isinf(self.upper)

    @property
    def left(self) -> np.ndarray:
        return (self.lower == 0.0) & ~self.right

    @property
    def between(self) -> np.ndarray:
        return ~(self.exact | self.right | self.left)


def capped(seed: int, *, n: int, share: float) -> Readings:
    """Lognormal loads about 400, about ``share`` of them beyond a common capacity."""
    rng = np.random.default_rng(seed)
    load = 400.0 * np.exp(0.25 * rng.standard_normal(n))
    limit = float(np.quantile(load, 1.0 - share))
    over = load > limit
    return Readings(np.where(over, limit, load), np.where(over, math.inf, load))


def mixed(seed: int, *, n: int) -> Readings:
    """Lognormal loads about 400: some exact, some at least, at most, or between."""
    rng = np.random.default_rng(seed)
    load = 400.0 * np.exp(0.25 * rng.standard_normal(n))
    lower, upper = load.copy(), load.copy()
    kind = np.arange(n) % 5  # two in five exact, one in five of each other kind
    away = rng.uniform(0.02, 0.2, size=(2, n))
    lower[kind == 2], upper[kind == 2] = ((1 - away[0]) * load)[kind == 2], math.inf
    lower[kind == 3], upper[kind == 3] = 0.0, ((1 + away[1]) * load)[kind == 3]
    lower[kind == 4] = ((1 - away[0]) * load)[kind == 4]
    upper[kind == 4] = ((1 + away[1]) * load)[kind == 4]
    return Readings(lower, upper)


SAMPLES = {
    "capped-10": capped(101, n=10, share=0.3),
    "capped-40": capped(102, n=40, share=0.5),
    "mixed-10": mixed(103, n=10),
    "mixed-40": mixed(104, n=40),
}
