"""What is claimed of one display, frame by frame, held against what it truly shows."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from training.clips.truth import DisplayTruth

from benchmarks.film_suite_fault import Fault
from breakwright.model.film import DisplayTrace, Shown
from breakwright.reading.film_spans import settled_until

__all__ = ["COUNTED", "counts_of"]

# What ``counts_of`` counts, in this order; ``ClipScore`` says what each is.
COUNTED = (
    "frames",
    "right",
    "claimed",
    "wrong",
    "spans",
    "exact_spans",
    "states",
    "states_right",
    "ghosts",
)

# A value may be claimed as late as this after it was last shown (s): a frame's exposure.
_NEAR_S = 0.05
_SHORT = 2  # frames: a value shown for fewer is no settled span


@dataclass(frozen=True, slots=True)
class _Claims:
    """By frame: what a trace claims. ``values`` (F,) NaN where none; ``shown`` of every frame."""

    values: NDArray[np.float64]
    shown: tuple[Shown, ...]


def _claims(trace: DisplayTrace, times: NDArray[np.float64]) -> _Claims:
    values = np.full(len(times), np.nan)
    shown = [Shown.UNREADABLE] * len(times)
    for number, span in enumerate(trace.spans):
        first, stop = np.searchsorted(times, [span.start - 1e-6, span.end - 1e-6])
        for frame in range(int(first), int(stop)):
            shown[frame] = span.shown
        if span.shown is Shown.VALUE:
            until = settled_until(trace.spans, number)
            last = int(np.searchsorted(times, until + 1e-6))
            values[first : min(int(stop), last)] = span.value
    return _Claims(values, tuple(shown))


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return float("nan")


def counts_of(
    trace: DisplayTrace, truth: DisplayTruth, times: NDArray[np.float64]
) -> tuple[NDArray[np.int_], list[Fault]]:
    """Return the counts named in ``COUNTED``, and what was read wrongly."""
    claims = _claims(trace, times)
    meant = truth.values
    stands = np.array([_number(text) for text in truth.texts])
    sure = truth.settled & truth.clear
    # Where the point is lost or shifted nobody has to know what was meant: only not to be wrong.
    value = sure & np.array([s is Shown.VALUE for s in truth.shown]) & _same(meant, stands)
    claimed = ~np.isnan(claims.values)
    right = claimed & (_same(claims.values, meant) | _same(claims.values, stands))
    # While segments are on their way both the old and the new value stand there.
    changing = claimed & ~truth.settled
    fair = right | (changing & _same(claims.values, _before(meant)))
    fair |= changing & _same(claims.values, _before(stands))
    wrong = claimed & ~fair & truth.clear
    runs = _runs(value, truth.texts)
    exact = 0
    faults: list[Fault] = []
    for first, stop in runs:
        most = right[first:stop].sum() * 2 > stop - first
        exact += bool(most and not wrong[first:stop].any())
        if not most:
            read = _words(claims, first, stop)
            faults.append(Fault("span", times[first], truth.name, read, truth.texts[first]))
    for first, stop in _runs(wrong, [str(v) for v in claims.values]):
        read = f"{claims.values[first]:g} in {stop - first} frames"
        faults.append(Fault("wrong", times[first], truth.name, read, truth.texts[first]))
    ghosts = 0
    for number, span in enumerate(trace.spans):
        if span.shown is not Shown.VALUE or span.value is None:
            continue
        until = settled_until(trace.spans, number)
        near = (times >= span.start - _NEAR_S) & (times <= until + _NEAR_S)
        if not (_same(meant, span.value) | _same(stands, span.value))[near].any():
            ghosts += 1
            there = ", ".join(dict.fromkeys(np.array(truth.texts)[near].tolist()))
            faults.append(Fault("ghost", span.start, truth.name, f"{span.value:g}", there))
    state = sure & np.array([s in (Shown.BLANK, Shown.OVER_RANGE) for s in truth.shown])
    seen = np.array([a is b for a, b in zip(claims.shown, truth.shown, strict=True)])
    for first, stop in _runs(state & ~seen, [s.value for s in claims.shown]):
        read = f"{claims.shown[first].value} in {stop - first} frames"
        faults.append(Fault("state", times[first], truth.name, read, truth.shown[first].value))
    counts = [
        value.sum(),
        (value & right).sum(),
        (claimed & truth.clear).sum(),
        wrong.sum(),
        len(runs),
        exact,
        state.sum(),
        (state & seen).sum(),
        ghosts,
    ]
    return np.array(counts, int), faults


def _same(a: NDArray[np.float64], b: NDArray[np.float64] | float) -> NDArray[np.bool_]:
    return np.asarray(np.abs(a - b) < 1e-6, np.bool_)


def _before(values: NDArray[np.float64]) -> NDArray[np.float64]:
    """The last other value before each frame's."""
    found, old = np.full(len(values), np.nan), np.nan
    for frame in range(1, len(values)):
        old = values[frame - 1] if values[frame] != values[frame - 1] else old
        found[frame] = old
    return found


def _runs(where: NDArray[np.bool_], same: Sequence[str]) -> list[tuple[int, int]]:
    """Runs (first, stop) of frames in ``where`` over which ``same`` stays the same, at least two
    frames long."""
    found, first = [], None
    for frame in range(len(where) + 1):
        goes_on = frame < len(where) and where[frame]
        if first is not None and not (goes_on and same[frame] == same[first]):
            if frame - first >= _SHORT:
                found.append((first, frame))
            first = None
        if goes_on and first is None:
            first = frame
    return found


def _words(claims: _Claims, first: int, stop: int) -> str:
    seen = []
    for frame in range(first, stop):
        value, shown = claims.values[frame], claims.shown[frame]
        unclaimed = "changing" if shown is Shown.VALUE else shown.value
        seen.append(unclaimed if np.isnan(value) else f"{value:g}")
    return ", ".join(dict.fromkeys(seen)) + f" in {stop - first} frames"
