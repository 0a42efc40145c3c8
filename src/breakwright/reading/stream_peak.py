"""The peak of one pull, as an interval: what was shown, and what may have come between samples.

Between two samples the load can have risen by (loading rate) x (time between them), the rule of
``model.steps.missed_between_refreshes``, here with each pair's own time. The rate is the one
stated, or the largest mean rise over about a third of a second before the peak, rounding
included, so that for a steady rise it is never too small. After a hole in the lines, a lost
number or an end while the piece still bore there is no upper end.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from statistics import median

from breakwright.model.interval import Interval
from breakwright.model.trial import Ending
from breakwright.reading.stream_lines import Sample
from breakwright.reading.stream_pulls import Pull, PullEnd, PullRules

__all__ = ["Doubt", "Peak", "peak_of"]

# Common practice, no source: a lone sample stands out by so many of the steps around it and by
# so much of the peak; a break takes less time than letting off the jack does.
_LONE_STEPS = 8.0
_LONE_SHARE = 0.03
_SLOW_FALL_S = 1.0
_RATE_SPAN_S = 0.3
_RATE_BACK_S = 3.0
_FEW = 5


class Doubt(StrEnum):
    """What a person should know of a pull before its peak becomes a reading."""

    LONE_SAMPLE = "lone-sample"
    LOST_AT_BREAK = "lost-at-break"
    GAP_INSIDE = "gap-inside"
    RAN_OUT = "ran-out"
    CUT = "cut"
    ROSE_AGAIN = "rose-again"
    SLOW_FALL = "slow-fall"
    NOT_AT_ZERO = "not-at-zero"
    FEW_SAMPLES = "few-samples"
    SLIPPED = "slipped"

    @property
    def holds(self) -> bool:
        """Whether a person must decide: it may be no break, or none of a piece of its own."""
        return self in (Doubt.ROSE_AGAIN, Doubt.SLOW_FALL, Doubt.FEW_SAMPLES, Doubt.CUT)


@dataclass(frozen=True, slots=True)
class Peak:
    """``interval`` is where the largest load of the pull lies, ``shown`` the largest one shown
    (N), at ``time`` (s). ``ending`` is what the trace alone says of how it ended; ``rate`` the
    loading rate before the peak (N/s, None: cannot be told); ``missed`` what may have come
    between two samples (N; inf: anything); ``apart`` the time from the peak to the next sample
    (s, None: there is none); ``rest`` what the cell showed before the pull (N)."""

    interval: Interval
    shown: float
    time: float
    ending: Ending
    rate: float | None
    missed: float
    apart: float | None
    rest: float | None
    slips: int
    doubts: tuple[Doubt, ...]


def peak_of(pull: Pull, rules: PullRules) -> Peak:
    """Return the peak of ``pull``; its samples hold at least one number, or [0, inf) comes back."""
    samples = pull.samples
    numbered = [place for place, s in enumerate(samples) if s.load is not None]
    if not numbered:
        before = max((s.load for s in pull.rest[-1:] if s.load is not None), default=0.0)
        return _nothing_shown(samples, max(0.0, before))
    top = max(numbered, key=lambda place: (_load(samples[place]), place))
    shown = _load(samples[top])
    half = (rules.resolution or 0.0) / 2.0
    rate = rules.rate if rules.rate is not None else _rate_before(samples, top, rules.resolution)
    doubts: list[Doubt] = []

    ran_out = any(s.load is None for s in samples)
    if rules.capacity is not None and shown >= rules.capacity - half:
        ran_out = True
    lone = _stands_alone((*pull.rest, *samples), len(pull.rest) + top)
    firm = _next_top(samples, numbered, top) if lone else top
    lost = _lost_at_break(samples, firm, rules)
    cut = pull.end is PullEnd.CUT
    reach = _reach(samples, rate, rules)
    open_above = ran_out or lost or cut or reach is None
    reach = math.inf if open_above or reach is None else reach
    if lone:
        doubts.append(Doubt.LONE_SAMPLE)
    lower = max(0.0, _load(samples[firm]) - half)
    upper = max(lower, reach + half)

    slips = _slips(samples, firm, rules)
    rest = _rest_of(pull)
    if ran_out:
        doubts.append(Doubt.RAN_OUT)
    if lost:
        doubts.append(Doubt.LOST_AT_BREAK)
    elif cut:
        doubts.append(Doubt.CUT)
    if any(_gap(a, b, rules) for a, b in _pairs(samples[: top + 1])):
        doubts.append(Doubt.GAP_INSIDE)
    if pull.again:
        doubts.append(Doubt.ROSE_AGAIN)
    if not open_above and _fall_time(samples, firm, rules) > _SLOW_FALL_S:
        doubts.append(Doubt.SLOW_FALL)
    if rest is not None and abs(rest) > max(3.0 * half, 0.01 * shown):
        doubts.append(Doubt.NOT_AT_ZERO)
    if top < _FEW:
        doubts.append(Doubt.FEW_SAMPLES)
    if slips:
        doubts.append(Doubt.SLIPPED)
    ending = Ending.OVER_RANGE if ran_out else Ending.SCREEN_LOST if lost or cut else Ending.BROKE
    after = samples[top + 1].time - samples[top].time if top + 1 < len(samples) else None
    return Peak(
        interval=Interval(lower, upper),
        shown=shown,
        time=samples[top].time,
        ending=ending,
        rate=rate,
        missed=max(0.0, reach - shown),
        apart=after,
        rest=rest,
        slips=slips,
        doubts=tuple(doubts),
    )


def _load(sample: Sample) -> float:
    assert sample.load is not None
    return sample.load


def _nothing_shown(samples: Sequence[Sample], before: float) -> Peak:
    return Peak(
        interval=Interval.at_least(before),
        shown=before,
        time=samples[0].time,
        ending=Ending.OVER_RANGE,
        rate=None,
        missed=math.inf,
        apart=None,
        rest=None,
        slips=0,
        doubts=(Doubt.RAN_OUT,),
    )


def _pairs(samples: Sequence[Sample]) -> list[tuple[Sample, Sample]]:
    return list(pairwise(samples))


def _gap(a: Sample, b: Sample, rules: PullRules) -> bool:
    return b.after_gap or b.time - a.time > rules.silence


def _rate_before(samples: Sequence[Sample], top: int, resolution: float | None) -> float | None:
    """The largest mean rise (N/s) over a span before the peak, the display's step included."""
    before = [s for s in samples[: top + 1] if s.load is not None]
    before = [s for s in before if samples[top].time - s.time <= _RATE_BACK_S] or before[-2:]
    times = [s.time for s in before]
    steps = [b - a for a, b in pairwise(times) if b > a]
    if not steps:
        return None
    if resolution is None:
        # Whatever the display's step is, two different loads that it shows are no closer.
        shown = sorted({_load(s) for s in before})
        resolution = min((b - a for a, b in pairwise(shown)), default=0.0)
    span = min(max(_RATE_SPAN_S, 3.0 * median(steps)), times[-1] - times[0])
    fastest, first = 0.0, 0
    for late in before:
        while first + 1 < len(before) and late.time - before[first + 1].time >= span:
            first += 1
        apart = late.time - before[first].time
        if apart >= span * (1.0 - 1e-9) and apart > 0.0:
            fastest = max(fastest, (_load(late) - _load(before[first]) + resolution) / apart)
    return fastest


