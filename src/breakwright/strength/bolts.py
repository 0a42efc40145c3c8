"""Bolts and threaded rod in tension: what their grade promises, and the load that follows."""

import difflib
import re
from dataclasses import dataclass

from breakwright.model.errors import BreakwrightError
from breakwright.strength.mechanism import Floats
from breakwright.strength.metal_tables import table

__all__ = ["Grade", "UnknownGrade", "bolt_stretch", "find_grade", "tension_load"]

_MPA_PER_KSI = 1000.0 * 0.45359237 * 9.80665 / 25.4**2
_WORDS = re.compile(r"^(?:class|property class|iso|sae(?: j429)?|gr(?:\.|(?=\s))|stainless)\s*")


@dataclass(frozen=True, slots=True)
class Grade:
    """What a grade promises at least (MPa): proof stress, yield, tensile strength; its source."""

    name: str
    proof_MPa: float  # noqa: N815
    yield_MPa: float  # noqa: N815
    tensile_MPa: float  # noqa: N815
    source: str
    status: str


class UnknownGrade(BreakwrightError, LookupError):
    """A grade that the table does not hold, or not in this thickness."""

    def __init__(self, name: str, nearest: tuple[str, ...], why: str) -> None:
        self.name = name
        self.nearest = nearest
        super().__init__(f"grade {name!r}: {why}")


def find_grade(name: str, diameter_mm: float) -> Grade:
    """Return what a grade promises for a bolt of this diameter.

    >>> find_grade("8.8", 8.0).tensile_MPa, find_grade("8.8", 20.0).tensile_MPa
    (800.0, 830.0)
    >>> [round(find_grade(g, 7.9375).tensile_MPa) for g in ("Gr. 5", "grade 5", "SAE 5")]
    [827, 827, 827]
    """
    key = _WORDS.sub("", name.strip().casefold()).strip()
    if re.fullmatch(r"[1258]", key):
        key = f"grade {key}"
    key = re.sub(r"^grade\s*", "grade ", key)
    if re.fullmatch(r"grade \d+\.\d+|grade a\d-\d+", key):
        key = key.removeprefix("grade ")
    rows = [row for row in table("bolts.csv") if row["grade"].casefold() == key]
    if not rows:
        known = sorted({row["grade"] for row in table("bolts.csv")})
        near = tuple(difflib.get_close_matches(key, known, n=3, cutoff=0.5)) or tuple(known)
        raise UnknownGrade(name, near, "no such grade in the table")
    for row in rows:
        if float(row["over_mm"]) < diameter_mm <= float(row["to_mm"]) + 1e-9:
            unit = _MPA_PER_KSI if row["unit"] == "ksi" else 1.0
            return Grade(
                row["grade"],
                float(row["proof"]) * unit,
                float(row["yield"]) * unit,
                float(row["tensile"]) * unit,
                row["source"],
                row["status"],
            )
    thickest = max(float(row["to_mm"]) for row in rows)
    raise UnknownGrade(name, (), f"this grade goes up to a diameter of {thickest:g} mm")


def tension_load(stress_area_mm2: Floats, stress_MPa: Floats) -> Floats:  # noqa: N803
    """Return the load (N) that brings a bolt to a stress: proof, yield or tensile.

    F = A_s R.

    ``stress_area_mm2``: stress area of the thread A_s, any shape; ``stress_MPa``: R.
    Range: straight pull; the thread and not the shank governs.

    >>> round(tension_load(36.6, 800.0) / 1000.0, 1), round(tension_load(36.6, 580.0) / 1000.0, 1)
    (29.3, 21.2)

    Source: ISO 898-1, tables of minimum tensile and proof loads (29.2 kN and 21.2 kN for M8 8.8,
    the first cut to three figures there); SAE J429.
    """
    return stress_area_mm2 * stress_MPa


def bolt_stretch(
    load_N: Floats,  # noqa: N803
    length_mm: Floats,
    stress_area_mm2: Floats,
    moe_MPa: Floats,  # noqa: N803
) -> Floats:
    """Return how far a bolt or rod stretches (mm) below its proof load.

    x = F L / (E A_s).

    ``load_N``: F, any shape; ``length_mm``: free length L; ``stress_area_mm2``: A_s (threaded
    over its whole length); ``moe_MPa``: modulus of elasticity E.
    Range: elastic; threads and head give a little more.

    >>> round(bolt_stretch(5000.0, 100.0, 36.6, 205_000.0), 4)
    0.0666

    Source: Hooke's law.
    """
    return load_N * length_mm / (moe_MPa * stress_area_mm2)
