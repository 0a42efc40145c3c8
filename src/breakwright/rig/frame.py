"""How far the rig gives way under load: the stroke that the jack needs, and what springs back."""

import math

import numpy as np

from breakwright.model.errors import BreakwrightError
from breakwright.model.part import Part
from breakwright.rig.energy import energy_stored, loose_speed
from breakwright.rig.findings import BreakEnergy, Deflection, Frame
from breakwright.rig.look import Look

__all__ = ["frame_of"]


def frame_of(look: Look) -> Frame:
    """The give of each part, one after another along the load path, and their sum.

    Each piece of a part is taken at its largest share of the load. Parts without an equation
    are named and left out, so that every sum is 'at least this much'.
    """
    layout = look.study.layout
    if not look.pieces:
        unknown = tuple(p.name for p in look.study.parts)
        return Frame((), unknown, None, None, layout.stroke, None)
    strongest = look.strongest()
    loads = (strongest.median, strongest.p99)
    parts = tuple(_of_part(look, part, loads, strongest.group) for part in look.study.parts)
    unknown = tuple(d.part for d in parts if d.at_median is None)
    if len(unknown) == len(parts):
        return Frame(parts, unknown, None, None, layout.stroke, None)
    usual = sum(d.at_median for d in parts if d.at_median is not None)
    most = sum(d.at_p99 for d in parts if d.at_p99 is not None)
    return Frame(
        parts=parts,
        unknown=unknown,
        usual=_energy(loads[0], usual, layout.loose_mass),
        strongest=_energy(loads[1], most, layout.loose_mass),
        stroke=layout.stroke,
        stroke_needed=most,
    )


def _of_part(look: Look, part: Part, loads: tuple[float, float], group: str) -> Deflection:
    kind = look.catalogue.kinds.get(part.kind)
    if kind is None or kind.deflection is None:
        return Deflection(part.name, None, None)
    try:
        resolved = look.catalogue.resolve(part, group if part.tested else None)
        values = {k: np.array([v, v]) for k, v in resolved.numbers.items()}
        give = kind.deflection(values, np.asarray(loads) * resolved.piece_share)
    except (KeyError, BreakwrightError):
        # A number that only the deflection needs (a modulus of elasticity) is not known.
        return Deflection(part.name, None, None)
    at_median, at_p99 = (float(g) for g in np.broadcast_to(give, (2,)))
    if not (math.isfinite(at_median) and math.isfinite(at_p99)):
        return Deflection(part.name, None, None)
    return Deflection(part.name, at_median, at_p99)


def _energy(load: float, deflection: float, mass: float | None) -> BreakEnergy:
    energy = float(energy_stored(load, deflection))
    speed = None if mass is None else float(loose_speed(energy, mass))
    return BreakEnergy(load, deflection, energy, mass, speed)
