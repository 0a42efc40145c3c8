"""The breaks found in a film held against the true peaks."""

from collections.abc import Sequence

import numpy as np
from training.clips.clip import Clip
from training.clips.truth import PeakTruth, Truth

from benchmarks.film_suite_fault import Fault
from breakwright.model.film import Break

__all__ = ["MISSED", "fall_of", "judged"]

# Faults after which an interval does not hold the truth.
MISSED = ("no break", "peak missed", "not at least")
# A rate is found from the trace and rounded upward: an interval may be this much wider for it.
_RATE_SLACK = 1.05
# A load that is less than this part of its peak has fallen.
_FALLEN = 0.8
_NEAR_S = 0.05  # s, how far off the moment of a break may be


def fall_of(truth: Truth, peak: PeakTruth) -> float:
    """Return when (s) the load fell after its peak: the first frame with much less on it."""
    after = (truth.times >= peak.at) & (truth.total < _FALLEN * peak.newtons)
    return float(truth.times[np.argmax(after)])


def judged(
    clip: Clip, breaks: Sequence[Break], peak: PeakTruth, *, fell: float
) -> tuple[float | None, list[Fault]]:
    """Return the width (N) of the interval found for ``peak``, None: no upper end, and what is
    wrong with it. ``fell`` is when the load was gone (s)."""
    near = [b for b in breaks if b.start - 0.2 <= peak.at <= b.end + 0.2]
    if not near:
        others = ", ".join(f"{b.start:.2f}..{b.end:.2f}" for b in breaks) or "none"
        return None, [Fault("no break", peak.at, "sum", others, f"{peak.newtons:.1f} N")]
    one = min(near, key=lambda b: abs(b.moment[1] - peak.at))
    upper = "…" if one.upper is None else f"{one.upper:.1f}"
    read = f"{one.lower:.1f}..{upper} N ({one.ending.value})"
    true = f"{peak.newtons:.1f} N, at most {peak.width:.1f} N wide"
    faults = []
    if one.lower > peak.newtons + 1e-6 or (
        one.upper is not None and one.upper < peak.newtons - 1e-6
    ):
        faults.append(Fault("peak missed", peak.at, "sum", read, true))
    if clip.at_least and one.upper is not None:
        faults.append(Fault("not at least", peak.at, "sum", read, true))
    width = None if one.upper is None else one.upper - one.lower
    too_wide = width is None or width > peak.width * _RATE_SLACK
    if too_wide and not (clip.wide or clip.at_least):
        faults.append(Fault("too wide", peak.at, "sum", read, true))
    if not one.moment[0] - _NEAR_S <= fell <= one.moment[1] + _NEAR_S and not clip.at_least:
        moment = f"{one.moment[0]:.2f}..{one.moment[1]:.2f} s"
        faults.append(Fault("moment", peak.at, "sum", moment, f"{fell:.2f} s"))
    return width, faults
