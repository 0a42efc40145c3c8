"""What stands beside a digit row and is no digit: units, icons, the rim of the window."""

import numpy as np
from numpy.typing import NDArray

from training.strips.face import DIGIT, Face

__all__ = ["add_icons", "add_rims", "add_specks", "window"]

_WORDS = ("kg", "lb", "N", "kN", "g", "oz", "%", "HOLD", "ZERO", "TARE", "t", "st", "PEAK", "mm")


def add_icons(face: Face, rng: np.random.Generator) -> None:
    """Draw one to four small words or shapes around the digits of ``face``, in place, some dark
    (not lit now) and none nearer than a tenth of a digit."""
    import cv2

    plate = np.zeros(face.strength.shape, np.uint8)
    for _ in range(int(rng.integers(1, 5))):
        high = DIGIT * float(rng.uniform(0.1, 0.42))
        strength = int(255 * (rng.uniform(0.5, 1.0) if rng.random() < 0.8 else 0.15))
        if rng.random() < 0.6:
            word = str(rng.choice(_WORDS))
            size = high / 22.0
            font = int(rng.choice([cv2.FONT_HERSHEY_SIMPLEX, cv2.FONT_HERSHEY_DUPLEX]))
            thick = max(1, round(high / 9.0))
            long = cv2.getTextSize(word, font, size, thick)[0][0]
            x, y = _corner(face, (long, high), rng)
            cv2.putText(
                plate, word, (x, y + int(high)), font, size, (strength,), thick, cv2.LINE_AA
            )
        else:
            broad = high * float(rng.uniform(0.6, 2.0))
            x, y = _corner(face, (broad, high), rng)
            _shape(plate, (x, y, int(broad), int(high)), strength, rng)
    np.maximum(face.strength, plate.astype(np.float32) / np.float32(255.0), out=face.strength)


def add_rims(face: Face, rng: np.random.Generator) -> None:
    """Draw pieces of lines close above or below the digits of ``face``, in place: the edge of a
    mask, a printed frame, a crack in the light."""
    import cv2

    plate = np.zeros(face.strength.shape, np.uint8)
    left, top, right, bottom = face.box
    for _ in range(int(rng.integers(1, 4))):
        start = float(rng.uniform(left - DIGIT * 0.5, right))
        end = start + float(rng.uniform(0.3, 6.0)) * DIGIT
        away = DIGIT * float(rng.uniform(0.05, 0.28))
        y = bottom + away if rng.random() < 0.6 else top - away
        tilt = float(rng.normal(0.0, 0.02)) * (end - start)
        level = int(255 * rng.uniform(0.25, 1.0))
        thick = int(rng.integers(1, 6))
        first, last = (int(start), int(y)), (int(end), int(y + tilt))
        cv2.line(plate, first, last, (level,), thick, cv2.LINE_AA)
    np.maximum(face.strength, plate.astype(np.float32) / np.float32(255.0), out=face.strength)


def add_specks(face: Face, rng: np.random.Generator) -> None:
    """Draw crumbs and scratches anywhere on ``face``, in place, none as strong as a point."""
    import cv2

    plate = np.zeros(face.strength.shape, np.uint8)
    high, wide = face.strength.shape
    for _ in range(int(rng.integers(2, 14))):
        x, y = int(rng.integers(wide)), int(rng.integers(high))
        long = DIGIT * float(rng.uniform(0.01, 0.09))
        angle = float(rng.uniform(0.0, 2.0 * np.pi))
        to = (int(x + long * np.cos(angle)), int(y + long * np.sin(angle)))
        level = int(255 * rng.uniform(0.08, 0.4))
        cv2.line(plate, (x, y), to, (level,), int(rng.integers(1, 4)), cv2.LINE_AA)
    np.maximum(face.strength, plate.astype(np.float32) / np.float32(255.0), out=face.strength)


def window(face: Face, rng: np.random.Generator) -> NDArray[np.float32]:
    """Return where the display's window ends: 0 inside, 1 outside, with a soft rim."""
    import cv2

    high, wide = face.strength.shape
    left, top, right, bottom = face.box
    room = DIGIT * rng.uniform(0.08, 0.7, 4)
    inside = (
        int(max(0.0, left - room[0])),
        int(max(0.0, top - room[1])),
        int(min(wide, right + room[2])),
        int(min(high, bottom + room[3])),
    )
    out = np.ones((high, wide), np.float32)
    out[inside[1] : inside[3], inside[0] : inside[2]] = 0.0
    softness = float(rng.uniform(0.005, 0.08)) * DIGIT
    return np.asarray(cv2.GaussianBlur(out, (0, 0), softness), np.float32)


def _corner(face: Face, size: tuple[float, float], rng: np.random.Generator) -> tuple[int, int]:
    left, top, right, bottom = face.box
    wide, high = size
    away = DIGIT * float(rng.uniform(0.1, 0.45))
    y = float(rng.uniform(top, max(top + 1.0, bottom - high)))
    x = float(rng.uniform(left, max(left + 1.0, right - wide)))
    sides = [(right + away, y), (left - away - wide, y), (x, top - away - high), (x, bottom + away)]
    x, y = sides[int(rng.choice(4, p=[0.55, 0.15, 0.15, 0.15]))]
    return int(x), int(y)


def _shape(
    plate: NDArray[np.uint8],
    box: tuple[int, int, int, int],
    strength: int,
    rng: np.random.Generator,
) -> None:
    import cv2

    x, y, wide, high = box
    kind = int(rng.integers(4))
    thick = max(1, high // 8)
    if kind == 0:
        cv2.rectangle(plate, (x, y), (x + wide, y + high), (strength,), thick, cv2.LINE_AA)
        cv2.rectangle(plate, (x, y), (x + wide // 2, y + high), (strength,), -1)
    elif kind == 1:
        points = np.array([(x, y + high), (x + wide, y + high), (x + wide // 2, y)], np.int32)
        cv2.fillPoly(plate, [points], (strength,), cv2.LINE_AA)
    elif kind == 2:
        middle = (x + wide // 2, y + high // 2)
        cv2.circle(plate, middle, max(2, high // 2), (strength,), thick, cv2.LINE_AA)
    else:
        cv2.rectangle(plate, (x, y), (x + wide, y + max(2, high // 5)), (strength,), -1)
