"""What stands on a display: a text in cells, with the leading cells that stay dark."""

from dataclasses import dataclass

import numpy as np

__all__ = ["Row", "random_row", "row_of", "without_points"]

_OVER = (
    "OL",
    "0L",
    "0L",
    "oL",
    "----",
    "---",
    "Err",
    "Err",
    "EEEE",
    "EEE",
    "HH",
    "HH",
    "H",
    "Lo",
    "L",
)


@dataclass(frozen=True, slots=True)
class Row:
    """``cells``: a character a cell, ' ' for a dark one; ``points``: cells with a point after
    them; ``text``: what a reader should say."""

    cells: str
    points: frozenset[int]
    text: str


def row_of(text: str, *, dark: int = 0) -> Row:
    """Return the row that shows ``text`` after ``dark`` dark cells.

    >>> row_of("-3.25", dark=1)
    Row(cells=' -325', points=frozenset({2}), text='-3.25')
    >>> row_of("OL").text
    '0L'
    """
    text = text.replace("O", "0")
    cells = " " * dark
    points = set()
    for character in text:
        if character == ".":
            points.add(len(cells) - 1)
        else:
            cells += character
    return Row(cells, frozenset(points), text)


def without_points(row: Row) -> Row:
    """Return the row as a display without points shows it.

    >>> without_points(row_of("3.25")).text
    '325'
    """
    return Row(row.cells, frozenset(), row.text.replace(".", ""))


def random_row(rng: np.random.Generator) -> Row:
    """Return what a display might show: mostly numbers, some over range, some blank."""
    kind = rng.random()
    if kind < 0.05:
        return Row(" " * int(rng.integers(1, 7)), frozenset(), "")
    if kind < 0.13:
        text = str(rng.choice(_OVER))
        return _aligned(text, rng)
    return _aligned(_number(rng), rng)


def _number(rng: np.random.Generator) -> str:
    digits = int(rng.choice([1, 2, 3, 4, 5, 6, 7, 8], p=_LENGTHS))
    style = rng.random()
    if style < 0.12:
        figures = rng.choice(list("1111117"), size=digits)
    elif style < 0.24:
        figures = rng.choice(list("0123456789"), size=digits)
        figures[1:] = np.where(rng.random(digits - 1) < 0.6, figures[:-1], figures[1:])
    elif style < 0.34:
        figures = rng.choice(list("6897035"), size=digits)
    else:
        figures = rng.choice(list("0123456789"), size=digits)
    decimals = int(rng.choice([0, 1, 2, 3], p=_DECIMALS))
    text = "".join(figures)
    if 0 < decimals < digits:
        whole = text[:-decimals]
        if rng.random() < 0.6:
            whole = whole.lstrip("0") or "0"
        text = whole + "." + text[-decimals:]
    if digits < 8 and rng.random() < 0.15:
        text = "-" + text
    return text


# Numbers without a point are as frequent as those with one: a network that expects a point puts
# one where there is none.
_DECIMALS = [0.45, 0.22, 0.23, 0.1]
_LENGTHS = [0.05, 0.09, 0.2, 0.26, 0.2, 0.12, 0.05, 0.03]


def _aligned(text: str, rng: np.random.Generator) -> Row:
    cells = len(text.replace(".", ""))
    room = max(0, 8 - cells)
    dark = int(min(room, rng.choice([0, 1, 2, 3, 4], p=[0.62, 0.18, 0.1, 0.06, 0.04])))
    row = row_of(text, dark=dark)
    after = int(min(room - dark, rng.choice([0, 1, 2], p=[0.94, 0.04, 0.02])))
    return Row(row.cells + " " * after, row.points, row.text)
