"""How one maker's display looks: the shape of its digits and the way they are set."""

from dataclasses import dataclass

import numpy as np

from training.strips.outline import Ends

__all__ = ["Style", "random_style"]


@dataclass(frozen=True, slots=True)
class Style:
    """Lengths in digit heights, ``slant`` in radians.

    ``pitch`` is from cell to cell; ``point`` the point's size (0: it has none), ``point_at`` its
    middle right of the cell's right edge and above the base line, ``point_room`` what a point adds
    to the pitch; ``varied`` the characters drawn the other way; ``narrow_one`` the width of a 1
    that does not keep its cell (0: it keeps it); ``uneven`` how far cells stand off their places;
    ``dash`` the length of a minus sign of its own (0: the middle segment of a cell).
    """

    width: float
    thickness: float
    gap: float
    waist: float
    corner: Ends
    joint: Ends
    middle: Ends
    rounding: float
    slant: float
    pitch: float
    point: float
    point_round: bool
    point_at: tuple[float, float]
    point_room: float
    varied: frozenset[str]
    narrow_one: float
    uneven: float
    dash: float


def random_style(rng: np.random.Generator) -> Style:
    """Return a style such as scales, multimeters and clocks have, and some beyond."""
    width = float(rng.triangular(0.38, 0.56, 0.92))
    thickness = float(min(rng.triangular(0.06, 0.13, 0.21), 0.3 * width))
    space = float(rng.triangular(0.08, 0.18, 0.5))
    size = float(np.clip(thickness * rng.uniform(0.75, 1.5), 0.07, 0.2))
    room = float(rng.choice([0.0, 0.0, 1.0]) * rng.uniform(0.0, 0.18))
    if rng.random() < 0.36:
        # Without a point the digits may stand close: what lies between two is not one.
        size, room, space = 0.0, 0.0, float(rng.triangular(0.02, 0.09, 0.3))
        width = min(0.95, width * float(rng.uniform(1.0, 1.3)))
    else:
        # A point that touched both its neighbours would be no more than a narrow gap.
        space = max(space, size + 0.04 - room)
    slant = 0.0 if rng.random() < 0.3 else float(np.radians(rng.uniform(-3.0, 14.0)))
    return Style(
        width=width,
        thickness=thickness,
        gap=float(rng.choice([0.0, 1.0], p=[0.15, 0.85]) * rng.uniform(0.004, 0.04)),
        waist=float(rng.normal(0.5, 0.012)),
        corner=_corner(rng),
        joint=_joint(rng),
        middle=Ends(*(_middle(rng))),
        rounding=float(rng.choice([0.0, 1.0]) * rng.uniform(0.0, 0.35)),
        slant=slant,
        pitch=width + space,
        point=size,
        point_round=bool(rng.random() < 0.5),
        point_at=(
            float((space + room) * rng.uniform(0.4, 0.6)),
            float(rng.uniform(0.0, 0.03) + size / 2.0),
        ),
        point_room=room,
        varied=_varied(rng),
        narrow_one=_narrow_one(rng, thickness, space),
        uneven=_uneven(rng, space),
        dash=float(rng.choice([0.0, 1.0], p=[0.7, 0.3]) * rng.uniform(0.25, 0.6)),
    )


def _narrow_one(rng: np.random.Generator, thickness: float, space: float) -> float:
    # Where digits stand close, a bare stroke between two could not be told from their own.
    if space < 0.12 or rng.random() > 0.06:
        return 0.0
    return thickness * float(rng.uniform(1.0, 2.0))


def _uneven(rng: np.random.Generator, space: float) -> float:
    # A wider gap alone is no point.
    return min(float(rng.uniform(0.005, 0.08)), 0.4 * space) if rng.random() < 0.3 else 0.0


def _corner(rng: np.random.Generator) -> Ends:
    kinds = [(0.0, 0.0, 1.0), (1.0, 0.0, 1.0), (1.0, 0.5, 1.0), (0.4, 0.0, 1.0), (0.0, 0.5, 1.0)]
    return _near(kinds[int(rng.integers(len(kinds)))], rng)


def _joint(rng: np.random.Generator) -> Ends:
    kinds = [(1.0, 0.0, 1.0), (1.0, 0.5, 1.0), (0.5, 0.1, 1.0), (0.5, 0.2, 1.4), (1.3, 0.2, 0.7)]
    return _near(kinds[int(rng.integers(len(kinds)))], rng)


def _middle(rng: np.random.Generator) -> tuple[float, float, float]:
    kinds = [(1.0, 0.0, 1.0), (1.0, 0.5, 1.0), (0.9, 0.3, 0.9), (1.3, 0.0, 1.3)]
    ends = _near(kinds[int(rng.integers(len(kinds)))], rng)
    return (ends.outer, ends.middle, ends.outer)


def _near(kind: tuple[float, float, float], rng: np.random.Generator) -> Ends:
    outer, middle, inner = np.array(kind) + rng.normal(0.0, 0.08, 3)
    return Ends(float(outer), float(middle), float(inner))


def _varied(rng: np.random.Generator) -> frozenset[str]:
    # Makers that leave the tail off a 6 mostly leave it off a 9 too.
    tails = rng.choice([0, 1, 2, 3], p=[0.76, 0.14, 0.05, 0.05])
    varied = {0: "", 1: "69", 2: "6", 3: "9"}[int(tails)]
    return frozenset(varied + ("7" if rng.random() < 0.35 else ""))
