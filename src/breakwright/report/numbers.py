"""Numbers as people read them: three significant digits, a unit that stays on its line."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from breakwright.model.units import ForceUnit, from_newtons

__all__ = [
    "NBSP",
    "LoadFormat",
    "chance_text",
    "count_text",
    "level_text",
    "limits_text",
    "load_format",
    "p_text",
    "percent_change",
    "percent_text",
    "ratio_limits",
    "ratio_text",
    "times_text",
]

NBSP = "\u00a0"
MINUS = "\u2212"
DASH = "\u2013"


def _grouped(value: float, decimals: int) -> str:
    return f"{value:,.{decimals}f}".replace(",", "\u202f")


@dataclass(frozen=True, slots=True)
class LoadFormat:
    """One way of writing every load of a table: the same unit, the same number of decimals."""

    unit: ForceUnit
    decimals: int

    def number(self, newtons: float) -> str:
        """Return a load (N) in the unit, without the unit's name.

        >>> LoadFormat(ForceUnit.KN, 2).number(3204.0)
        '3.20'
        """
        value = from_newtons(newtons, self.unit)
        text = _grouped(value, self.decimals)
        if value != 0.0 and float(text.replace("\u202f", "")) == 0.0:
            return f"{value:.2g}"
        return text

    def load(self, newtons: float | None, *, missing: str = DASH) -> str:
        """Return a load (N) with its unit, or ``missing`` where there is none."""
        return missing if newtons is None else f"{self.number(newtons)}{NBSP}{self.unit.value}"

    def between(self, lower: float | None, upper: float | None) -> str:
        """Return two limits (N) and the unit, saying in words which of them is missing."""
        if lower is None and upper is None:
            return "no limits"
        if lower is None:
            return f"at most {self.load(upper)}, no lower limit"
        if upper is None:
            return f"at least {self.load(lower)}, no upper limit"
        return f"{self.number(lower)} to {self.load(upper)}"


def load_format(newtons: Iterable[float | None], unit: ForceUnit) -> LoadFormat:
    """Return the format that gives the middle one of ``newtons`` three significant digits.

    >>> load_format([412.0, 3900.0, 5200.0], ForceUnit.KN).load(412.0).replace(NBSP, " ")
    '0.41 kN'
    """
    values = sorted(from_newtons(v, unit) for v in newtons if v is not None and v > 0.0)
    if not values:
        return LoadFormat(unit, 0)
    middle = values[len(values) // 2]
    return LoadFormat(unit, min(6, max(0, 2 - math.floor(math.log10(middle)))))


def ratio_text(ratio: float, *, apart_from: Iterable[float] = (1.0,)) -> str:
    """Return a ratio with two decimals (fewer when large), never rounded onto a landmark.

    A limit of 1.003 must not be printed as 1.00 beside the word 'stronger'.

    >>> ratio_text(1.441342), ratio_text(1.003), ratio_text(23.46)
    ('1.44', '1.003', '23.5')
    """
    size = math.floor(math.log10(ratio)) if ratio > 0.0 else 0
    decimals = max(0, 2 - max(size, 0)) if size >= -1 else 1 - size
    landmarks = tuple(apart_from)
    for more in range(decimals, 7):
        rounded = float(f"{ratio:.{more}f}")
        if all(
            ratio == mark or ((rounded > mark) == (ratio > mark) and rounded != mark)
            for mark in landmarks
        ):
            return _grouped(ratio, more)
    return _grouped(ratio, decimals)


def times_text(ratio: float | None, *, missing: str = "no estimate") -> str:
    """Return '1.44 times' with a space that does not break."""
    return missing if ratio is None else f"{ratio_text(ratio)}{NBSP}times"


def ratio_limits(
    lower: float | None, upper: float | None, *, apart_from: Iterable[float] = (1.0,)
) -> str:
    """Return '1.31 to 1.62', or say which limit does not exist."""
    marks = tuple(apart_from)
    if lower is None and upper is None:
        return "no limits"
    if lower is None:
        assert upper is not None
        return f"no lower limit, at most {ratio_text(upper, apart_from=marks)}"
    if upper is None:
        return f"at least {ratio_text(lower, apart_from=marks)}, no upper limit"
    return f"{ratio_text(lower, apart_from=marks)} to {ratio_text(upper, apart_from=marks)}"


def limits_text(lower: float | None, upper: float | None, level: float) -> str:
    """Return '95 % interval 1.31 to 1.62' for a ratio."""
    return f"{level_text(level)} interval {ratio_limits(lower, upper)}"


def percent_change(ratio: float) -> str:
    """Return a ratio as a signed change.

    >>> percent_change(1.441342).replace(NBSP, " "), percent_change(0.88).replace(NBSP, " ")
    ('+44 %', '−12 %')
    """
    change = (ratio - 1.0) * 100.0
    decimals = 0 if abs(change) >= 9.5 or change == 0.0 else 1
    sign = "+" if change > 0.0 else MINUS if change < 0.0 else "±"
    return f"{sign}{_grouped(abs(change), decimals)}{NBSP}%"


def percent_text(share: float | None, *, missing: str = DASH) -> str:
    """Return a share of 1 in per cent with two significant digits, for a scatter."""
    if share is None:
        return missing
    percent = share * 100.0
    if percent == 0.0:
        return f"0{NBSP}%"
    decimals = max(0, 1 - math.floor(math.log10(percent))) if percent < 9.95 else 0
    return f"{_grouped(percent, min(decimals, 4))}{NBSP}%"


def chance_text(share: float | None, *, missing: str = DASH) -> str:
    """Return a chance in per cent, never 0 or 100: nothing measured on a few pieces is certain.

    >>> chance_text(0.99996).replace(NBSP, " "), chance_text(0.874).replace(NBSP, " ")
    ('more than 99.9 %', '87 %')
    """
    if share is None:
        return missing
    if share > 0.999:
        return f"more than 99.9{NBSP}%"
    if share < 0.001:
        return f"less than 0.1{NBSP}%"
    percent = share * 100.0
    decimals = 1 if percent < 1.0 or percent > 99.0 else 0
    return f"{percent:.{decimals}f}{NBSP}%"


def level_text(level: float) -> str:
    """Return a confidence level in per cent with only the decimals it needs.

    >>> level_text(0.95).replace(NBSP, " "), level_text(1 - 0.05 / 3).replace(NBSP, " ")
    ('95 %', '98.3 %')
    """
    if level > 0.9995:
        return f"more than 99.9{NBSP}%"
    return f"{level * 100.0:.1f}".removesuffix(".0") + f"{NBSP}%"


def p_text(p_value: float | None) -> str:
    """Return a p-value with two significant digits, or a bound where it is tiny.

    >>> p_text(0.01234), p_text(0.00002), p_text(None)
    ('0.012', 'below 0.001', 'not known')
    """
    if p_value is None:
        return "not known"
    if p_value < 0.001:
        return "below 0.001"
    return f"{p_value:.3f}" if p_value < 0.1 else f"{p_value:.2f}"


def count_text(number: int, one: str, many: str) -> str:
    """Return '1 piece' or '3 pieces' (with the words given), the number kept with its noun.

    >>> count_text(3, "piece", "pieces").replace(NBSP, " ")
    '3 pieces'
    """
    return f"{_grouped(number, 0)}{NBSP}{one if number == 1 else many}"
