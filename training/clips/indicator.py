"""The electronics of a display: it samples its load, rounds it and shows a text, or fails to."""

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import Shown
from training.clips.load import Knots, Load, along

__all__ = ["PER_KGF", "Fault", "Indicator", "Kind", "Showing", "showings"]

# What one kgf is in the unit shown; N and the pound by their definitions.
PER_KGF = {"kgf": 1.0, "N": 9.80665, "lbf": 1.0 / 0.45359237}


class Kind(StrEnum):
    """What can go wrong with a display, or be switched on it by mistake."""

    FROZEN = "frozen"  # shows what it last showed
    DARK = "dark"  # timed out: no segment, no backlight
    UNLIT = "unlit"  # the backlight is off, the digits stand there
    HELD = "held"  # 'hold' pressed: shows what it last showed, and an icon says so
    PEAK_HELD = "peak-held"  # shows the largest so far
    POUNDS = "pounds"  # switched to pounds
    POINT_LOST = "point-lost"
    POINT_SHIFTED = "point-shifted"  # one place to the left


@dataclass(frozen=True, slots=True)
class Fault:
    """``kind`` from ``start`` to ``end`` (s of the film)."""

    kind: Kind
    start: float
    end: float = math.inf


@dataclass(frozen=True, slots=True)
class Indicator:
    """One display's electronics.

    ``share`` is the part of the whole load on it, over time; values are in ``unit``: it shows
    multiples of ``resolution`` with ``decimals`` up to ``capacity``, above that ``over``. Every
    ``refresh`` s (first at ``phase``, each early or late by up to ``jitter`` s) it takes the load
    of that moment and shows it ``lag`` s later. ``drift`` is by how much its zero creeps in a
    second, ``offset`` what it shows of nothing. ``widest`` is the largest number of digits: more
    and the last decimal goes (99.9, then 100). The same number drawn again is no new showing.
    """

    name: str
    share: Knots = ((0.0, 1.0),)
    unit: str = "kgf"
    resolution: float = 0.05
    decimals: int = 2
    capacity: float = 50.0
    places: int = 4
    refresh: float = 0.25
    phase: float = 0.03
    lag: float = 0.0
    jitter: float = 0.0
    drift: float = 0.0
    offset: float = 0.0
    over: str = "OL"
    faults: tuple[Fault, ...] = ()

    def load(self, load: Load, times: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return the true load on this display at ``times``, in its unit."""
        return load.at(times) * along(self.share, times) * PER_KGF[self.unit]


@dataclass(frozen=True, slots=True)
class Showing:
    """From ``time`` (s) on the display shows ``text``; ``value`` in its own unit, None where it
    is no number. ``marks`` are icons that stand beside the digits."""

    time: float
    text: str
    shown: Shown
    value: float | None
    marks: frozenset[str] = field(default=frozenset())
    light: float = 1.0


def showings(
    indicator: Indicator, load: Load, *, until: float, rng: np.random.Generator
) -> tuple[Showing, ...]:
    """Return what ``indicator`` shows from 0 to ``until`` (s), one entry for each change."""
    moments = np.arange(indicator.phase - 4 * indicator.refresh, until, indicator.refresh)
    moments = moments + rng.uniform(-1.0, 1.0, len(moments)) * indicator.jitter
    samples = indicator.load(load, moments) + indicator.offset + indicator.drift * moments
    found: list[Showing] = []
    highest = -math.inf
    changes = sorted(
        [(float(m) + indicator.lag, float(s)) for m, s in zip(moments, samples, strict=True)]
        + [(edge, math.nan) for f in indicator.faults for edge in (f.start, f.end)]
    )
    taken = 0.0
    for time, sample in changes:
        if time >= until:
            break
        taken = taken if math.isnan(sample) else sample
        highest = max(highest, taken)
        new = _showing(indicator, time, taken, highest=highest, before=found[-1] if found else None)
        if not found or replace_time(new, found[-1].time) != found[-1]:
            found.append(new)
    return tuple(found)


def replace_time(showing: Showing, time: float) -> Showing:
    return Showing(time, showing.text, showing.shown, showing.value, showing.marks, showing.light)


def _showing(
    indicator: Indicator, time: float, load: float, *, highest: float, before: Showing | None
) -> Showing:
    on = {fault.kind for fault in indicator.faults if fault.start <= time < fault.end}
    light = 0.25 if on & {Kind.DARK, Kind.UNLIT} else 1.0
    if Kind.DARK in on:
        return Showing(time, "", Shown.BLANK, None, light=light)
    marks = frozenset({"lb" if Kind.POUNDS in on else indicator.unit})
    if Kind.HELD in on or Kind.PEAK_HELD in on:
        marks |= {"HOLD"}
    if before is not None and on & {Kind.FROZEN, Kind.HELD} and before.shown is not Shown.BLANK:
        return Showing(time, before.text, before.shown, before.value, marks, light)
    load = highest if Kind.PEAK_HELD in on else load
    if Kind.POUNDS in on:
        load *= PER_KGF["lbf"] / PER_KGF[indicator.unit]
    if load > indicator.capacity + indicator.resolution / 2 and Kind.POUNDS not in on:
        return Showing(time, indicator.over, Shown.OVER_RANGE, None, marks, light)
    text, value = _rounded(indicator, load)
    for kind in on & _POINTS.keys():
        text = _POINTS[kind](text)
    return Showing(time, text, Shown.VALUE, value, marks, light)


def _rounded(indicator: Indicator, load: float) -> tuple[str, float]:
    for decimals in range(indicator.decimals, -1, -1):
        step = max(indicator.resolution, 10.0**-decimals)
        value = round(math.floor(load / step + 0.5) * step, decimals)
        value = 0.0 if value == 0.0 else value
        text = f"{value:.{decimals}f}"
        if len(text.replace(".", "")) <= indicator.places:
            return text, value
    raise ValueError(f"{indicator.name}: {load} does not fit in {indicator.places} places")


def _shifted(text: str) -> str:
    at = text.find(".")
    digits = text.replace(".", "")
    return digits if at <= 1 else f"{digits[: at - 1]}.{digits[at - 1 :]}"


_POINTS: dict[Kind, Callable[[str], str]] = {
    Kind.POINT_LOST: lambda text: text.replace(".", ""),
    Kind.POINT_SHIFTED: _shifted,
}
