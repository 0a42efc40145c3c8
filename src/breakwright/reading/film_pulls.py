"""Where in the film a piece was pulled: from zero up, and back to where the load was gone."""

from collections.abc import Sequence
from dataclasses import dataclass

from breakwright.reading.film_samples import Samples

__all__ = ["Pull", "Zero", "pulls_of", "zeros_of"]

# What is no load: so many steps, or this share of the display's largest value. A pull whose
# largest load is less than this share of the film's largest is somebody touching the scale.
_STEPS = 3.0
_SHARE = 0.04
_TOUCH = 0.08
# So long all must stay near zero, for the load to be gone (s).
_STAY_S = 0.25


@dataclass(frozen=True, slots=True)
class Zero:
    """Near zero on one display: at most ``band`` from ``rest`` (N)."""

    rest: float
    band: float


@dataclass(frozen=True, slots=True)
class Pull:
    """From ``start`` to ``end`` (s); ``gone``: it ended at zero, not with the film. ``held`` are
    the displays (numbers) that did not come back with the others."""

    start: float
    end: float
    gone: bool
    held: frozenset[int]


def zeros_of(displays: Sequence[Samples]) -> tuple[Zero, ...]:
    """Return what is near zero on each display: what hangs on it at rest is no load."""
    zeros = []
    for one in displays:
        loads = [sample.load for sample in one.samples if sample.load is not None]
        highest = max(loads, default=0.0)
        # A tare forgotten shows at the beginning, before anything is pulled.
        first = loads[0] if loads else 0.0
        rest = first if abs(first) < 0.1 * highest else 0.0
        zeros.append(Zero(rest, max(_STEPS * one.step, _SHARE * (highest - rest))))
    return tuple(zeros)


def pulls_of(
    displays: Sequence[Samples],
    zeros: Sequence[Zero],
    *,
    held: Sequence[tuple[int, float, float]] = (),
) -> tuple[Pull, ...]:
    """Return the pulls in their order. ``held``: a display (number) that from one time to another
    (s) showed its peak and not the load; it neither begins nor ends a pull."""
    if not displays or any(not one.samples for one in displays):
        return ()
    times = sorted({sample.came for one in displays for sample in one.samples})
    film_end = max(one.samples[-1].end for one in displays)
    found: list[Pull] = []
    tops: list[float] = []
    start: float | None = None
    low_since: float | None = None
    loaded: set[int] = set()
    top = 0.0
    for time, until in zip(times, [*times[1:], film_end], strict=True):
        seen = _loads(displays, zeros, held, time)
        up = {number for number, load in seen.items() if load > zeros[number].band}
        if start is None:
            if not up:
                continue
            start, low_since, loaded, top = min(_came(displays[n], time) for n in up), None, up, 0.0
        loaded |= up
        top = max(top, sum(seen.values()))
        # Only a display that bore something can say that it bears nothing any more.
        if up or not loaded & seen.keys():
            low_since = None
            continue
        low_since = time if low_since is None else low_since
        if until - low_since >= _STAY_S or until == film_end:
            found.append(Pull(start, low_since, True, _held_in(held, start, low_since)))
            tops.append(top)
            start = None
    if start is not None:
        found.append(Pull(start, film_end, False, _held_in(held, start, film_end)))
        tops.append(top)
    least = _TOUCH * max(tops, default=0.0)
    return tuple(pull for pull, top in zip(found, tops, strict=True) if top >= least)


def _loads(
    displays: Sequence[Samples],
    zeros: Sequence[Zero],
    held: Sequence[tuple[int, float, float]],
    time: float,
) -> dict[int, float]:
    """What each display that tells something bears at ``time`` (N), by its number."""
    seen = {}
    for number, one in enumerate(displays):
        load = one.samples[one.at(time)].load
        holds = any(n == number and first <= time < last for n, first, last in held)
        if load is not None and not holds:
            seen[number] = load - zeros[number].rest
    return seen


def _came(one: Samples, time: float) -> float:
    return one.samples[one.at(time)].since


def _held_in(held: Sequence[tuple[int, float, float]], start: float, end: float) -> frozenset[int]:
    return frozenset(n for n, first, last in held if first <= end and last >= start)
