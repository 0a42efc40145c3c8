"""Numbers written the one way that no reader can take for another number."""

from collections.abc import Callable

from breakwright.files.numerals import Decimal, gather_evidence, parse_number
from breakwright.model.units import NEWTONS_PER, ForceUnit

__all__ = ["canonical", "converted", "proven"]

_MARKS = (">=", "<=", ">", "<", "≥", "≤")
_PARTING = "'’\u00a0\u202f\u2009"


def canonical(text: str, decimal: Decimal) -> str:
    """Return a load or a plain number with a decimal point and without thousands marks; digits
    stay as typed. What cannot be read stays as it is.

    >>> canonical("1.234,50", Decimal.COMMA), canonical(">1,234", Decimal.POINT)
    ('1234.50', '>1234')
    >>> canonical("405,5..440,0", Decimal.COMMA), canonical("440+", Decimal.COMMA)
    ('405.5..440.0', '440+')
    """
    return _each_number(text, lambda number: _plain(number, decimal))


def converted(text: str, own: ForceUnit, shown: ForceUnit) -> str:
    """Return a canonical load, given in ``own``, in the unit ``shown``, in full precision.

    >>> converted(">50", ForceUnit.KGF, ForceUnit.N), converted("1..2", ForceUnit.KN, ForceUnit.N)
    ('>490.3325', '1000.0..2000.0')
    """

    def in_shown(number: str) -> str:
        value = parse_number(number, Decimal.POINT)
        if value is None:
            return number
        return repr(value * NEWTONS_PER[own] / NEWTONS_PER[shown])

    return _each_number(text, in_shown)


def proven(texts: list[str]) -> list[str]:
    """Return the cells of a column of canonical numbers so that one of them, if any could be
    read two ways, proves the point to be the decimal mark: 1.234 becomes 1.2340.

    >>> proven(["1.234", "2"]), proven(["1.234", "0.5"])
    (['1.2340', '2'], ['1.234', '0.5'])
    """
    numbers = [(i, n) for i, text in enumerate(texts) for n in _numbers_in(text)]
    evidence = gather_evidence(numbers)
    if evidence.decimal is not None or evidence.unclear is None:
        return texts
    shown = list(texts)
    shown[evidence.unclear] = _each_number(
        texts[evidence.unclear], lambda number: f"{number}0" if "." in number else number
    )
    return shown


def _numbers_in(text: str) -> list[str]:
    return [part.strip("<>≥≤=+ ") for part in text.split("..")]


def _plain(number: str, decimal: Decimal) -> str:
    if parse_number(number, decimal) is None:
        return number
    if decimal is Decimal.COMMA:
        number = number.replace(".", "").replace(",", ".")
    else:
        number = number.replace(",", "")
    return number.translate({ord(mark): None for mark in _PARTING})


def _each_number(text: str, change: Callable[[str], str]) -> str:
    mark = next((m for m in _MARKS if text.startswith(m)), "")
    rest = text[len(mark) :].strip()
    plus = "+" if rest.endswith("+") else ""
    if plus:
        rest = rest[:-1].strip()
    if ".." in rest and "..." not in rest:
        low, _, high = rest.partition("..")
        return f"{mark}{change(low.strip())}..{change(high.strip())}{plus}"
    return f"{mark}{change(rest)}{plus}"