def _reach(samples: Sequence[Sample], rate: float | None, rules: PullRules) -> float | None:
    """The largest load that the pull can have had; None where the samples do not bound it."""
    numbered = [s for s in samples if s.load is not None]
    reach = max(_load(s) for s in numbered)
    if rate is None:
        if len(numbered) < _FEW or numbered[-1].time > numbered[0].time:
            return None
        # Times tell nothing: what was missed is taken as the largest rise between two samples.
        rises = [_load(b) - _load(a) for a, b in _pairs(numbered)]
        return reach + max([*rises, rules.resolution or 0.0, 0.0])
    for a, b in _pairs(numbered):
        reach = max(reach, _load(a) + rate * (b.time - a.time))
    return reach


def _lost_at_break(samples: Sequence[Sample], top: int, rules: PullRules) -> bool:
    """Whether the lines were missing while the load left the top: it may have gone on rising."""
    high = rules.drop * _load(samples[top])
    for a, b in _pairs(samples[top:]):
        if a.load is None or b.load is None:
            continue
        if _gap(a, b, rules):
            return True
        if b.load < high:
            return False
    return False


def _stands_alone(samples: Sequence[Sample], top: int) -> bool:
    """Whether the topmost sample is one that neither of its neighbours bears out."""
    loads = [s.load for s in samples]
    near = [x for x in loads[max(0, top - 12) : top] if x is not None]
    if len(near) < 3:
        return False
    after = loads[top + 1] if top + 1 < len(loads) else None
    rise = _load(samples[top]) - near[-1]
    fall = math.inf if after is None else _load(samples[top]) - after
    usual = max(abs(b - a) for a, b in pairwise(near))
    return min(rise, fall) > max(_LONE_STEPS * usual, _LONE_SHARE * _load(samples[top]))


def _next_top(samples: Sequence[Sample], numbered: Sequence[int], top: int) -> int:
    others = [place for place in numbered if place != top]
    return max(others, key=lambda place: (_load(samples[place]), place)) if others else top


def _slips(samples: Sequence[Sample], top: int, rules: PullRules) -> int:
    """How often the load fell below ``drop`` times what it had reached, and was taken up again."""
    slips, peak, before, down = 0, 0.0, 0.0, False
    for sample in samples[: top + 1]:
        if sample.load is None:
            continue
        peak, before = max(peak, min(sample.load, before)), sample.load
        if peak >= rules.threshold and sample.load < rules.drop * peak:
            down = True
        elif down:
            slips, down = slips + 1, False
    return slips


def _fall_time(samples: Sequence[Sample], top: int, rules: PullRules) -> float:
    """Seconds from the last sample near the peak to the first one below ``drop`` times it."""
    peak = _load(samples[top])
    near = samples[top].time
    for sample in samples[top + 1 :]:
        if sample.load is None:
            continue
        if sample.load >= 0.9 * peak:
            near = sample.time
        elif sample.load < rules.drop * peak:
            return sample.time - near
    return 0.0


def _rest_of(pull: Pull) -> float | None:
    loads = [s.load for s in pull.rest if s.load is not None]
    # The first half: the last ones before the threshold are the beginning of the rise.
    early = loads[: (len(loads) + 1) // 2]
    return median(early) if len(early) >= 3 else None
