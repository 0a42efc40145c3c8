"""What stands still behind the displays: bench, boards, a rig's uprights and beam."""

import numpy as np
from numpy.typing import NDArray

from training.clips.scene import Scene

__all__ = ["MARGIN", "background"]

MARGIN = 96  # px on each side that come into sight when the camera moves


def background(scene: Scene, *, rng: np.random.Generator) -> NDArray[np.uint8]:
    """Return the picture (h + 2 MARGIN, w + 2 MARGIN, 3) behind the displays."""
    import cv2

    wide, high = scene.camera.width + 2 * MARGIN, scene.camera.height + 2 * MARGIN
    tone = rng.uniform(0.8, 1.15)
    wood = np.empty((high, wide, 3), np.float32)
    wood[:] = np.array([96.0, 128.0, 158.0]) * tone
    grain = rng.normal(0, 1, (high, max(wide // 24, 8))).astype(np.float32)
    long = cv2.resize(grain, (wide, high), interpolation=cv2.INTER_CUBIC)
    wood += cv2.GaussianBlur(long, (0, 0), 1.0)[:, :, None] * 14.0
    spots = rng.normal(0, 1, (high // 12, wide // 12)).astype(np.float32)
    wood += cv2.resize(spots, (wide, high), interpolation=cv2.INTER_CUBIC)[:, :, None] * 5.0
    picture = np.clip(wood, 0, 255).astype(np.uint8)
    for y in range(int(rng.integers(40, 120)), high, 150):
        cv2.line(picture, (0, y), (wide, y + int(rng.integers(-6, 6))), (52, 66, 80), 3)
    for x in (int(wide * 0.08), int(wide * 0.9)):
        cv2.rectangle(picture, (x, 0), (x + 46, high), (120, 124, 126), -1)
        cv2.rectangle(picture, (x, 0), (x + 46, high), (70, 72, 74), 3)
        for y in range(30, high, 90):
            cv2.circle(picture, (x + 23, y), 9, (60, 60, 62), -1, cv2.LINE_AA)
            cv2.circle(picture, (x + 23, y), 9, (160, 160, 162), 1, cv2.LINE_AA)
    for _ in range(14):
        x, y = int(rng.integers(0, wide)), int(rng.integers(0, high))
        size = int(rng.integers(6, 26))
        colour = tuple(int(c) for c in rng.integers(30, 210, 3))
        cv2.rectangle(picture, (x, y), (x + size * 2, y + size), colour, -1)
        cv2.line(picture, (x, y), (x + size * 2, y + size), (20, 20, 20), 1, cv2.LINE_AA)
    if scene.plate:
        _plate(picture, scene.plate)
    return picture


def _plate(picture: NDArray[np.uint8], words: str) -> None:
    import cv2

    font, size = cv2.FONT_HERSHEY_SIMPLEX, 0.62
    (wide, high), _ = cv2.getTextSize(words, font, size, 1)
    left, bottom = MARGIN + 24, picture.shape[0] - MARGIN - 22
    cv2.rectangle(
        picture,
        (left - 10, bottom - high - 10),
        (left + wide + 10, bottom + 10),
        (235, 240, 240),
        -1,
    )
    cv2.rectangle(
        picture, (left - 10, bottom - high - 10), (left + wide + 10, bottom + 10), (40, 40, 40), 1
    )
    cv2.putText(picture, words, (left, bottom), font, size, (30, 30, 30), 1, cv2.LINE_AA)
