"""Where the best path through the network's output is least certain: likely edits of its text."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_ports import ALPHABET

__all__ = ["Edit", "edited", "likely_edits"]

Floats = NDArray[np.floating]


class Edit(NamedTuple):
    """Letters ``place`` to ``stop`` of a text become ``letters``; ``gain`` is roughly what the
    log probability grows by (mostly it shrinks)."""

    gain: float
    place: int
    stop: int
    letters: str


def edited(text: str, edits: Sequence[Edit]) -> str:
    """Return ``text`` with all of ``edits`` made; none overlaps another.

    >>> edited("12.3", [Edit(-1.0, 1, 2, "7"), Edit(-2.0, 3, 3, "0")])
    '17.03'
    """
    for edit in sorted(edits, key=lambda edit: edit.place, reverse=True):
        text = text[: edit.place] + edit.letters + text[edit.stop :]
    return text


def likely_edits(
    logs: Floats, best: NDArray[np.intp], *, faint: float, most: int
) -> list[list[Edit]]:
    """Return for each strip at most ``most`` edits of its best path's text that cost less than
    ``-faint``, the likeliest first.

    ``logs`` is (n, steps, classes) in log probabilities, ``best`` (n, steps) its best classes.
    A run of one letter is edited as a whole: a letter is seldom uncertain at one step alone.
    """
    count, steps, classes = logs.shape
    flat, path = logs.reshape(-1, classes), best.reshape(-1)
    begins = np.empty(count * steps, bool)
    begins[0] = True
    begins[1:] = path[1:] != path[:-1]
    begins[::steps] = True
    starts = np.flatnonzero(begins)
    owner = starts // steps
    letter = path[starts]
    # How many letters of its text stand before each run.
    before = np.cumsum(letter != 0) - (letter != 0)
    place = before - before[np.searchsorted(owner, owner)]

    blank = flat[:, :1]
    chosen = np.add.reduceat(flat[np.arange(len(path)), path], starts)
    over_blank = np.maximum.reduceat(flat - blank, starts, axis=0)
    either = np.add.reduceat(np.maximum(flat, blank), starts, axis=0)
    gains = np.where(
        (letter != 0)[:, None],
        either + np.minimum(over_blank, 0.0) - chosen[:, None],
        over_blank,
    )
    gains[:, 0] = np.where(letter != 0, np.add.reduceat(blank[:, 0], starts) - chosen, -np.inf)
    # A run read as itself is no edit; the same letter twice needs a blank inside the run.
    inside = ~begins
    inside[:-1] &= ~begins[1:]
    inside[-1] = False
    split = np.where(inside, blank[:, 0] - flat[np.arange(len(path)), path], -np.inf)
    rows = np.arange(len(starts))
    gains[rows, letter] = np.where(letter != 0, np.maximum.reduceat(split, starts), -np.inf)

    found: list[list[Edit]] = [[] for _ in range(count)]
    for row, sign in _likeliest(gains, owner, faint=faint, most=most):
        run = int(letter[row])
        at = int(place[row])
        if run == 0:
            edit = Edit(float(gains[row, sign]), at, at, ALPHABET[sign - 1])
        else:
            letters = "" if sign == 0 else ALPHABET[sign - 1] * (2 if sign == run else 1)
            edit = Edit(float(gains[row, sign]), at, at + 1, letters)
        found[int(owner[row])].append(edit)
    between = (letter[1:-1] == 0) & (letter[:-2] == letter[2:])
    for row in (np.flatnonzero(between) + 1).tolist():
        # 1-blank-1 that may be one 1.
        if owner[row - 1] == owner[row + 1]:
            first, last = int(starts[row]), int(starts[row + 1])
            merge = float((flat[first:last, letter[row - 1]] - flat[first:last, 0]).sum())
            if merge > faint:
                at = int(place[row])
                found[int(owner[row])].append(Edit(merge, at, at + 1, ""))
    return [sorted(edits, key=lambda edit: -edit.gain)[:most] for edits in found]


def _likeliest(
    gains: Floats, owner: NDArray[np.intp], *, faint: float, most: int
) -> list[tuple[int, int]]:
    """Rows and classes of at most ``most`` gains a strip, all above ``faint``."""
    rows, signs = np.nonzero(gains > faint)
    order = np.lexsort((-gains[rows, signs], owner[rows]))
    rows, signs = rows[order], signs[order]
    first = np.searchsorted(owner[rows], owner[rows])
    near = np.arange(len(rows)) - first < most
    return list(zip(rows[near].tolist(), signs[near].tolist(), strict=True))
