"""Rows composed from photographs of single real digits: for evaluation, never for training."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_ports import DigitReader
from training.evaluate_score import Known, Score, score
from training.strips.levelling import level, rectified

__all__ = ["evaluate_real", "real_rows"]

_CELL = 96
# The pictures are squares, cut from cells that were none: in the eights and zeros the upright
# strokes are 19 px wide and the level ones 11 px high (medians), which are alike on displays.
_WIDE = 56
# Each cell is lengthened by its own edge by half of this at either side and blended with the next,
# so that the pitch of the digits stays the photographs'. The digits stand 8 px from the rim.
_BLEND = 4
_RIM = 8
_ALIKE = 8
_BRIGHTEST = 1.06
_BLANK = 11

Gray = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class _Digit:
    picture: Gray
    look: NDArray[np.float64]


def evaluate_real(reader: DigitReader, folder: Path, *, rows: int = 600, seed: int = 1) -> Score:
    """Read ``rows`` rows of three to six real digits. Raises FileNotFoundError where ``folder``
    has no digits."""
    return score(reader, real_rows(folder, rows=rows, seed=seed))


def real_rows(folder: Path, *, rows: int = 600, seed: int = 1) -> list[Known]:
    """Return ``rows`` rows from the pictures in ``folder``/00 to 09 and 11 (blank cells).

    The pictures' stretch is undone (see ``_WIDE``). A row's cells come from pictures that look
    alike, chosen about one drawn at random. Each is brought to the same level of ground and digit;
    what is brighter than the ground (bits of the housing, which on a display do not stand between
    two digits) is cut to it; they are blended where they meet. One row in five begins with blank
    cells.
    """
    digits = {figure: _pictures(folder / f"{figure:02d}") for figure in range(10)}
    blank = [one for one in _pictures(folder / f"{_BLANK:02d}") if _flat(one)]
    if not all(digits.values()) or not blank:
        raise FileNotFoundError(f"no real digits in {folder}: folders 00 to 09 and 11 are needed")
    rng = np.random.default_rng(seed)
    return [_row(digits, blank, rng) for _ in range(rows)]


def _row(digits: dict[int, list[_Digit]], blank: list[_Digit], rng: np.random.Generator) -> Known:
    figures = [int(figure) for figure in rng.integers(0, 10, int(rng.integers(3, 7)))]
    if rng.random() < 0.3:
        figures[1] = figures[0]
    first = digits[figures[0]][int(rng.integers(len(digits[figures[0]])))]
    ground = float(first.look[1])
    cells = [_within(first.picture, ground)]
    for figure in figures[1:]:
        cells.append(_levelled(_like(first, digits[figure], rng).picture, to=first))
    if rng.random() < 0.2:
        empty = _like(first, blank, rng)
        lit = _within(empty.picture - float(empty.look[1]) + ground, ground)
        cells = [lit] * int(rng.integers(1, 3)) + cells
    picture = _joined(cells)
    high, wide = picture.shape
    side = _RIM * _WIDE / _CELL
    box = (side, _RIM, wide - 1 - side, high - 1 - _RIM)
    corners = np.array([(box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3])])
    strip = level(rectified(picture, corners))
    gray = np.asarray(np.clip(picture, 0.0, 255.0), np.uint8)
    return Known(strip, gray, "".join(map(str, figures)), "real")


def _flat(one: _Digit) -> bool:
    # Some show the dark rim of the window, which stands like a 1.
    low, high = np.percentile(one.picture[_RIM:-_RIM], (1.0, 80.0))
    return bool(high - low < 0.2 * high)


def _like(one: _Digit, others: list[_Digit], rng: np.random.Generator) -> _Digit:
    away = [float(np.abs(other.look - one.look).sum()) for other in others]
    near = np.argsort(away, kind="stable")[:_ALIKE]
    return others[int(rng.choice(near))]


def _levelled(picture: Gray, *, to: _Digit) -> Gray:
    dark, ground, _ = _look(picture)
    to_dark, to_ground = to.look[:2]
    gain = (to_ground - to_dark) / max(ground - dark, 8.0)
    return _within((picture - dark) * gain + to_dark, to_ground)


def _within(picture: Gray, ground: float) -> Gray:
    return np.asarray(np.minimum(picture, ground * _BRIGHTEST), np.float32)


def _look(picture: Gray) -> NDArray[np.float64]:
    inner = picture[_RIM:-_RIM, _RIM:-_RIM]
    dark, ground = np.percentile(inner, (4.0, 80.0))
    return np.array([dark, ground, float(inner.mean())])


def _joined(cells: list[Gray]) -> Gray:
    long = _WIDE + _BLEND
    total = np.zeros((_CELL, _WIDE * len(cells) + _BLEND), np.float32)
    weight = np.zeros(total.shape[1], np.float32)
    ramp = np.ones(long, np.float32)
    ramp[:_BLEND] = (np.arange(_BLEND) + 1.0) / (_BLEND + 1.0)
    ramp[-_BLEND:] = ramp[:_BLEND][::-1]
    for number, cell in enumerate(cells):
        at = slice(number * _WIDE, number * _WIDE + long)
        longer = np.pad(cell, ((0, 0), (_BLEND // 2, _BLEND // 2)), mode="edge")
        total[:, at] += longer * ramp
        weight[at] += ramp
    half = _BLEND // 2
    return np.asarray((total / weight)[:, half:-half], np.float32)


def _pictures(folder: Path) -> list[_Digit]:
    import cv2

    found = []
    for path in sorted(folder.glob("*.jpg")):
        picture = cv2.imread(str(path), cv2.IMREAD_GRAYSCALE)
        if picture is None or picture.shape != (_CELL, _CELL):
            raise ValueError(f"{path} is no picture of {_CELL} x {_CELL} pixels")
        narrow = cv2.resize(picture, (_WIDE, _CELL), interpolation=cv2.INTER_AREA)
        gray = np.asarray(narrow, np.float32)
        found.append(_Digit(gray, _look(gray)))
    return found
