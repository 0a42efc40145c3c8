"""The hand-held camera: when its frames are, how it moves, focuses and exposes."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from training.clips.load import Knots, along

__all__ = ["Camera", "frame_times", "views"]

TICKS = 90_000  # a second in the film's own time stamps


@dataclass(frozen=True, slots=True)
class Camera:
    """``width`` and ``height`` (px) are of the upright picture.

    ``shake`` is the hand's wander (px, about one standard deviation), ``bumps`` are (s, px) blows
    that die away. ``pan`` moves the view: (s, px) right and down. ``focus`` is the blur (px,
    standard deviation) over time, ``gain`` the exposure, ``noise`` the sensor's (of 255).
    ``exposure`` and ``readout`` (s): of one row, and from the first row to the last.
    ``rotation``: the picture is stored turned, with a tag that says how many degrees clockwise
    a player has to turn it. ``gaps`` (from, to) in s: no frames then; ``uneven``: the spread of
    the time between frames (part of it); ``doubled``: this part of the frames repeats the
    one before. ``quality`` is the encoder's constant rate factor.
    """

    width: int = 960
    height: int = 540
    fps: float = 30.0
    codec: str = "libx264"
    shake: float = 1.5
    bumps: tuple[tuple[float, float], ...] = ()
    pan_x: Knots = ((0.0, 0.0),)
    pan_y: Knots = ((0.0, 0.0),)
    zoom: Knots = ((0.0, 1.0),)
    focus: Knots = ((0.0, 0.0),)
    gain: Knots = ((0.0, 1.0),)
    noise: float = 3.0
    exposure: float = 0.008
    readout: float = 0.012
    rotation: int = 0
    gaps: tuple[tuple[float, float], ...] = ()
    uneven: float = 0.0
    doubled: float = 0.0
    quality: int = 23


def frame_times(camera: Camera, seconds: float, *, rng: np.random.Generator) -> NDArray[np.float64]:
    """Return when each frame is taken (s), the first at 0, in whole ticks of the film's clock."""
    count = round(seconds * camera.fps)
    steps = np.full(count - 1, 1.0 / camera.fps)
    if camera.uneven > 0.0:
        steps *= rng.uniform(1.0 - camera.uneven, 1.0 + camera.uneven, count - 1)
    times = np.concatenate([[0.0], np.cumsum(steps)])
    for start, end in camera.gaps:
        times = times[(times < start) | (times >= end)]
    return np.asarray(np.round(times * TICKS) / TICKS, np.float64)


def views(
    camera: Camera, times: NDArray[np.float64], *, rng: np.random.Generator
) -> NDArray[np.float64]:
    """Return for each frame the matrix (3, 3) from the scene to the upright picture."""
    wander_x = _wander(times, rng) * camera.shake - along(camera.pan_x, times)
    wander_y = _wander(times, rng) * camera.shake - along(camera.pan_y, times)
    turn = _wander(times, rng) * camera.shake / camera.width * 1.2
    breath = along(camera.zoom, times) * (
        1.0 + _wander(times, rng) * camera.shake / camera.width * 0.8
    )
    for at, size in camera.bumps:
        since = times - at
        blow = np.where(since > 0, np.exp(-np.maximum(since, 0) / 0.14), 0.0)
        wander_x = wander_x + size * blow * np.sin(2 * math.pi * 8.0 * since)
        wander_y = wander_y + size * 0.8 * blow * np.sin(2 * math.pi * 6.5 * since + 0.6)
        turn = turn + 0.0006 * size * blow * np.sin(2 * math.pi * 5.0 * since)
    cx, cy = camera.width / 2, camera.height / 2
    cos, sin = np.cos(turn) * breath, np.sin(turn) * breath
    found = np.zeros((len(times), 3, 3))
    found[:, 0, 0], found[:, 0, 1] = cos, -sin
    found[:, 1, 0], found[:, 1, 1] = sin, cos
    found[:, 0, 2] = cx - cos * cx + sin * cy + wander_x
    found[:, 1, 2] = cy - sin * cx - cos * cy + wander_y
    found[:, 2, 2] = 1.0
    return found


def _wander(times: NDArray[np.float64], rng: np.random.Generator) -> NDArray[np.float64]:
    """Slow sway with a little tremor, of unit spread, 0 at the start."""
    rates = np.array([0.31, 0.77, 1.9, 4.3, 8.1])
    sizes = np.array([1.0, 0.7, 0.35, 0.15, 0.08]) * 1.1
    phases = rng.uniform(0, 2 * math.pi, len(rates))
    waves = np.sin(2 * math.pi * rates * times[:, None] + phases) - np.sin(phases)
    return np.asarray((waves * sizes).sum(axis=1), np.float64)
