"""Density and specific gravity: of a weighed piece, and on the basis that an equation wants."""

from breakwright.strength.mechanism import Floats

__all__ = ["characteristic_density", "density_of_piece", "ovendry_gravity", "specific_gravity"]


def density_of_piece(mass_g: Floats, *, length: Floats, width: Floats, thickness: Floats) -> Floats:
    """Return the density of a weighed and measured piece.

    rho = m / (l w t)

    Args: ``mass_g``: mass (g); ``length``, ``width``, ``thickness`` (mm); one shape. Returns
    kg/m3.

    Valid for a straight block without knots, cut from beside the piece or the piece itself.

    >>> round(float(density_of_piece(76.16, length=100.0, width=40.0, thickness=28.0)), 1)
    680.0

    Source: definition.
    """
    return mass_g / (length * width * thickness) * 1e6


def specific_gravity(density: Floats, *, moisture_pct: Floats) -> Floats:
    """Return the specific gravity that belongs to a density at a moisture content.

    G = rho / [1000 (1 + M/100)]: ovendry mass over the volume at that moisture.

    Args: ``density`` (kg/m3, as weighed); ``moisture_pct`` (%); one shape. Returns a pure number.

    Valid between 0 and 30 % moisture. At 12 % this is the basis of the Wood Handbook's tables;
    between 8 and 16 % the volume differs from that at 12 % by less than about 2 % (judgement).

    >>> round(float(specific_gravity(680.0, moisture_pct=12.0)), 3)
    0.607

    Source: Wood Handbook FPL-GTR-282, ch. 4, definition (equation number not seen).
    """
    return density / (1000.0 * (1.0 + moisture_pct / 100.0))


def ovendry_gravity(gravity_at_12: Floats) -> Floats:
    """Return the specific gravity on ovendry volume, from that on volume at 12 % moisture.

    G_0 = G_12 / (1 - 0.009 x 12 G_12)

    Args: ``gravity_at_12``: ovendry mass over volume at 12 % moisture; any shape. Returns a pure
    number.

    Valid for 0.3 to 0.8. It is the density equation of the NDS, rho = G_0 (1 + M/100) /
    (1 + 0.009 M G_0), turned round at M = 12 %.

    >>> round(float(ovendry_gravity(0.48)), 2)
    0.51

    Source: NDS 2018 supplement, 3.1.3 (from memory); NDS lists 0.50 for Douglas fir-larch.
    """
    return gravity_at_12 / (1.0 - 0.108 * gravity_at_12)


def characteristic_density(mean_density: Floats) -> Floats:
    """Return the characteristic density (5th percentile) that goes with a mean density.

    rho_k = rho_mean / 1.2

    Args: ``mean_density`` (kg/m3 at 12 % moisture); any shape. Returns kg/m3.

    Valid for the softwood strength classes; taken for hardwoods too.

    >>> float(characteristic_density(420.0))
    350.0

    Source: EN 338, Table 1, class C24: 350 and 420 kg/m3 (from memory).
    """
    return mean_density / 1.2
