"""The true load over time, as straight pieces: pulls by hand pump, slips, breaks."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["Knots", "Load", "along", "pull", "strokes"]

Knots = tuple[tuple[float, float], ...]

_SUDDEN = 0.004  # s in which a load falls when something breaks


def along(knots: Knots, times: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the value of the line through ``knots`` (time, value) at ``times``, level beyond."""
    at, values = zip(*knots, strict=True)
    return np.asarray(np.interp(times, at, values), np.float64)


@dataclass(frozen=True, slots=True)
class Load:
    """``knots`` are (s, kgf) of the load on all displays together; ``breaks`` the moments (s) at
    which a piece broke, the load just before being that pull's peak."""

    knots: Knots
    breaks: tuple[float, ...]

    def at(self, times: NDArray[np.float64]) -> NDArray[np.float64]:
        return along(self.knots, times)


def pull(
    peak: float,
    *,
    start: float = 1.0,
    rate: float = 12.0,
    first: float = 0.0,
    slips: Sequence[tuple[float, float]] = (),
    rest: float = 0.0,
) -> Load:
    """Return a steady pull from ``first`` to ``peak`` (kgf) at ``rate`` (kgf/s), then a break down
    to ``rest``. ``slips`` are (load, drop): at that load it falls by the drop and rises again."""
    knots = [(0.0, first), (start, first)]
    now, load = start, first
    for at, drop in slips:
        now += (at - load) / rate
        knots += [(now, at), (now + _SUDDEN, at - drop)]
        now, load = now + _SUDDEN, at - drop
    now += (peak - load) / rate
    knots += [(now, peak), (now + _SUDDEN, rest)]
    return Load(tuple(knots), (now,))


def strokes(
    peak: float,
    *,
    start: float = 0.8,
    step: float = 6.0,
    stroke: float = 0.35,
    hold: float = 0.45,
    sag: float = 0.3,
) -> Load:
    """Return a pull by a hand pump: each stroke raises the load by ``step`` kgf within ``stroke``
    s, then it is held for ``hold`` s and sags by ``sag`` kgf. It breaks in a stroke at ``peak``."""
    knots = [(0.0, 0.0), (start, 0.0)]
    now, load = start, 0.0
    while load + step < peak:
        knots.append((now + stroke, load + step))
        knots.append((now + stroke + hold, load + step - sag))
        now, load = now + stroke + hold, load + step - sag
    now += stroke * (peak - load) / step
    knots += [(now, peak), (now + _SUDDEN, 0.0)]
    return Load(tuple(knots), (now,))


def one_after_another(pulls: Sequence[Load], *, pause: float = 1.0) -> Load:
    """Return several pulls, each begun ``pause`` s after the one before broke."""
    knots: list[tuple[float, float]] = []
    breaks: list[float] = []
    shift = 0.0
    for one in pulls:
        knots += [(time + shift, load) for time, load in one.knots]
        breaks += [time + shift for time in one.breaks]
        shift = knots[-1][0] + pause
    return Load(tuple(knots), tuple(breaks))
