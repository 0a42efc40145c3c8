"""Keys, words, sizes and checks that the kinds of wood fastener share."""

import re
from collections.abc import Callable, Mapping

from breakwright.strength.mechanism import Key, KeyUse
from breakwright.strength.names import plain, same_or_near
from breakwright.strength.tables import rows

__all__ = [
    "BOARD_NOTE",
    "CLASSES",
    "DENSITY",
    "DIAMETER",
    "GRAVITY",
    "HEAD",
    "HOLE",
    "LAG_STEEL",
    "PENETRATION",
    "ROOT",
    "SIDE_DENSITY",
    "SIDE_GRAVITY",
    "THREAD_LENGTH",
    "hole_problem",
    "in_board",
    "in_end_grain",
    "in_solid_side_grain",
    "size_from_table",
    "size_problem",
]

Numbers = Mapping[str, float]
Words = Mapping[str, str]

CLASSES = ("hardwood", "softwood", "plywood", "fibreboard")

_BASIS = "ovendry weight over volume at 12 % moisture"
GRAVITY = Key(
    "specific_gravity",
    f"specific gravity of the wood that holds ({_BASIS})",
    KeyUse.PROPERTY,
    0.15,
    1.1,
    cv=0.10,
)
SIDE_GRAVITY = Key(
    "side_specific_gravity",
    f"specific gravity of the piece under the head ({_BASIS})",
    KeyUse.PROPERTY,
    0.15,
    1.1,
    cv=0.10,
)
DENSITY = Key(
    "density_kg_m3",
    "density of the wood that holds, as weighed",
    KeyUse.PROPERTY,
    150.0,
    1200.0,
    cv=0.10,
)
SIDE_DENSITY = Key(
    "side_density_kg_m3",
    "density of the piece under the head, as weighed",
    KeyUse.PROPERTY,
    150.0,
    1200.0,
    cv=0.10,
)
DIAMETER = Key("diameter_mm", "diameter of the shank", KeyUse.SIZE, 1.0, 30.0, cv=0.01)
PENETRATION = Key(
    "penetration_mm", "length in the wood that holds the point", KeyUse.SIZE, 3.0, 500.0, cv=0.02
)
THREAD_LENGTH = Key(
    "thread_length_mm", "length of thread in the wood that holds", KeyUse.SIZE, 3.0, 500.0, cv=0.02
)
ROOT = Key("root_mm", "diameter at the root of the thread", KeyUse.SIZE, 0.7, 25.0, cv=0.03)
HEAD = Key("head_mm", "diameter of the head or washer", KeyUse.SIZE, 2.0, 100.0, cv=0.02)
HOLE = Key("hole_mm", "diameter of the hole drilled for it", KeyUse.SIZE, 0.0, 30.0)
# 77,000 psi is of lag screws (Wood Handbook, ch. 8); wood screws are taken to be alike.
LAG_STEEL = Key(
    "fastener_tensile_MPa",
    "tensile strength of the fastener's steel",
    KeyUse.PROPERTY,
    200.0,
    1800.0,
    cv=0.08,
    default=531.0,
)

BOARD_NOTE = "the equation is of solid wood; plywood tested below it (Wood Research 49(1), p. 93)"


def in_end_grain(words: Words) -> bool:
    return words.get("grain") == "end" and not in_board(words)


def in_board(words: Words) -> bool:
    return words.get("material_class") in ("plywood", "fibreboard")


def in_solid_side_grain(words: Words) -> bool:
    return words.get("grain", "side") == "side" and not in_board(words)


def size_from_table(
    prefix: str, word: str, root: float | None
) -> Callable[[Numbers, Words], Numbers]:
    """Return a ``Kind.complete`` that reads the diameter of a named size, and the root from it."""

    def complete(numbers: Numbers, words: Words) -> Numbers:
        found: dict[str, float] = {}
        named = words.get(word)
        if named is not None:
            size = _sizes(prefix).get(_bare(named))
            if size is not None:
                found["diameter_mm"] = size
        diameter = numbers.get("diameter_mm", found.get("diameter_mm"))
        if root is not None and diameter is not None:
            found["root_mm"] = root * diameter
        return found

    return complete


def size_problem(prefix: str, word: str, words: Words) -> tuple[str, ...]:
    """Say that a named size is in no table, with those that are."""
    named = words.get(word)
    sizes = _sizes(prefix)
    if named is None or _bare(named) in sizes:
        return ()
    near = same_or_near(_bare(named), sizes) or tuple(sizes)
    return (f"{word} {named!r} is in no table; known are {', '.join(near)}: or give diameter_mm",)


def hole_problem(numbers: Numbers, most: str, what: str) -> tuple[str, ...]:
    """Say that a hole is too large for the equation: as large as ``most`` or larger."""
    hole, limit = numbers.get("hole_mm"), numbers.get(most)
    if hole is None or limit is None or hole < limit:
        return ()
    diameter = numbers.get("diameter_mm")
    if diameter is not None and hole >= diameter:
        return (
            f"hole_mm is {hole:g}, not smaller than the fastener ({diameter:g} mm): it would hold "
            f"nothing; allowed is below {limit:g}",
        )
    return (
        f"hole_mm is {hole:g}, larger than {what} ({limit:.3g} mm): the equation does not reach "
        f"there; allowed is below {limit:.3g}",
    )


def _sizes(prefix: str) -> Mapping[str, float]:
    return {
        plain(r.material.removeprefix(prefix)): float(r.text)
        for r in rows("fasteners")
        if r.material.startswith(prefix + " ") and r.property == "diameter_mm"
    }


def _bare(named: str) -> str:
    """'#10', 'No. 10', 'no10' and '10' are all 'no 10'; '16d' stays."""
    text = plain(named)
    number = re.fullmatch(r"(?:no|#)? ?(\d+)", text)
    return f"no {number[1]}" if number else text
