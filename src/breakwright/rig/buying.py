"""The capacity that a scale needs, turned round from the strongest pieces expected."""

import math
from collections.abc import Iterable, Sequence

from breakwright.rig.findings import PieceStrength
from breakwright.rig.lognormal import share_to_z
from breakwright.rig.scale_findings import Buy, ScaleView

__all__ = ["CHANCES", "buy_alone", "buy_for", "capacity_needed"]

CHANCES = (0.01, 0.10)


def capacity_needed(
    load: float, *, share: float, factor: float, tare: float, resolution: float
) -> float:
    """The capacity at which a display still reads ``load`` on the piece for certain.

    Max = F s/k + tare + r/2

    load: F, N on the piece. share: s, the largest share it bears. factor: k, the least load on
    the piece for one shown newton (lever and calibration). tare: N. resolution: step r, N.
    Valid for a display that stops at its capacity.

    99th percentile 8531 N, 54 % of it on one of two scales, in kg:

    >>> round(capacity_needed(8531.0, share=0.54, factor=1.0, tare=0.0, resolution=0.0) / 9.80665)
    470

    Source: physics facts, 'Scale limits' (470 kg and the tare).
    """
    return load * share / factor + tare + 0.5 * resolution


def buy_for(
    scales: Sequence[ScaleView], pieces: Iterable[PieceStrength], *, offers: tuple[float, ...]
) -> tuple[Buy, ...]:
    """What every scale of the set needs so that few pieces of any group run it out."""

    def each(load: float) -> tuple[float, ...]:
        return tuple(
            capacity_needed(
                load,
                share=s.share[2],
                factor=s.factor[0] * s.correction[0],
                tare=s.tare,
                resolution=s.resolution,
            )
            for s in scales
        )

    found = []
    known = tuple(pieces)
    for chance in CHANCES if known else ():
        loads = {p.group: _load_at(p, chance) for p in known}
        group = max(loads, key=lambda g: loads[g])
        needs = each(loads[group])
        serve = [o for o in sorted(offers) if o >= max(needs)]
        found.append(Buy(chance, group, loads[group], needs, offers, serve[0] if serve else None))
    return tuple(found)


def buy_alone(pieces: Iterable[PieceStrength], *, offers: tuple[float, ...]) -> tuple[Buy, ...]:
    """What one scale needs that bears the whole load itself, nothing tared away."""
    bare = ScaleView(
        name="one scale",
        capacity=None,
        tare=0.0,
        usable=None,
        factor=(1.0, 1.0),
        correction=(1.0, 1.0),
        verified=None,
        fit=None,
        share=(1.0, 1.0, 1.0),
        at=None,
        limit=None,
        limit_high=None,
        refresh=None,
        missed=None,
        resolution=0.0,
        step=0.0,
    )
    return buy_for([bare], pieces, offers=offers)


def _load_at(piece: PieceStrength, chance: float) -> float:
    return piece.median * math.exp(share_to_z(1.0 - chance) * piece.sigma)
