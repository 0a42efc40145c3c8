"""How a drawn row looks in its light: brightness of ground and digits, glare, shadow, banding."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["Light", "lighted", "random_light"]

Picture = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Light:
    """``ground`` and ``digits`` are gray levels (0 to 255), ``outside`` that of the housing.

    ``slope`` is how much the ground changes over the picture, across and down (a share);
    ``cast`` the strength of the digits' own shadow on the ground behind them, ``cast_by`` its
    distance (digit heights); ``bloom`` the strength of their glow; ``glare``, ``shadow``,
    ``band`` and ``steps`` (the ground of one cell unlike the next's) are strengths (0: none).
    """

    ground: float
    digits: float
    outside: float
    slope: tuple[float, float]
    cast: float
    cast_by: tuple[float, float]
    bloom: float
    glare: float
    shadow: float
    band: float
    steps: float


def random_light(rng: np.random.Generator) -> Light:
    """Return a light: dark digits on a bright ground or bright ones on a dark ground alike."""
    contrast = float(np.exp(rng.uniform(np.log(14.0), np.log(210.0))))
    low = float(rng.uniform(4.0, 250.0 - contrast))
    bright_digits = rng.random() < 0.5
    cast = 0.0 if bright_digits else _sometimes(rng, 0.5, 0.05, 0.35)
    return Light(
        ground=low if bright_digits else low + contrast,
        digits=low + contrast if bright_digits else low,
        outside=float(rng.uniform(5.0, 245.0)),
        slope=(float(rng.normal(0.0, 0.08)), float(rng.normal(0.0, 0.08))),
        cast=cast,
        cast_by=(float(rng.normal(0.0, 0.06)), float(rng.normal(0.02, 0.06))),
        bloom=_sometimes(rng, 0.5, 0.05, 0.45) if bright_digits else 0.0,
        glare=_sometimes(rng, 0.22, 0.1, 0.62),
        shadow=_sometimes(rng, 0.12, 0.1, 0.5),
        band=_sometimes(rng, 0.2, 0.05, 0.45),
        steps=_sometimes(rng, 0.12, 0.05, 0.3),
    )


def lighted(
    strength: Picture,
    outside: Picture | None,
    light: Light,
    rng: np.random.Generator,
    *,
    digit: float,
) -> Picture:
    """Return the gray picture (float, about 0 to 255) of digits ``digit`` px high; ``outside``
    is 1 where the housing is."""
    import cv2

    high, wide = strength.shape
    down = np.linspace(-1.0, 1.0, high, dtype=np.float32)[:, None]
    across = np.linspace(-1.0, 1.0, wide, dtype=np.float32)[None, :]
    ground = light.ground * (1.0 + light.slope[0] * across + light.slope[1] * down)
    if light.steps:
        depth = light.steps * abs(light.digits - light.ground)
        ground = ground + depth * _cells(wide, rng, digit=digit)
    if light.cast:
        moved = np.array([[1, 0, light.cast_by[0] * digit], [0, 1, light.cast_by[1] * digit]])
        behind = cv2.warpAffine(strength, moved.astype(np.float32), (wide, high))
        behind = cv2.GaussianBlur(behind, (0, 0), 0.03 * digit + 0.3)
        ground = ground + (light.digits - ground) * light.cast * behind
    if light.bloom:
        glow = cv2.GaussianBlur(strength, (0, 0), 0.14 * digit)
        strength = np.asarray(np.minimum(1.0, strength + light.bloom * glow), np.float32)
    if light.band:
        strength = strength * _bands(high, light.band, rng, digit=digit)
    picture = ground + (light.digits - ground) * strength
    if outside is not None:
        picture = picture + (light.outside - picture) * outside
    if light.shadow:
        picture = picture * (1.0 - light.shadow * _edge(across, down, rng))
    if light.glare:
        # As a reflection does, it takes away contrast with what it adds.
        haze = light.glare * _spot(across * wide / digit, down * high / digit, rng)
        picture = picture + (250.0 - picture) * haze
    return np.asarray(picture, np.float32)


def _sometimes(rng: np.random.Generator, share: float, low: float, high: float) -> float:
    return float(rng.uniform(low, high)) if rng.random() < share else 0.0


def _bands(high: int, depth: float, rng: np.random.Generator, *, digit: float) -> Picture:
    turn = np.arange(high) / (digit * rng.uniform(0.25, 2.0)) + rng.random()
    wave = 0.5 + 0.5 * np.sin(2.0 * np.pi * turn)
    if rng.random() < 0.4:
        wave = (wave > 0.5).astype(np.float64)
    return np.asarray(1.0 - depth * wave, np.float32)[:, None]


def _cells(wide: int, rng: np.random.Generator, *, digit: float) -> Picture:
    cell = max(2.0, digit * rng.uniform(0.6, 1.1))
    levels = rng.uniform(-1.0, 1.0, int(wide / cell) + 2)
    at = np.arange(wide) / cell
    here = np.floor(at).astype(int)
    over = np.clip((at - here - 0.9) / 0.1, 0.0, 1.0)
    return np.asarray(levels[here] * (1.0 - over) + levels[here + 1] * over, np.float32)[None, :]


def _edge(across: Picture, down: Picture, rng: np.random.Generator) -> Picture:
    angle = rng.uniform(0.0, 2.0 * np.pi)
    way = across * np.cos(angle) + down * np.sin(angle) - rng.uniform(-0.7, 0.7)
    return np.asarray(1.0 / (1.0 + np.exp(-way * rng.uniform(4.0, 40.0))), np.float32)


def _spot(across: Picture, down: Picture, rng: np.random.Generator) -> Picture:
    x = across - rng.uniform(across.min(), across.max())
    y = down - rng.uniform(down.min(), down.max())
    angle = rng.uniform(0.0, np.pi)
    along = x * np.cos(angle) + y * np.sin(angle)
    aside = y * np.cos(angle) - x * np.sin(angle)
    long, short = rng.uniform(0.6, 5.0), rng.uniform(0.15, 1.2)
    power = 2.0 if rng.random() < 0.6 else 8.0
    return np.asarray(
        np.exp(-(np.abs(along / long) ** power) - np.abs(aside / short) ** power), np.float32
    )
