"""A workshop in which the true strength is known: what would the displays have shown?

Everything here goes forward, from the load on the piece to the number on a display, and knows
nothing of the algebra that has to find the way back. Loads in N, times in s.
"""

import itertools
import math
from dataclasses import dataclass

from hypothesis import strategies as st

from breakwright.model.instrument import Instrument, KnownWeight
from breakwright.model.interval import Interval
from breakwright.model.study import Study
from breakwright.model.trial import Ending, Reading, Sharing, Trial

SLACK = 1e-9  # floats only: a bound may be off by this share of the load, never by a step


def shows(load: float, resolution: float) -> float:
    """A display rounds to its nearest step."""
    return load if resolution == 0.0 else round(load / resolution) * resolution


def holds(interval: Interval, truth: float) -> bool:
    return interval.lower <= truth * (1.0 + SLACK) and interval.upper >= truth * (1.0 - SLACK)


@dataclass(frozen=True)
class Display:
    """A real display: its factor bends from one known weight to the next, as cheap ones do."""

    resolution: float
    ends_at: float  # the load it can show after zeroing; inf: no end
    nodes: tuple[tuple[float, float], ...]  # (felt load, true/shown there), rising
    rig_factor: float
    phase: float  # how long before the peak it last changed

    def shown_for(self, felt: float) -> float:
        """What an endless display without steps would show."""
        return felt / self._factor(felt)

    def at_its_end(self, felt: float) -> bool:
        return self.shown_for(felt) >= self.ends_at

    def number(self, felt: float) -> float:
        return shows(min(self.shown_for(felt), self.ends_at), self.resolution)

    def _factor(self, felt: float) -> float:
        nodes = self.nodes
        if not nodes:
            return 1.0
        if felt <= nodes[0][0]:
            return nodes[0][1]
        for (left, low), (right, high) in itertools.pairwise(nodes):
            if felt <= right:
                return low + (high - low) * (felt - left) / (right - left)
        return nodes[-1][1]


@dataclass(frozen=True)
class Seen:
    """A trial, its study, and what nobody in the workshop knows."""

    trial: Trial
    study: Study
    strength: float
    broke_right: bool
    peak_unseen: bool  # a display was at its end, dark, or its number is missing


@st.composite
def instruments(draw: st.DrawFn, name: str) -> tuple[Instrument, Display]:
    resolution = draw(st.sampled_from([0.0, 0.5, 2.0, 5.0, 10.0]))
    weights: list[KnownWeight] = []
    nodes: list[tuple[float, float]] = []
    for load in sorted(draw(st.lists(st.floats(20.0, 1500.0), max_size=3, unique=True))):
        factor = draw(st.floats(0.8, 1.25))
        tolerance = load * draw(st.sampled_from([0.0, 0.01]))
        number = shows(load / factor, resolution)
        if number > 0.0:
            nodes.append((load, factor))
            stated = load + tolerance * draw(st.floats(-1.0, 1.0))
            weights.append(KnownWeight(stated, number, tolerance))
    capacity = draw(st.none() | st.floats(100.0, 3000.0))
    tare = 0.0 if capacity is None else capacity * draw(st.sampled_from([0.0, 0.1, 0.3]))
    low = draw(st.sampled_from([1.0, 0.5, 2.0]))
    high = low * draw(st.sampled_from([1.0, 1.2]))
    refresh = draw(st.none() | st.floats(0.05, 2.0))
    phase = 0.0 if refresh is None else refresh * draw(st.floats(0.0, 1.0))
    instrument = Instrument(
        name,
        capacity=capacity,
        resolution=resolution,
        refresh=refresh,
        tare=tare,
        factor=(low, high),
        weights=tuple(weights),
    )
    # A display whose end nobody stated still has one.
    end = draw(st.floats(100.0, 3000.0) | st.just(math.inf))
    display = Display(
        resolution=resolution,
        ends_at=end if capacity is None else capacity - tare,
        nodes=tuple(nodes),
        rig_factor=low + (high - low) * draw(st.floats(0.0, 1.0)),
        phase=phase,
    )
    return instrument, display


@st.composite
def shares(draw: st.DrawFn, parts: int) -> tuple[float, ...]:
    raw = [draw(st.floats(0.0, 1.0)) for _ in range(parts)]
    total = sum(raw)
    return tuple(x / total for x in raw) if total > 1e-6 else (1.0,) + (0.0,) * (parts - 1)


