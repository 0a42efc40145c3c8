"""Materials by plain name: what the tables know of each, with scatter, source and status."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from types import MappingProxyType

from breakwright.model.errors import BreakwrightError
from breakwright.strength.names import plain, same_or_near
from breakwright.strength.tables import Row, material_names, middle_of_range, rows

__all__ = ["Material", "Property", "UnknownMaterial", "find_material", "known_materials"]

# A board's characteristic value is taken up to a mean with this scatter: mean = k/(1 - 1.645 CV).
# The authors' judgement for plywood and fibreboard; no source.
_BOARD_CV = 0.15
# A property with no scatter of its own in the tables (tension across the grain, screw sizes).
_OTHER_CV = 0.25


@dataclass(frozen=True, slots=True)
class Property:
    """One property: mean (or median of a range), unit, coefficient of variation, origin.

    ``status`` is 'verified' (read in a copy of the source) or 'memory'; ``green`` is the same
    property of green wood where the tables have it.
    """

    value: float
    unit: str
    cv: float
    source: str
    status: str
    green: float | None = None


@dataclass(frozen=True, slots=True)
class Material:
    """What the tables know of one material. ``intersection_moisture_pct`` is where the strength of
    drying wood begins to rise (wood only)."""

    name: str
    category: str
    properties: Mapping[str, Property]
    intersection_moisture_pct: float | None = None


class UnknownMaterial(BreakwrightError, LookupError):
    """No table has a material of that name; ``nearest`` are the names that it may stand for."""

    def __init__(self, name: str, *, nearest: tuple[str, ...]) -> None:
        self.name = name
        self.nearest = nearest
        hint = f"; did you mean {' or '.join(repr(n) for n in nearest)}?" if nearest else ""
        super().__init__(f"no material is called {name!r}{hint}")


def known_materials() -> tuple[str, ...]:
    """Return the plain names of all materials, in the order of the table."""
    return tuple(n.name for n in material_names())


def find_material(name: str) -> Material:
    """Return the material that ``name`` stands for; case, plurals and hyphens do not count.

    A name that could be several ('maple') is refused with all of them.

    >>> find_material("Hard Maples").name, find_material("douglas-fir").category
    ('sugar maple', 'softwood')
    >>> find_material("maple")
    Traceback (most recent call last):
    breakwright.strength.materials.UnknownMaterial: no material is called 'maple'; did you mean \
'sugar maple' or 'red maple'?
    """
    spoken = _spoken_names()
    key = plain(name)
    if key in spoken:
        return _material(spoken[key])
    near = same_or_near(name, [*known_materials(), *spoken])
    names = (n if n in known_materials() else spoken[n] for n in near)
    raise UnknownMaterial(name, nearest=tuple(dict.fromkeys(names))[:6])


@cache
def _spoken_names() -> Mapping[str, str]:
    return MappingProxyType(
        {plain(said): n.name for n in material_names() for said in (n.name, *n.also)}
    )


@cache
def _material(name: str) -> Material:
    category = next(n.category for n in material_names() if n.name == name)
    wood = category in ("hardwood", "softwood")
    scatter = {
        r.property: float(r.text) / 100.0 for r in rows("scatter") if r.material == "clear wood"
    }
    green = {r.property: float(r.text) for r in rows("green") if r.material == name}
    found = {
        r.property: _property(r, scatter=scatter.get(r.property) if wood else None)
        for r in (*rows("wood"), *rows("boards"))
        if r.material in (name, f"any {category}")
    }
    found = {k: replace(v, green=green[k]) if k in green and wood else v for k, v in found.items()}
    _add_density(found)
    meeting = {r.material: float(r.text) for r in rows("moisture")}
    return Material(
        name=name,
        category=category,
        properties=MappingProxyType(found),
        intersection_moisture_pct=meeting.get(name, meeting["any other wood"]) if wood else None,
    )


def _property(row: Row, *, scatter: float | None) -> Property:
    source = f"{row.source} ({row.status})"
    if row.what == "range":
        low, high = (float(x) for x in row.text.split("-"))
        value, cv = middle_of_range(low, high)
        source = f"{row.source} ({row.status}; middle of {row.text})"
    elif row.what == "characteristic":
        cv = _BOARD_CV
        value = float(row.text) / (1.0 - 1.645 * cv)
        source = f"{row.source} ({row.status}; mean taken from the lower value {row.text})"
    elif scatter is not None:
        value, cv = float(row.text), scatter
    else:
        value = float(row.text)
        cv = _OTHER_CV if row.property == "tension_perp_MPa" else _BOARD_CV
        if row.property == "density_kg_m3":
            cv = _DENSITY_CV
    return Property(value, row.unit, cv, source, row.status)


# Scatter of a board's density where it was not weighed; the authors' judgement, no source.
_DENSITY_CV = 0.05


def _add_density(found: dict[str, Property]) -> None:
    """Give the other of specific gravity and density at 12 % moisture: rho = 1120 G."""
    gravity, density = found.get("specific_gravity"), found.get("density_kg_m3")
    if density is None and gravity is not None:
        found["density_kg_m3"] = replace(
            gravity,
            value=gravity.value * 1120.0,
            unit="kg/m3",
            source=f"from the specific gravity at 12 % moisture: {gravity.source}",
        )
    elif gravity is None and density is not None:
        found["specific_gravity"] = replace(
            density,
            value=density.value / 1120.0,
            unit="-",
            source=f"from the density at 12 % moisture: {density.source}",
        )
