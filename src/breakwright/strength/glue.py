"""A glued lap: its shear load, the peak at its ends, and wood crossed with wood."""

import difflib
import math
from dataclasses import dataclass

import numpy as np

from breakwright.model.errors import BreakwrightError
from breakwright.strength.mechanism import Floats
from breakwright.strength.metal_tables import table

__all__ = ["CROSSED", "Glue", "UnknownGlue", "end_peak", "find_glue", "lap_load"]

# Glued wood crossed at right angles: one of the two rolls. FPL Report 1522 'taken as one-third'.
CROSSED = 1.0 / 3.0


@dataclass(frozen=True, slots=True)
class Glue:
    """A glue's usual range of shear strength on maple (MPa)."""

    name: str
    low_MPa: float  # noqa: N815
    high_MPa: float  # noqa: N815

    @property
    def middle_MPa(self) -> float:  # noqa: N802
        """The range's geometric middle, taken as a median."""
        return math.sqrt(self.low_MPa * self.high_MPa)


class UnknownGlue(BreakwrightError, LookupError):
    """A glue that the table does not hold."""

    def __init__(self, name: str, nearest: tuple[str, ...]) -> None:
        self.name = name
        self.nearest = nearest
        super().__init__(f"glue {name!r}: no such glue in the table")


_ALSO = {
    "white glue": "pva",
    "wood glue": "pva",
    "yellow glue": "pva",
    "pvac": "pva",
    "pu": "polyurethane",
}


def find_glue(name: str) -> Glue:
    """Return what the table says of a glue.

    >>> round(find_glue("Wood glue").middle_MPa, 1)
    19.6
    """
    key = name.strip().casefold()
    key = _ALSO.get(key, key)
    known = {row["glue"]: row for row in table("glues.csv")}
    if key not in known:
        near = tuple(difflib.get_close_matches(key, [*known, *_ALSO], n=3, cutoff=0.5))
        raise UnknownGlue(name, near or tuple(known))
    return Glue(key, float(known[key]["low_MPa"]), float(known[key]["high_MPa"]))


def lap_load(shear_MPa: Floats, width_mm: Floats, overlap_mm: Floats) -> Floats:  # noqa: N803
    """Return the load (N) at which a glued lap shears off, by the mean stress.

    F = t b l.

    ``shear_MPa``: shear strength t of the glue line or of the wood beside it, any shape;
    ``width_mm``: b; ``overlap_mm``: length l along the load.
    Range: laps about as long as the blocks that t comes from; longer ones hold less per area.

    >>> round(lap_load(12.0, 25.0, 25.0))
    7500

    Source: mean shear stress, as block shear tests define their strength.
    """
    return shear_MPa * width_mm * overlap_mm


def end_peak(
    overlap_mm: Floats,
    *,
    thickness_mm: Floats,
    other_thickness_mm: Floats,
    moe_MPa: Floats,  # noqa: N803
    other_moe_MPa: Floats,  # noqa: N803
    glue_stiffness_N_mm3: Floats,  # noqa: N803
) -> Floats:
    """Return how much larger the shear stress at a lap's ends is than its mean.

    q = (w l/2) coth(w l/2), w^2 = (G/t)(1/(E1 t1) + 1/(E2 t2)).

    ``overlap_mm``: l, any shape; ``thickness_mm``, ``other_thickness_mm``: t1 and t2 of the two
    pieces; ``moe_MPa``, ``other_moe_MPa``: E1 and E2; ``glue_stiffness_N_mm3``: shear modulus of
    the glue over its thickness, G/t.
    Range: elastic; exact for equal pieces. A glue or wood that yields evens the peak out.

    >>> equal = {"thickness_mm": 10.0, "other_thickness_mm": 10.0}
    >>> stiff = {"moe_MPa": 12_600.0, "other_moe_MPa": 12_600.0, "glue_stiffness_N_mm3": 1e4}
    >>> round(float(end_peak(25.0, **equal, **stiff)), 2)
    4.98

    Source: Volkersen (1938), shear lag, as in textbooks (from memory).
    """
    soft = 1.0 / (moe_MPa * thickness_mm) + 1.0 / (other_moe_MPa * other_thickness_mm)
    x = np.sqrt(glue_stiffness_N_mm3 * soft) * overlap_mm / 2.0
    peak: Floats = x / np.tanh(x)
    return peak