ENDS = ("right", "right", "stopped", "rig", "wrong")
STYLES = ("exact", "exact", "between", "at most", "at least")


@st.composite
def seen_trials(
    draw: st.DrawFn, ends: tuple[str, ...] = ENDS, styles: tuple[str, ...] = STYLES
) -> Seen:
    parts = draw(st.integers(1, 3))
    drawn = [draw(instruments(f"scale {i}")) for i in range(parts)]
    sharing = draw(st.sampled_from([Sharing.SAME_MOMENT, Sharing.SEPARATE_PEAKS, None]))
    strength = draw(st.floats(50.0, 5000.0))
    end = draw(st.sampled_from(ends))
    counts = "pull-out" if end == "wrong" else draw(st.sampled_from([None, "pull-out"]))
    peak = strength if end == "right" else strength * draw(st.floats(0.05, 1.0))
    rate = draw(st.none() | st.floats(0.0, 300.0))
    rose = 0.0 if rate is None else rate * draw(st.floats(0.0, 1.0))

    # Moments at which the displays changed: the last one before the peak, and earlier ones
    # with the load spread otherwise.
    last = draw(shares(parts))
    earlier: list[tuple[float, tuple[float, ...]]] = []
    if sharing is not Sharing.SAME_MOMENT:
        earlier = draw(st.lists(st.tuples(st.floats(0.0, 1.0), shares(parts)), max_size=3))
    readings: list[Reading] = []
    unseen = dark = False
    together = [0.0] * (1 + len(earlier))
    for i, (instrument, display) in enumerate(drawn):
        before = max(0.0, peak - rose * display.phase) if rate is not None else peak
        felt = [before * last[i] / display.rig_factor]
        felt += [peak * low * split[i] / display.rig_factor for low, split in earlier]
        numbers = [display.number(f) for f in felt]
        number = max(numbers)
        together = [a + b for a, b in zip(together, numbers, strict=True)]
        at_end = any(display.at_its_end(f) for f in felt)
        goes_dark = at_end and (instrument.capacity is None or draw(st.booleans()))
        if goes_dark:
            number = shows(number * draw(st.floats(0.0, 0.99)), display.resolution)
        dark = dark or goes_dark
        unseen = unseen or at_end
        style = draw(st.sampled_from(styles))
        if style == "at most" and at_end:
            style = "exact"  # nobody knows 'at most' from a display at its end
        readings.append(Reading(_written(draw, number, style), style, instrument.name))
        unseen = unseen or style == "at least"
    lost = parts > 1 and draw(st.integers(0, 9)) == 0
    if lost:
        readings.pop(draw(st.integers(0, parts - 1)))
    trial = Trial(
        "S1",
        "A",
        tuple(readings),
        ending=_ending(draw, end, dark=dark),
        failure=_failure(draw, end),
        together=max(together) if not dark and not lost and draw(st.booleans()) else None,
        rate=rate,
    )
    full = tuple(Reading(Interval.exact(50.0), "50", i.name) for i, _ in drawn)
    study = Study(
        (trial, Trial("S2", "A", full)),
        ("A",),
        "A",
        counts=counts,
        instruments=tuple(i for i, _ in drawn),
        sharing=sharing if parts > 1 else None,
    )
    return Seen(trial, study, strength, end == "right", unseen or dark or lost)


def _written(draw: st.DrawFn, number: float, style: str) -> Interval:
    down = number * draw(st.floats(0.0, 0.3))
    up = number * draw(st.floats(0.0, 0.3))
    if style == "between":
        return Interval(number - down, number + up)
    if style == "at most":
        return Interval.at_most(number + up)
    if style == "at least":
        return Interval.at_least(number - down)
    return Interval.exact(number)


def _ending(draw: st.DrawFn, end: str, *, dark: bool) -> Ending:
    if end == "stopped":
        return Ending.STOPPED
    if end == "rig":
        return Ending.RIG_FAILED
    if dark:
        return draw(st.sampled_from([Ending.OVER_RANGE, Ending.SCREEN_LOST]))
    return Ending.BROKE


def _failure(draw: st.DrawFn, end: str) -> str | None:
    if end == "wrong":
        return draw(st.sampled_from(["shank", "Split "]))
    if end == "right":
        return draw(st.sampled_from([None, "pull-out", " Pull-Out "]))
    return None
