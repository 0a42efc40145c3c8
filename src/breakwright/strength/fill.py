"""What a part's material, weighing and moisture add to the numbers that a person gave."""

from dataclasses import dataclass, field

import numpy as np

from breakwright.strength.density import density_of_piece, specific_gravity
from breakwright.strength.materials import Material, Property, UnknownMaterial, find_material
from breakwright.strength.mechanism import Key, KeyUse, Kind
from breakwright.strength.moisture import property_at_moisture

__all__ = [
    "WEIGHED_KEYS",
    "Gathered",
    "fill_from_material",
    "keys_of_material",
    "material_words",
    "weighed_allowed",
]

# Keys that any kind with a wood property takes, besides its own: name, lowest, highest.
WEIGHED_KEYS = {
    "specific_gravity": (0.05, 1.3),
    "density_kg_m3": (50.0, 1400.0),
    "moisture_pct": (4.0, 40.0),
    "piece_mass_g": (0.1, 100_000.0),
    "piece_length_mm": (1.0, 10_000.0),
    "piece_width_mm": (1.0, 10_000.0),
    "piece_thickness_mm": (1.0, 10_000.0),
}
_PIECE = tuple(k for k in WEIGHED_KEYS if k.startswith("piece_"))
_WOOD = {"specific_gravity", "density_kg_m3", "mor_MPa", "moe_MPa", "shear_MPa", "comp_perp_MPa"}
# Scatter of the density within a board that was weighed and measured; judgement, no source.
_WEIGHED_CV = 0.03
_AT_12 = 12.0


@dataclass
class Gathered:
    """Numbers on their way to being complete, with scatter and origin by key."""

    numbers: dict[str, float]
    origin: dict[str, str]
    words: dict[str, str]
    cv: dict[str, float] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)

    def put(self, key: str, value: float, *, cv: float, origin: str) -> None:
        """Set a number; a scatter that the person gave (it is there already) stays."""
        self.numbers[key], self.origin[key] = value, origin
        self.cv.setdefault(key, cv)


def material_words(kind: Kind) -> tuple[str, ...]:
    """Return the word keys that name a material: 'material' and those that end with it."""
    return tuple(w for w in kind.words if w == "material" or w.endswith("_material"))


def keys_of_material(kind: Kind, word: str) -> dict[str, Key]:
    """Return the PROPERTY keys that ``word`` (like 'side_material') stands for, by the name that
    the material's table has for them ('shear_MPa' for 'side_shear_MPa')."""
    prefix = word[: -len("material")]
    others = tuple(w[: -len("material")] for w in material_words(kind) if len(w) > len(word))
    return {
        k.name.removeprefix(prefix): k
        for k in kind.keys
        if k.use is KeyUse.PROPERTY
        and k.name.startswith(prefix)
        and not (others and k.name.startswith(others))
    }


def weighed_allowed(kind: Kind) -> dict[str, tuple[float, float]]:
    """Return the keys of weighing and moisture that the kind takes, with what is allowed."""
    allowed: dict[str, tuple[float, float]] = {}
    own = {k.name for k in kind.keys}
    for word in material_words(kind):
        prefix = word[: -len("material")]
        bases = set(keys_of_material(kind, word))
        if bases & {"specific_gravity", "density_kg_m3"}:
            allowed |= {prefix + k: v for k, v in WEIGHED_KEYS.items()}
        elif bases & _WOOD:
            # A weighed density changes nothing here, and the prediction says so.
            weighing = {k: v for k, v in WEIGHED_KEYS.items() if k != "specific_gravity"}
            allowed |= {prefix + k: v for k, v in weighing.items()}
    return {k: v for k, v in allowed.items() if k not in own}


