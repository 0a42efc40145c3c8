"""How a number is written: decimal point or comma, thousands marks, and which of them it is.

One cell can leave it open (``1,234``); the rest of its column often does not. Nothing here
guesses: a text either fits one way of writing, fits both, or fits none.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Decimal", "Evidence", "gather_evidence", "is_number", "parse_number"]


class Decimal(StrEnum):
    """The mark in front of the fraction. The other one can then only part thousands."""

    POINT = "point"
    COMMA = "comma"

    @property
    def other(self) -> "Decimal":
        return Decimal.COMMA if self is Decimal.POINT else Decimal.POINT


# Spreadsheets part thousands with no-break spaces or apostrophes in some languages. A plain
# space is left out: '412 398' may as well be two readings typed into one cell.
_PARTING = "'’\u00a0\u202f\u2009"


def _pattern(decimal: str, thousands: str) -> re.Pattern[str]:
    fraction = rf"(?:{decimal}\d*)?"
    plain = rf"(?:\d+{fraction}|{decimal}\d+)(?:[eE][+-]?\d{{1,6}})?"
    parted = rf"[1-9]\d{{0,2}}(?:{thousands}\d{{3}})+{fraction}"
    spaced = rf"[1-9]\d{{0,2}}(?:[{_PARTING}]\d{{3}})+{fraction}"
    return re.compile(rf"[+\-−]?(?:{plain}|{parted}|{spaced})", re.ASCII)


_FITS = {Decimal.POINT: _pattern(r"\.", ","), Decimal.COMMA: _pattern(",", r"\.")}
_STRIPPED = {
    Decimal.POINT: str.maketrans({"−": "-", ",": None, **dict.fromkeys(_PARTING)}),
    Decimal.COMMA: str.maketrans({"−": "-", ",": ".", ".": None, **dict.fromkeys(_PARTING)}),
}


def is_number(text: str) -> bool:
    """Is this a number in one of the two ways of writing, or in both?

    >>> [is_number(t) for t in ("412", "1,234.5", "1.234,5", "-3e4", "1,23,4", "12 mm", "nan")]
    [True, True, True, True, False, False, False]
    """
    point, comma = _FITS[Decimal.POINT], _FITS[Decimal.COMMA]
    return point.fullmatch(text) is not None or comma.fullmatch(text) is not None


def parse_number(text: str, decimal: Decimal) -> float | None:
    """Return the number, None if the text is not one in this way of writing.

    A number too large for the machine comes back as infinity, for the caller to refuse.

    >>> parse_number("1,234.5", Decimal.POINT), parse_number("1.234,5", Decimal.COMMA)
    (1234.5, 1234.5)
    >>> parse_number("1,234.5", Decimal.COMMA) is None
    True
    """
    if _FITS[decimal].fullmatch(text) is None:
        return None
    return float(text.translate(_STRIPPED[decimal]))


@dataclass(frozen=True, slots=True)
class Evidence:
    """What a column says about its decimal mark.

    ``decimal`` is what the cell in place ``proof`` leaves as the only way; ``unclear`` is the
    place of the first cell that could be read both ways. Places count cells from 0.
    """

    decimal: Decimal | None = None
    proof: int | None = None
    unclear: int | None = None


def gather_evidence(numbers: Iterable[tuple[int, str]]) -> Evidence:
    """Return what ``numbers`` (place, text) prove. Texts that fit neither way prove nothing.

    >>> gather_evidence([(0, "412"), (1, "1,234"), (2, "1,234.5")])
    Evidence(decimal=<Decimal.POINT: 'point'>, proof=2, unclear=1)
    """
    unclear: int | None = None
    for place, text in numbers:
        if "." not in text and "," not in text:
            continue
        point = _FITS[Decimal.POINT].fullmatch(text) is not None
        comma = _FITS[Decimal.COMMA].fullmatch(text) is not None
        if point and comma:
            unclear = place if unclear is None else unclear
        elif point or comma:
            return Evidence(Decimal.POINT if point else Decimal.COMMA, place, unclear)
    return Evidence(unclear=unclear)
