"""Where scales stand and where the load comes on: shares, and the position that reads the most."""

from collections.abc import Sequence
from typing import NamedTuple

from breakwright.model.foresight import Layout
from breakwright.rig.scale_findings import ShareOrigin
from breakwright.rig.scale_views import Share
from breakwright.rig.statics import (
    best_position,
    share_range,
    shares_of_two,
    shares_on_springs,
)

__all__ = ["Best", "aim_of", "best_of", "overhangs", "shares_at"]

_PLACES = 200  # tried along the beam: to half a per cent of its length


class Best(NamedTuple):
    """Where to aim the load (mm), and the whole load up to which all scales then read (N)."""

    at: float
    limit: float


def aim_of(layout: Layout, places: Sequence[float]) -> float:
    """Where the load is aimed; the middle between the outer scales where it is not stated."""
    if layout.load_at is not None:
        return layout.load_at
    return 0.5 * (min(places) + max(places))


def overhangs(layout: Layout, places: Sequence[float]) -> bool:
    """Whether the load may come on outside the outer scales, so that the beam tips."""
    aim = aim_of(layout, places)
    return aim - layout.wander < min(places) or aim + layout.wander > max(places)


def shares_at(
    aim: float, wander: float, places: Sequence[float]
) -> tuple[tuple[Share, ...], ShareOrigin]:
    """The share of each scale, for a load that lies within ``wander`` of ``aim``.

    Two scales: by statics. Three or more in a line: any balance of forces, with a stiff beam on
    equal scales as the middle value. What lies outside the outer scales is taken at the end.
    """
    first, last = min(places), max(places)
    reach = (_within(aim - wander, first, last), _within(aim + wander, first, last))
    ranges = share_range(reach, places)
    inside = _within(aim, first, last)
    if len(places) == 2:
        middle = shares_of_two(inside, places[0], places[1])
        origin = ShareOrigin.STATICS
    else:
        middle = shares_on_springs(inside, places)
        origin = ShareOrigin.RANGE
    shares = tuple(
        Share(low, _within(float(m), low, high), high)
        for (low, high), m in zip(ranges, middle, strict=True)
    )
    return shares, origin


def best_of(places: Sequence[float], loads: Sequence[float], *, wander: float) -> Best | None:
    """Where the scales together read the most; ``loads`` is what each can bear (N).

    Two scales: solved, with the load's wander counted in. Three or more: searched along the
    beam, for a stiff beam on equal scales and a load that stays where it is aimed. None where a
    scale reads nothing at all.
    """
    if min(loads) <= 0.0:
        return None
    if len(places) == 2:
        first, last = sorted(range(2), key=lambda k: places[k])
        at = best_position(places[first], places[last], (loads[first], loads[last]), wander=wander)
        shares, _ = shares_at(at, wander, places)
        return Best(at, _limit([s.high for s in shares], loads))
    low, high = min(places), max(places)
    best: Best | None = None
    for k in range(_PLACES + 1):
        at = low + (high - low) * k / _PLACES
        on_springs = [float(s) for s in shares_on_springs(at, places)]
        if min(on_springs) < 0.0:
            continue
        limit = _limit(on_springs, loads)
        if best is None or limit > best.limit * (1.0 + 1e-12):
            best = Best(at, limit)
    return best


def _limit(shares: Sequence[float], loads: Sequence[float]) -> float:
    return min(load / s for load, s in zip(loads, shares, strict=True) if s > 0.0)


def _within(value: float, low: float, high: float) -> float:
    return min(max(value, low), high)