def fill_from_material(kind: Kind, part: Gathered, word: str) -> None:
    """Fill the PROPERTY keys that ``word`` (a key like 'side_material') stands for.

    A weighed density replaces the table's specific gravity and density and nothing else; what
    moisture does to the other properties is said in their origin.
    """
    prefix = word[: -len("material")]
    keys = keys_of_material(kind, word)
    material = _find(part.words.get(word))
    if material is not None:
        part.words.setdefault(f"{word}_class", material.category)
    moisture = part.numbers.get(prefix + "moisture_pct", _AT_12)
    weighed = _weigh(part, prefix)
    if weighed is not None:
        _use_weighed(part, prefix, weighed=weighed, moisture=moisture)
    elif prefix + "specific_gravity" in part.numbers:
        _density_from_gravity(part, prefix)
    if material is None:
        return
    from_table = False
    for base, key in keys.items():
        prop = material.properties.get(base)
        if prop is None:
            continue
        if key.name in part.numbers:
            part.cv.setdefault(key.name, prop.cv)
            continue
        value, remark = _at_moisture(prop, base, material, moisture)
        origin = f"table, {material.name}{remark}: {prop.source}"
        part.put(key.name, value, cv=prop.cv, origin=origin)
        from_table = True
    if weighed is not None and from_table:
        part.notes.append(
            f"only the density of {material.name} is the weighed one; its other properties are "
            "the table's, not scaled with it"
        )


def _find(name: str | None) -> Material | None:
    try:
        return None if name is None else find_material(name)
    except UnknownMaterial:
        return None


def _weigh(part: Gathered, prefix: str) -> float | None:
    """The density as weighed, at the piece's own moisture."""
    numbers = part.numbers
    if prefix + "density_kg_m3" in numbers:
        return numbers[prefix + "density_kg_m3"]
    if not all(prefix + k in numbers for k in _PIECE):
        return None
    mass, length, width, thickness = (np.asarray(numbers[prefix + k]) for k in _PIECE)
    return float(density_of_piece(mass, length=length, width=width, thickness=thickness))


def _use_weighed(part: Gathered, prefix: str, *, weighed: float, moisture: float) -> None:
    gravity = float(specific_gravity(np.asarray(weighed), moisture_pct=np.asarray(moisture)))
    cv = part.cv.get(prefix + "density_kg_m3", _WEIGHED_CV)
    said = f"weighed: {weighed:.0f} kg/m³ at {moisture:g} % moisture"
    if prefix + "specific_gravity" not in part.numbers:
        origin = f"{said}; G = ρ/[1000(1 + M)]"
        part.put(prefix + "specific_gravity", gravity, cv=cv, origin=origin)
    at_12 = gravity * 1000.0 * (1.0 + _AT_12 / 100.0)
    origin = said if moisture == _AT_12 else f"{said}; taken to 12 %"
    part.put(prefix + "density_kg_m3", at_12, cv=cv, origin=origin)


def _density_from_gravity(part: Gathered, prefix: str) -> None:
    gravity = part.numbers[prefix + "specific_gravity"]
    at_12 = gravity * 1000.0 * (1.0 + _AT_12 / 100.0)
    cv = part.cv.get(prefix + "specific_gravity", _WEIGHED_CV)
    part.put(prefix + "density_kg_m3", at_12, cv=cv, origin="from the specific gravity given")


def _at_moisture(
    prop: Property, base: str, material: Material, moisture: float
) -> tuple[float, str]:
    if moisture == _AT_12 or material.intersection_moisture_pct is None:
        return prop.value, ""
    if base in ("specific_gravity", "density_kg_m3"):
        return prop.value, " at 12 %"
    if prop.green is None:
        return prop.value, f" at 12 % (no green value known, so not adjusted to {moisture:g} %)"
    value = property_at_moisture(
        np.asarray(prop.value),
        np.asarray(prop.green),
        moisture_pct=np.asarray(moisture),
        intersection_pct=np.asarray(material.intersection_moisture_pct),
    )
    return float(value), f" at 12 %, adjusted to {moisture:g} %"
