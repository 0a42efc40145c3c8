"""What a phone makes of a row: perspective, few pixels, blur, motion, noise, compression."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from training.strips.face import DIGIT, Face

__all__ = ["Camera", "filmed", "random_camera", "seen"]

Picture = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Camera:
    """``digit`` is how many pixels high a digit is in the film; ``turn`` in radians; ``skew`` how
    far each corner of the row is off (digit heights, 4 x 2); ``blur`` the defocus' sigma and
    ``motion`` the way moved (digit heights), ``motion_way`` its direction (radians); ``noise`` the
    sigma in gray levels; ``quality`` the compression's (0: none)."""

    digit: float
    turn: float
    skew: NDArray[np.float64]
    blur: float
    motion: float
    motion_way: float
    noise: float
    quality: int


def random_camera(rng: np.random.Generator, *, contrast: float) -> Camera:
    """Return a camera; noise and compression leave a text of ``contrast`` gray levels legible."""
    digit = float(np.exp(rng.uniform(np.log(12.0), np.log(44.0))))
    noise = float(rng.uniform(0.0, min(14.0, contrast / 5.0)))
    coarse = 12 if contrast > 60.0 else 35
    return Camera(
        digit=digit,
        turn=float(np.radians(rng.normal(0.0, 1.6))),
        skew=rng.normal(0.0, 0.025, (4, 2)),
        blur=float(abs(rng.normal(0.0, 0.045))),
        motion=float(rng.uniform(0.04, 0.2)) if rng.random() < 0.25 else 0.0,
        motion_way=float(rng.uniform(0.0, np.pi)),
        noise=noise,
        quality=int(rng.integers(coarse, 90)) if rng.random() < 0.6 else 0,
    )


def filmed(
    face: Face, plates: tuple[Picture, ...], camera: Camera
) -> tuple[tuple[Picture, ...], NDArray[np.float64]]:
    """Return each of ``plates`` (of the size of ``face``) as the camera projects it, and the
    corners (4, 2) of the digit row there."""
    import cv2

    scale = camera.digit / DIGIT
    left, top, right, bottom = face.box
    corners = np.array([(left, top), (right, top), (right, bottom), (left, bottom)])
    high, wide = (max(8, round(side * scale)) for side in face.strength.shape)
    middle = corners.mean(axis=0)
    turn = np.array(
        [
            (np.cos(camera.turn), -np.sin(camera.turn)),
            (np.sin(camera.turn), np.cos(camera.turn)),
        ]
    )
    to = ((corners - middle) @ turn.T + middle + camera.skew * DIGIT) * scale
    matrix = cv2.getPerspectiveTransform(corners.astype(np.float32), to.astype(np.float32))
    out = []
    for plate in plates:
        if scale < 0.9:
            plate = np.asarray(cv2.GaussianBlur(plate, (0, 0), 0.42 / scale), np.float32)
        projected = cv2.warpPerspective(
            plate, matrix, (wide, high), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
        )
        out.append(np.asarray(projected, np.float32))
    return tuple(out), to


def seen(picture: Picture, camera: Camera, rng: np.random.Generator) -> NDArray[np.uint8]:
    """Return the picture as it stands in the film: blurred, noisy, compressed."""
    import cv2

    if camera.blur * camera.digit > 0.2:
        picture = np.asarray(
            cv2.GaussianBlur(picture, (0, 0), camera.blur * camera.digit), np.float32
        )
    if camera.motion * camera.digit > 1.0:
        kernel = _way(camera.motion * camera.digit, camera.motion_way)
        picture = np.asarray(cv2.filter2D(picture, -1, kernel), np.float32)
    if camera.noise:
        picture = picture + camera.noise * rng.standard_normal(picture.shape, np.float32)
    gray = np.asarray(np.clip(picture, 0.0, 255.0), np.uint8)
    if camera.quality:
        _, code = cv2.imencode(".jpg", gray, [cv2.IMWRITE_JPEG_QUALITY, camera.quality])
        gray = np.asarray(cv2.imdecode(code, cv2.IMREAD_GRAYSCALE), np.uint8)
    return gray


def _way(length: float, angle: float) -> Picture:
    import cv2

    side = int(length) | 1
    if side < length:
        side += 2
    kernel = np.zeros((side, side), np.float32)
    way = np.array([np.cos(angle), np.sin(angle)]) * length / 2.0
    # In sixteenths of a pixel, as cv2 takes them.
    start, end = (np.rint(16 * ((side - 1) / 2.0 + sign * way)).astype(int) for sign in (-1, 1))
    first, last = (int(start[0]), int(start[1])), (int(end[0]), int(end[1]))
    cv2.line(kernel, first, last, (1.0,), 1, cv2.LINE_8, 4)
    total = float(kernel.sum())
    if not total:
        kernel[side // 2, side // 2] = total = 1.0
    return np.asarray(kernel / total, np.float32)
