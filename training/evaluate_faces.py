"""Rows in fonts and in a style of drawing that the training never uses, at set conditions."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from training.evaluate_score import Known
from training.strips.camera import Camera, filmed, seen
from training.strips.face import DIGIT, Face
from training.strips.levelling import level, rectified
from training.strips.light import Light, lighted
from training.strips.segments import FIXED

__all__ = ["FONTS", "NORMAL", "Condition", "font_rows", "fonts_in"]

FONTS = Path("/usr/share/fonts/truetype/dseg")
JOINED = "joined strokes"
_SURROUND = 0.75
_LEADING = "!"


@dataclass(frozen=True, slots=True)
class Condition:
    """``contrast`` (gray levels of 255), ``blur`` (sigma, digit heights), ``slant`` (degrees, in
    addition to the font's own), ``glare`` (share of white at its middle), ``noise`` (sigma, gray
    levels), ``digit`` (px high in the film), ``quality`` (JPEG)."""

    contrast: float = 120.0
    blur: float = 0.02
    slant: float = 0.0
    glare: float = 0.0
    noise: float = 3.0
    digit: float = 32.0
    quality: int = 80


NORMAL = Condition()


def fonts_in(folder: Path) -> list[Path]:
    """Return the seven-segment fonts of Debian's package fonts-dseg in ``folder``, none where it
    is not installed."""
    return sorted(folder.glob("DSEG7*-*.ttf")) if folder.is_dir() else []


def font_rows(fonts: Sequence[Path], condition: Condition, *, rows: int, seed: int) -> list[Known]:
    """Return ``rows`` rows in turn in each of ``fonts`` and in joined strokes, a style of drawing
    kept out of the training; both polarities, texts of one to seven characters."""
    rng = np.random.default_rng(seed)
    sources: list[Path | None] = [one for one in fonts if not one.stem.startswith("DSEG7SEGG")]
    # One row in five is in joined strokes.
    sources += [None] * max(1, len(sources) // 4)
    found = []
    for number in range(rows):
        font = sources[number % len(sources)]
        text = _text(rng)
        dark = int(rng.choice([0, 1, 2], p=[0.75, 0.15, 0.1]))
        face = _strokes(text, dark, rng) if font is None else _font_face(font, text, dark)
        found.append(_shot(face, text, font.stem if font else JOINED, condition, rng))
    return found


def _text(rng: np.random.Generator) -> str:
    if rng.random() < 0.06:
        return str(rng.choice(["0L", "----", "Err", "EEEE", "HH", "Lo"]))
    digits = "".join(str(figure) for figure in rng.integers(0, 10, int(rng.integers(2, 7))))
    decimals = int(rng.integers(0, 4))
    if 0 < decimals < len(digits):
        digits = digits[:-decimals] + "." + digits[-decimals:]
    return "-" + digits if rng.random() < 0.12 else digits


def _font_face(font: Path, text: str, dark: int) -> Face:
    from PIL import Image, ImageDraw, ImageFont

    type_face = ImageFont.truetype(str(font), DIGIT)
    shown = _LEADING * dark + text
    tall = type_face.getbbox("8")
    size = DIGIT * DIGIT / (tall[3] - tall[1])
    type_face = ImageFont.truetype(str(font), round(size))
    # The row's box is that of eights: the cells, not what happens to be lit in them.
    cells = _LEADING * dark + "".join("8" if c != "." else "." for c in text)
    left, top, right, bottom = type_face.getbbox(cells)
    around = round(_SURROUND * DIGIT)
    wide, high = round(right - left) + 2 * around, round(bottom - top) + 2 * around
    image = Image.new("L", (wide, high), 0)
    ImageDraw.Draw(image).text((around - left, around - top), shown, fill=255, font=type_face)
    box = (float(around), float(around), float(wide - around), float(high - around))
    return Face(np.asarray(image, np.float32) / np.float32(255.0), box)


_ENDS = {
    "a": ((0, 0), (1, 0)),
    "b": ((1, 0), (1, 1)),
    "c": ((1, 1), (1, 2)),
    "d": ((0, 2), (1, 2)),
    "e": ((0, 1), (0, 2)),
    "f": ((0, 0), (0, 1)),
    "g": ((0, 1), (1, 1)),
}


def _strokes(text: str, dark: int, rng: np.random.Generator) -> Face:
    # Round-capped strokes that meet, without a gap anywhere: the training always draws polygons.
    import cv2

    thick = int(DIGIT * rng.uniform(0.08, 0.16))
    wide, space = DIGIT * rng.uniform(0.5, 0.65), DIGIT * rng.uniform(0.2, 0.32)
    lean = float(np.tan(np.radians(rng.choice([0.0, 8.0]))))
    around = _SURROUND * DIGIT
    cells = dark + sum(c != "." for c in text)
    total = cells * (wide + space) - space
    plate = np.zeros((int(DIGIT + 2 * around), int(total + lean * DIGIT + 2 * around)), np.uint8)

    def at(x: float, y: float, cell: int) -> tuple[int, int]:
        inner = thick / 2.0 + x * (wide - thick)
        down = thick / 2.0 + y * (DIGIT - thick) / 2.0
        across = around + cell * (wide + space) + inner + (DIGIT - down) * lean
        return round(across), round(around + down)

    cell = dark - 1
    for character in text:
        if character == ".":
            x, _ = at(1.0, 2.0, cell)
            middle = (int(x + thick / 2.0 + space / 2.0), int(around + DIGIT - thick / 2.0))
            cv2.circle(plate, middle, max(3, thick // 2), (255,), -1, cv2.LINE_AA)
            continue
        cell += 1
        for name in FIXED[character]:
            (x0, y0), (x1, y1) = _ENDS[name]
            cv2.line(plate, at(x0, y0, cell), at(x1, y1, cell), (255,), thick, cv2.LINE_AA)
    box = (around, around, around + total + lean * DIGIT, around + DIGIT)
    return Face(np.asarray(plate, np.float32) / np.float32(255.0), box)


def _shot(
    face: Face, text: str, source: str, condition: Condition, rng: np.random.Generator
) -> Known:
    import cv2

    if condition.slant:
        lean = float(np.tan(np.radians(condition.slant)))
        high, wide = face.strength.shape
        more = int(np.ceil(abs(lean) * high))
        shear = np.array([[1.0, -lean, lean * face.box[3]], [0.0, 1.0, 0.0]])
        leant = cv2.warpAffine(face.strength, shear.astype(np.float32), (wide + more, high))
        left, top, right, bottom = face.box
        face = Face(
            np.asarray(leant, np.float32), (left, top, right + lean * (bottom - top), bottom)
        )
    camera = Camera(
        digit=condition.digit,
        turn=float(np.radians(rng.normal(0.0, 1.0))),
        skew=rng.normal(0.0, 0.015, (4, 2)),
        blur=condition.blur,
        motion=0.0,
        motion_way=0.0,
        noise=condition.noise,
        quality=condition.quality,
    )
    low = float(rng.uniform(10.0, 245.0 - condition.contrast))
    bright = bool(rng.random() < 0.5)
    light = Light(
        ground=low if bright else low + condition.contrast,
        digits=low + condition.contrast if bright else low,
        outside=0.0,
        slope=(0.0, 0.0),
        cast=0.0,
        cast_by=(0.0, 0.0),
        bloom=0.0,
        glare=condition.glare,
        shadow=0.0,
        band=0.0,
        steps=0.0,
    )
    (plate,), corners = filmed(face, (face.strength,), camera)
    film = seen(lighted(plate, None, light, rng, digit=camera.digit), camera, rng)
    marked = corners + rng.normal(0.0, 0.03, (4, 2)) * condition.digit
    return Known(
        level(rectified(film.astype(np.float32), marked)), _around(film, corners), text, source
    )


def _around(film: NDArray[np.uint8], corners: NDArray[np.float64]) -> NDArray[np.uint8]:
    high = float(corners[3, 1] - corners[0, 1])
    left, top = np.maximum(0, np.floor(corners.min(axis=0) - 0.3 * high)).astype(int)
    right, bottom = np.ceil(corners.max(axis=0) + 0.3 * high).astype(int)
    return film[top:bottom, left:right]
