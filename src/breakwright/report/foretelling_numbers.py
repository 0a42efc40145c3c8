"""Sizes, margins and percentages as the pages before the first cut write them."""

import math
from collections.abc import Sequence

from breakwright.report.numbers import NBSP

__all__ = ["chance_percent", "factor_text", "joined", "rough_text", "rounded_percent", "size_text"]


def rough_text(value: float, unit: str) -> str:
    """Return a size with two significant digits, for what is known no better.

    >>> rough_text(8.36, "mm").replace(NBSP, " "), rough_text(143.2, "J").replace(NBSP, " ")
    ('8.4 mm', '140 J')
    """
    return size_text(float(f"{value:.2g}"), unit)


def size_text(value: float, unit: str) -> str:
    """Return a size with up to three significant digits and its unit.

    >>> size_text(110.0, "mm").replace(NBSP, " "), size_text(4.0, ""), size_text(2.345, "mm")[:4]
    ('110 mm', '4', '2.35')
    """
    if value != 0.0 and math.isfinite(value):
        decimals = max(0, 2 - math.floor(math.log10(abs(value))))
        text = f"{value:.{min(decimals, 6)}f}"
        text = text.rstrip("0").rstrip(".") if "." in text else text
    else:
        text = f"{value:g}"
    return f"{text}{NBSP}{unit}" if unit else text


def factor_text(factor: float) -> str:
    """Return a margin with two digits, cut and not rounded.

    A margin of 1.499 is under 1.5 and must not read as 1.5.

    >>> [factor_text(f).replace(NBSP, " ") for f in (0.787, 1.499, 23.4)]
    ['0.78 times', '1.4 times', '23 times']
    """
    decimals = 0 if factor >= 10.0 else 1 if factor >= 1.0 else 2
    scale = 10.0**decimals
    return f"{math.floor(factor * scale + 1e-9) / scale:.{decimals}f}{NBSP}times"


def rounded_percent(share: float) -> str:
    """Return a share in per cent without decimals from 1 % up, for sums that people compare.

    >>> rounded_percent(0.2468).replace(NBSP, " "), rounded_percent(0.004).replace(NBSP, " ")
    ('25 %', '0.4 %')
    """
    if share <= 0.0:
        return f"0{NBSP}%"
    if share >= 1.0:
        return f"100{NBSP}%"
    if share < 0.001:
        return f"less than 0.1{NBSP}%"
    if share > 0.999:
        return f"more than 99.9{NBSP}%"
    percent = 100.0 * share
    decimals = 1 if percent < 0.95 or percent > 99.05 else 0
    return f"{percent:.{decimals}f}{NBSP}%"


def chance_percent(chance: float) -> str:
    """Return a chance in per cent, never 0 or 100: no simulation makes a thing certain.

    >>> chance_percent(1.0).replace(NBSP, " "), chance_percent(0.0).replace(NBSP, " ")
    ('more than 99.9 %', 'less than 0.1 %')
    """
    return rounded_percent(min(max(chance, 1e-9), 1.0 - 1e-9))


def joined(words: Sequence[str], *, last: str = "and") -> str:
    """Return words as they are listed in a sentence.

    >>> joined(["a", "b", "c"]), joined(["a", "b"], last="or"), joined([])
    ('a, b and c', 'a or b', '')
    """
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"
