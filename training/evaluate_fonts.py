"""Scores a reader on fonts and styles that were kept out of the training, and over conditions."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from breakwright.reading.film_ports import DigitReader
from training.evaluate_faces import FONTS, NORMAL, Condition, font_rows, fonts_in
from training.evaluate_score import Score, score

__all__ = ["CURVES", "FontsMissing", "Point", "curve", "evaluate_fonts"]

# Blur and slant in digit heights and degrees, contrast in gray levels, glare as a share of white,
# digits in pixels of the film.
CURVES: Mapping[str, tuple[float, ...]] = {
    "contrast": (8.0, 12.0, 18.0, 30.0, 60.0, 120.0, 200.0),
    "blur": (0.0, 0.04, 0.08, 0.12, 0.16, 0.2),
    "slant": (-10.0, -5.0, 0.0, 5.0, 10.0, 15.0),
    "glare": (0.0, 0.2, 0.4, 0.6, 0.8),
    "noise": (0.0, 6.0, 12.0, 20.0, 30.0),
    "digit": (8.0, 10.0, 12.0, 16.0, 24.0, 48.0),
}


class FontsMissing(Exception):
    """Debian's package fonts-dseg is not installed: nothing was measured."""


@dataclass(frozen=True, slots=True)
class Point:
    """At ``value`` of the condition the ``found`` score."""

    value: float
    found: Score


def evaluate_fonts(
    reader: DigitReader,
    *,
    rows: int = 1000,
    seed: int = 2,
    condition: Condition = NORMAL,
    folder: Path = FONTS,
) -> Score:
    """Read rows in the fonts of ``folder`` and in joined strokes. Raises FontsMissing where there
    are no fonts."""
    return score(reader, font_rows(_fonts(folder), condition, rows=rows, seed=seed))


def curve(
    reader: DigitReader,
    condition: str,
    *,
    values: Sequence[float] = (),
    rows: int = 200,
    seed: int = 3,
    folder: Path = FONTS,
) -> tuple[Point, ...]:
    """Return the score at each of ``values`` of ``condition`` (a field of Condition, a key of
    ``CURVES``), everything else normal. Raises FontsMissing where there are no fonts."""
    fonts = _fonts(folder)
    found = []
    for value in values or CURVES[condition]:
        at = _at(condition, value)
        found.append(Point(value, score(reader, font_rows(fonts, at, rows=rows, seed=seed))))
    return tuple(found)


def _at(condition: str, value: float) -> Condition:
    made = {
        "contrast": lambda: replace(NORMAL, contrast=value),
        "blur": lambda: replace(NORMAL, blur=value),
        "slant": lambda: replace(NORMAL, slant=value),
        "glare": lambda: replace(NORMAL, glare=value),
        "noise": lambda: replace(NORMAL, noise=value),
        "digit": lambda: replace(NORMAL, digit=value),
    }
    return made[condition]()


def _fonts(folder: Path) -> list[Path]:
    fonts = fonts_in(folder)
    if not fonts:
        raise FontsMissing(
            f"no seven-segment fonts in {folder}; Debian's package fonts-dseg has them. "
            "Nothing was measured."
        )
    return fonts
