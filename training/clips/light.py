"""What passes in front of the displays, and what the sensor makes of the picture."""

import math

import numpy as np
from numpy.typing import NDArray

from training.clips.camera import Camera
from training.clips.load import Knots, along
from training.clips.scene import Glare, Hand, Shade

__all__ = ["Sensor", "draw_glare", "draw_hand", "draw_shade"]

Picture = NDArray[np.uint8]
View = NDArray[np.float64]


def _at(knots: Knots, clock: float) -> float:
    return float(along(knots, np.array([clock]))[0])


def draw_shade(picture: Picture, shade: Shade, clock: float, view: View) -> None:
    """Darken the rows' part in the shadow, with soft edges, in place."""
    wide = picture.shape[1]
    middle = _at(shade.x, clock) + view[0, 2]
    columns = np.arange(wide)
    inside = 1.0 / (1.0 + np.exp((np.abs(columns - middle) - shade.width / 2) / 6.0))
    light = 1.0 - (1.0 - shade.left) * inside
    first, last = max(0, int(middle - shade.width)), min(wide, int(middle + shade.width))
    if last > first:
        part = picture[:, first:last].astype(np.float32)
        picture[:, first:last] = (part * light[None, first:last, None]).astype(np.uint8)


def draw_glare(picture: Picture, glare: Glare, clock: float, view: View) -> None:
    """Add a soft bright spot, in place."""
    x, y = _at(glare.x, clock) + view[0, 2], _at(glare.y, clock) + view[1, 2]
    reach = 2.4 * glare.reach
    left, right = max(0, int(x - reach)), min(picture.shape[1], int(x + reach))
    top, bottom = max(0, int(y - reach)), min(picture.shape[0], int(y + reach))
    if right <= left or bottom <= top:
        return
    across = np.exp(-(((np.arange(left, right) - x) / glare.reach) ** 2))
    down = np.exp(-(((np.arange(top, bottom) - y) / glare.reach) ** 2))
    spot = (glare.strength * down[:, None] * across[None, :])[:, :, None]
    part = picture[top:bottom, left:right]
    picture[top:bottom, left:right] = np.minimum(part + spot, 255.0).astype(np.uint8)


def draw_hand(picture: Picture, hand: Hand, clock: float, view: View) -> None:
    """Draw a glove and its sleeve in place; it comes from below, from the right."""
    import cv2

    x, y = _at(hand.x, clock) + view[0, 2], _at(hand.y, clock) + view[1, 2]
    if y - hand.size > picture.shape[0] + 20:
        return
    start = (round(x), round(y))
    end = (round(x + 3 * hand.size), round(y + 7 * hand.size))
    thick = round(2 * hand.size)
    cv2.line(picture, start, end, (88, 70, 58), thick, cv2.LINE_AA)
    cv2.circle(picture, start, round(hand.size), (92, 120, 150), -1, cv2.LINE_AA)
    for finger in range(3):
        turn = -2.2 + 0.5 * finger
        tip = (
            round(x + 0.8 * hand.size * math.cos(turn)),
            round(y + 0.8 * hand.size * math.sin(turn)),
        )
        cv2.line(picture, start, tip, (70, 96, 122), max(2, thick // 10), cv2.LINE_AA)


class Sensor:
    """Focus, motion, exposure and noise, in this order."""

    def __init__(self, camera: Camera, *, rng: np.random.Generator) -> None:
        self._camera = camera
        self._rng = rng
        shape = (camera.height + 64, camera.width + 64)
        grain = rng.normal(128.0, camera.noise, shape)
        self._grain = np.clip(grain, 0, 255).astype(np.uint8)

    def expose(self, picture: Picture, clock: float, motion: NDArray[np.float64]) -> Picture:
        """Return the picture as the sensor takes it; ``motion`` is the way (px) it went over in
        one exposure."""
        import cv2

        camera = self._camera
        blur = _at(camera.focus, clock)
        if blur > 0.25:
            picture = np.asarray(cv2.GaussianBlur(picture, (0, 0), blur), np.uint8)
        if np.hypot(*motion) > 1.5:
            picture = np.asarray(cv2.filter2D(picture, -1, _streak(motion)), np.uint8)
        gain = _at(camera.gain, clock)
        if abs(gain - 1.0) > 0.004:
            picture = np.asarray(cv2.convertScaleAbs(picture, alpha=gain), np.uint8)
        if camera.noise <= 0.0:
            return picture
        down, right = self._rng.integers(0, 64, 2)
        grain = self._grain[down : down + camera.height, right : right + camera.width]
        alike = cv2.merge([grain, grain, grain])
        return np.asarray(cv2.addWeighted(picture, 1.0, alike, 1.0, -128.0), np.uint8)


def _streak(motion: NDArray[np.float64]) -> NDArray[np.float32]:
    import cv2

    reach = max(1, math.ceil(float(np.abs(motion).max()) / 2))
    kernel = np.zeros((2 * reach + 1, 2 * reach + 1), np.float32)
    half = motion / 2
    start = (round(reach - half[0]), round(reach - half[1]))
    end = (round(reach + half[0]), round(reach + half[1]))
    cv2.line(kernel, start, end, 1.0, 1)
    return np.asarray(kernel / kernel.sum(), np.float32)
