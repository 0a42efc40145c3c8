"""Loads as people read them, in the unit of the study: '412 N', '411 to 413 N', 'at least 1 kN'."""

import math

from breakwright.model.interval import Interval
from breakwright.model.units import NEWTONS_PER, ForceUnit

__all__ = ["load_text", "number_text", "span_text"]


def number_text(value: float) -> str:
    """Six significant digits, without an exponent and without trailing zeros.

    >>> number_text(412.00000000000006), number_text(1234567.0), number_text(0.00001)
    ('412', '1234567', '0.00001')
    """
    text = f"{value:.6g}"
    if "e" not in text:
        return text
    if abs(value) >= 1.0:
        return f"{value:.0f}"
    return f"{value:.12f}".rstrip("0").rstrip(".")


def load_text(newtons: float, unit: ForceUnit) -> str:
    """A load given in N, written in ``unit``.

    >>> load_text(3200.0, ForceUnit.KN)
    '3.2 kN'
    """
    return f"{number_text(newtons / NEWTONS_PER[unit])} {unit.value}"


def span_text(interval: Interval, unit: ForceUnit) -> str:
    """An interval given in N, written in ``unit``, the plain words first.

    >>> span_text(Interval(411.0, 413.0), ForceUnit.N)
    '411 to 413 N'
    >>> span_text(Interval.at_least(439.0), ForceUnit.N)
    'at least 439 N'
    """
    lower, upper = interval.lower, interval.upper
    if math.isinf(upper):
        return "at least " + load_text(lower, unit)
    if lower == upper:
        return load_text(lower, unit)
    if lower == 0.0:
        return "at most " + load_text(upper, unit)
    per = NEWTONS_PER[unit]
    return f"{number_text(lower / per)} to {number_text(upper / per)} {unit.value}"
