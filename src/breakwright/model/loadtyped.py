"""Loads as a person would type them of what was measured: rounded outward, never inward."""

import math
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from breakwright.model.units import ForceUnit, from_newtons

__all__ = ["load_typed", "range_typed", "rounded_down", "rounded_up"]

_DIGITS = 6
# Converting to N and back may leave a number off by a few units in the last of 16 places.
_SLACK = 1e-12


def load_typed(lower: float, upper: float, unit: ForceUnit) -> str:
    """Return an interval in N as it is typed in ``unit``, to six digits, rounded outward.

    >>> load_typed(411.8793, 411.8793, ForceUnit.KGF), load_typed(4000.0, 4000.7, ForceUnit.N)
    ('42', '4000..4000.7')
    >>> load_typed(1234567.8, float("inf"), ForceUnit.N)
    '>1234560'
    """
    low = rounded_down(from_newtons(lower, unit))
    if math.isinf(upper):
        return f">{low}"
    high = rounded_up(from_newtons(upper, unit))
    return low if low == high or lower >= upper else f"{low}..{high}"


def range_typed(lower: float, upper: float | None, decimals: int) -> str:
    """Return what a display with so many ``decimals`` showed, from ``lower`` to ``upper`` (None:
    no upper end), rounded outward to them.

    >>> range_typed(27.35, 27.6034, 2), range_typed(27.3, 27.3, 2), range_typed(24.1, None, 1)
    ('27.35..27.61', '27.30', '>24.1')
    """
    step = Decimal(1).scaleb(-decimals)
    # A number as it was shown is exact in its decimals; what is off is the float's own dust.
    low = Decimal(repr(round(lower, decimals + 6))).quantize(step, rounding=ROUND_FLOOR)
    if upper is None:
        return f">{low}"
    high = Decimal(repr(round(upper, decimals + 6))).quantize(step, rounding=ROUND_CEILING)
    return f"{low}" if high <= low else f"{low}..{high}"


def rounded_down(value: float, *, digits: int = _DIGITS) -> str:
    """Return ``value`` to so many significant ``digits``, never more than it is."""
    return _rounded(value * (1.0 + _SLACK), ROUND_FLOOR, digits)


def rounded_up(value: float, *, digits: int = _DIGITS) -> str:
    """Return ``value`` to so many significant ``digits``, never less than it is.

    >>> rounded_up(0.93012, digits=3), rounded_up(0.93, digits=3)
    ('0.931', '0.93')
    """
    return _rounded(value * (1.0 - _SLACK), ROUND_CEILING, digits)


def _rounded(value: float, rounding: str, digits: int) -> str:
    if value == 0.0:
        return "0"
    exact = Decimal(value)
    step = Decimal(1).scaleb(exact.adjusted() - digits + 1)
    text = format(exact.quantize(step, rounding=rounding), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text
