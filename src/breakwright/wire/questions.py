"""What a person is asked when the lines of a device leave something open."""

from collections.abc import Mapping
from types import MappingProxyType

from breakwright.model.errors import Problem
from breakwright.reading.stream_words import Fault

__all__ = ["question_of", "times_question"]

_UNITS = "N, kN, kgf or lbf"
_WORDS: Mapping[Fault, tuple[str, str, str]] = MappingProxyType(
    {
        Fault.UNIT_MISSING: (
            "in which unit are these loads? No line says it",
            _UNITS,
            "Give it with --unit N.",
        ),
        Fault.FORCE_OR_MASS: (
            "a force or a mass? 'kg' and 'lb' are units of mass",
            _UNITS,
            "If the device shows what a hanging scale would show, give --unit kgf (or lbf).",
        ),
        Fault.UNIT_DISAGREES: (
            "the line names another unit than --unit does",
            "the same unit in both",
            "Correct --unit, or leave it out where every line names its unit.",
        ),
        Fault.DECIMAL_UNCLEAR: (
            "is this comma a decimal mark, or does it part two numbers?",
            "point or comma",
            "Give --decimal comma if 412,5 is one number; --decimal point if it is two.",
        ),
        Fault.COLUMNS_UNCLEAR: (
            "which of these numbers is the load?",
            "the number of the column, from 1",
            "Give --column 2 if the second one is the load.",
        ),
    }
)


def question_of(fault: Fault, line: str, name: str) -> Problem:
    """Return the question that ``fault`` (one that ``asks``) raises about ``line``."""
    message, allowed, do = _WORDS[fault]
    return Problem(fault.value, message, name, read=line, allowed=allowed, do=do)


def times_question(name: str, *, columns: int) -> Problem:
    """Return the question about lines that came in a heap, so that their arrival says nothing."""
    do = "Give the time between two lines: --every 0.1. Or make the program that prints them "
    do += "write each line at once (flush)."
    if columns > 1:
        do = "If the number in front of the load is a time, give --stamps s, ms or us. " + do
    return Problem(
        code="times-unknown",
        message="these lines came all at once and bear no times, so how fast the load rose, and "
        "where one pull ends, cannot be told",
        file=name,
        allowed="lines as they are measured, lines with times, or --every",
        do=do,
    )
