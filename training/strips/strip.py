"""One synthetic strip with its text, and many of them; everything follows from the seed."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from training.strips.beside import add_icons, add_rims, add_specks, window
from training.strips.camera import Camera, filmed, random_camera, seen
from training.strips.face import Lighting, draw
from training.strips.levelling import level, padded, rectified
from training.strips.light import Light, lighted, random_light
from training.strips.style import random_style
from training.strips.texts import Row, random_row, without_points

__all__ = ["Strip", "random_strip", "strips", "together"]


@dataclass(frozen=True, slots=True)
class Strip:
    """``gray`` is (32, W) as levelled, not yet padded; ``text`` what stands there."""

    gray: NDArray[np.uint8]
    text: str


def strips(seed: int, count: int) -> list[Strip]:
    """Return ``count`` strips that follow from ``seed`` alone."""
    rng = np.random.default_rng(seed)
    return [random_strip(rng) for _ in range(count)]


def random_strip(rng: np.random.Generator) -> Strip:
    """Return a strip as the watcher of a film would hand it to the network."""
    row, style, light = random_row(rng), random_style(rng), random_light(rng)
    if not style.point:
        row = without_points(row)
    contrast = abs(light.digits - light.ground)
    camera = random_camera(rng, contrast=contrast)
    lighting, text = _lighting(row, rng, contrast=contrast)
    offsets = [float(off) for off in rng.normal(0.0, style.uneven, len(row.cells))]
    face = draw(row, style, lighting, offsets=offsets, surround=0.75)
    if rng.random() < 0.4:
        add_icons(face, rng)
    if rng.random() < 0.15:
        add_specks(face, rng)
    if rng.random() < 0.15:
        add_rims(face, rng)
    outside = window(face, rng) if rng.random() < 0.4 else None
    plates, corners = filmed(
        face, (face.strength,) if outside is None else (face.strength, outside), camera
    )
    if len(plates) == 2 and rng.random() < 0.4:
        # A housing as bright as the ground, so that its edge alone is seen.
        light = replace(light, outside=light.ground + float(rng.normal(0.0, 0.3)) * contrast)
    picture = lighted(
        plates[0], plates[1] if len(plates) == 2 else None, light, rng, digit=camera.digit
    )
    film = np.asarray(seen(picture, camera, rng), np.float32)
    marked = _marked(corners, camera, rng)
    if rng.random() < 0.04:
        film = _cut(film, corners, style.width * camera.digit, light, rng)
    return Strip(level(rectified(film, marked)), text)


def together(chosen: Sequence[Strip]) -> tuple[NDArray[np.uint8], tuple[str, ...]]:
    """Return the strips (n, 32, W), padded to the widest, and their texts."""
    return padded([strip.gray for strip in chosen]), tuple(strip.text for strip in chosen)


def _lighting(row: Row, rng: np.random.Generator, *, contrast: float) -> tuple[Lighting, str]:
    cells = np.ones(len(row.cells))
    if rng.random() < 0.25:
        cells = rng.uniform(0.55, 1.0, len(row.cells))
    segments = {}
    if rng.random() < 0.3:
        segments = {name: float(rng.uniform(0.6, 1.0)) for name in "abcdefg"}
    ghost = float(rng.uniform(0.02, 0.3)) if rng.random() < 0.35 else 0.0
    if not row.text:
        # Levelled, a strong ghost on a dark display would look like a faint row of eights.
        ghost = min(ghost, 7.0 / contrast)
    old, left, text = row.cells, 0.0, row.text
    if row.text and rng.random() < 0.14:
        old = "".join(
            str(rng.choice(list("0123456789"))) if c.isdigit() and rng.random() < 0.6 else c
            for c in row.cells
        )
        left = float(rng.uniform(0.05, 0.45))
    lighting = Lighting(tuple(float(cell) for cell in cells), segments, ghost, old, left)
    return lighting, text


def _marked(
    corners: NDArray[np.float64], camera: Camera, rng: np.random.Generator
) -> NDArray[np.float64]:
    # A person marks too tightly or too loosely; the edges move apart, the corners a little.
    across = corners[1] - corners[0]
    across = across / max(float(np.linalg.norm(across)), 1e-6) * camera.digit
    down = corners[3] - corners[0]
    down = down / max(float(np.linalg.norm(down)), 1e-6) * camera.digit
    loose = 0.16 if rng.random() < 0.3 else 0.06
    top, bottom = rng.normal(0.02, loose, 2).clip(-0.14, 0.3)
    left, right = rng.normal(0.05, 1.6 * loose, 2).clip(-0.2, 0.7)
    moved = corners.copy()
    moved[[0, 1]] -= top * down
    moved[[2, 3]] += bottom * down
    moved[[0, 3]] -= left * across
    moved[[1, 2]] += right * across
    return moved + rng.normal(0.0, 0.02, (4, 2)) * camera.digit


def _cut(
    film: NDArray[np.float32],
    corners: NDArray[np.float64],
    width: float,
    light: Light,
    rng: np.random.Generator,
) -> NDArray[np.float32]:
    # The right digit is clipped, by the housing or the frame, but less than makes it another.
    x = int((corners[1, 0] + corners[2, 0]) / 2.0 - width * rng.uniform(0.02, 0.14))
    x = min(max(x, 1), film.shape[1])
    film = film.copy()
    film[:, x:] = film[:, x - 1 : x] if rng.random() < 0.5 else light.outside
    return film
