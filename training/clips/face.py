"""The face of a display: housing, window and digits, painted from how dark each segment is."""

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from training.clips.glyphs import SEGMENTS, Variants
from training.clips.shapes import Manner, place_masks

__all__ = ["ICONS", "Face", "Look"]

Picture = NDArray[np.float32]
Colour = tuple[int, int, int]  # blue, green, red

ICONS = ("kgf", "N", "lb", "HOLD", "lbf")
_DIGIT = 80  # px of a digit's height on the face


@dataclass(frozen=True, slots=True)
class Look:
    """What a display looks like. ``ink`` on ``ground``; ``glows``: light on dark, as LEDs.
    ``dead`` is how much of an unlit segment can be seen, ``contrast`` how much of the ink a lit
    one has. ``icons``: units and the like stand beside the digits."""

    ink: Colour = (38, 44, 40)
    ground: Colour = (146, 168, 152)
    housing: Colour = (62, 58, 54)
    glows: bool = False
    manner: Manner = Manner.MITRED
    thick: float = 0.13
    gap: float = 0.018
    slant: float = 0.08
    round_point: bool = True
    pitch: float = 0.74
    dead: float = 0.03
    contrast: float = 0.9
    icons: bool = True
    variants: Variants = field(default=Variants())
    plate: str = "0-500 N"
    bars: float = 0.0  # strength of bright and dark rows in a glowing display
    uneven: float = 0.06  # spread of brightness between segments


class Face:
    """One display's face, ``size`` (w, h) px; ``corners`` (4, 2) are those of its digit row."""

    def __init__(self, look: Look, places: int, *, rng: np.random.Generator) -> None:
        self.look = look
        self.places = places
        d = _DIGIT
        row_width = round((places - 1) * look.pitch * d + 0.56 * d)
        side = round(0.55 * d)
        icon_width = round(0.75 * d) if look.icons else 0
        self._row_left = round(0.9 * d)
        self._row_top = round(0.85 * d)
        window = (
            self._row_left - side,
            self._row_top - round(0.4 * d),
            self._row_left + row_width + side + icon_width,
            self._row_top + d + round(0.4 * d),
        )
        self._window = window
        width = window[2] + round(0.45 * d)
        height = window[3] + round(0.95 * d)
        self.size = (width, height)
        left, top = self._row_left - 0.5, self._row_top - 0.5
        self.corners = np.array(
            [(left, top), (left + row_width, top), (left + row_width, top + d), (left, top + d)]
        )
        self._housing = _housing(look, self.size, window, rng=rng)
        names, masks = self._masks()
        self.names = names
        self._masks_array = masks * rng.uniform(1.0 - look.uneven, 1.0, (len(names), 1, 1)).astype(
            np.float32
        )

    def _masks(self) -> tuple[tuple[str, ...], Picture]:
        """The masks of all segments ('0a', '0b' … by place) and icons within the window."""
        look, d = self.look, _DIGIT
        x0, y0, x1, y1 = self._window
        shapes = place_masks(
            d,
            manner=look.manner,
            thick=look.thick,
            gap=look.gap,
            slant=look.slant,
            round_point=look.round_point,
        )
        names = [f"{place}{s}" for place in range(self.places) for s in SEGMENTS]
        names += [f"icon {icon}" for icon in ICONS]
        masks = np.zeros((len(names), y1 - y0, x1 - x0), np.float32)
        for place in range(self.places):
            for at, segment in enumerate(SEGMENTS):
                shift, mask = shapes[segment]
                left = self._row_left - x0 + round(place * look.pitch * d) + shift
                top = self._row_top - y0
                first, last = max(0, -left), min(mask.shape[1], x1 - x0 - left)
                part = mask[:, first:last]
                masks[
                    place * len(SEGMENTS) + at,
                    top : top + d,
                    left + first : left + last,
                ] = part
        if look.icons:
            for icon, mask in zip(ICONS, masks[-len(ICONS) :], strict=True):
                _write_icon(mask, icon, d)
        return tuple(names), masks

    def paint(
        self,
        above: NDArray[np.float32],
        below: NDArray[np.float32],
        *,
        tear: float,
        light: float,
        bands: float = 0.0,
    ) -> NDArray[np.uint8]:
        """Return the face (h, w, 3). ``above`` and ``below`` (S,) are how far each segment in
        ``names`` is lit, 0 to 1, in the rows above and below the part ``tear`` of the window;
        ``light`` is that of the backlight, ``bands`` the phase of bright rows (turns)."""
        look = self.look
        amount = self._amount(above)
        if tear < 1.0 and not np.array_equal(above, below):
            cut = max(0, round(tear * amount.shape[0]))
            amount[cut:] = self._amount(below)[cut:]
        x0, y0, x1, y1 = self._window
        face = self._housing.copy()
        ground = np.array(look.ground, np.float32)
        ink = np.array(look.ink, np.float32)
        if look.glows:
            face[y0:y1, x0:x1] = _glowing(amount, ground, ink, bars=look.bars, turn=bands)
        else:
            grey = (amount * look.contrast)[:, :, None]
            face[y0:y1, x0:x1] = (ground * (1.0 - grey) + ink * grey) * light
        return np.clip(face, 0, 255).astype(np.uint8)

    def _amount(self, lit: NDArray[np.float32]) -> Picture:
        look = self.look
        seen = look.dead + (1.0 - look.dead) * lit
        seen[-len(ICONS) :] = lit[-len(ICONS) :]
        used = np.flatnonzero(seen > 0.004)
        amount: Picture = np.tensordot(seen[used], self._masks_array[used], axes=1)
        return np.minimum(amount, 1.0)


def _glowing(
    amount: Picture, ground: Picture, ink: Picture, *, bars: float, turn: float
) -> Picture:
    import cv2

    glow = cv2.GaussianBlur(amount, (0, 0), _DIGIT * 0.09) * 0.35
    if bars > 0.0:
        rows = np.arange(amount.shape[0], dtype=np.float32) / amount.shape[0]
        wave = 1.0 - bars * (0.5 + 0.5 * np.sin(2 * math.pi * (1.6 * rows + turn)))
        amount = amount * wave[:, None].astype(np.float32)
    light = np.minimum(amount + glow * (1.0 - amount), 1.0)[:, :, None]
    # The middle of a bright segment is burnt towards white by the camera.
    burnt = np.maximum(amount - 0.85, 0.0)[:, :, None] * 1.2
    return np.asarray(ground + (ink - ground) * light + (255.0 - ink) * burnt, np.float32)


def _write_icon(mask: Picture, icon: str, d: int) -> None:
    import cv2

    high = mask.shape[0]
    rows = {"kgf": 0.86, "N": 0.86, "lb": 0.62, "lbf": 0.62, "HOLD": 0.34}
    at = (mask.shape[1] - round(0.72 * d), round(rows[icon] * high))
    size = 0.45 if icon == "HOLD" else 0.8
    ink = np.zeros(mask.shape, np.uint8)
    cv2.putText(
        ink, icon, at, cv2.FONT_HERSHEY_SIMPLEX, size * d / 80, 255, max(1, d // 32), cv2.LINE_AA
    )
    mask[:] = ink / np.float32(255.0)


def _housing(
    look: Look,
    size: tuple[int, int],
    window: tuple[int, int, int, int],
    *,
    rng: np.random.Generator,
) -> Picture:
    import cv2

    width, height = size
    face = np.empty((height, width, 3), np.float32)
    face[:] = look.housing
    shade = np.linspace(1.12, 0.86, height, dtype=np.float32)[:, None, None]
    face *= shade
    grain = rng.normal(0.0, 3.0, (height, width, 1)).astype(np.float32)
    face += cv2.GaussianBlur(grain, (0, 0), 1.2)[:, :, None] * 2.0
    light = tuple(float(min(255, c + 70)) for c in look.housing)
    dark = tuple(float(c * 0.5) for c in look.housing)
    cv2.rectangle(face, (3, 3), (width - 4, height - 4), light, 3, cv2.LINE_AA)
    x0, y0, x1, y1 = window
    cv2.rectangle(face, (x0 - 9, y0 - 9), (x1 + 8, y1 + 8), dark, 9, cv2.LINE_AA)
    cv2.line(face, (x0 - 9, y1 + 9), (x1 + 9, y1 + 9), light, 2, cv2.LINE_AA)
    base = y1 + (height - y1) // 2 + 6
    for number in range(3):
        centre = (x0 + 22 + number * 52, base)
        cv2.circle(face, centre, 17, dark, -1, cv2.LINE_AA)
        cv2.circle(face, centre, 13, light if number != 1 else (60.0, 60.0, 190.0), -1, cv2.LINE_AA)
    lettering = np.zeros((height, width), np.uint8)
    font = cv2.FONT_HERSHEY_SIMPLEX
    cv2.putText(lettering, look.plate, (x0 + 175, base + 8), font, 0.72, 255, 2, cv2.LINE_AA)
    share = (lettering / np.float32(255.0))[:, :, None]
    face += (np.array(light, np.float32) - face) * share
    for x in (16, width - 17):
        for y in (16, height - 17):
            cv2.circle(face, (x, y), 7, light, -1, cv2.LINE_AA)
            turn = rng.uniform(0, math.pi)
            step = (round(6 * math.cos(turn)), round(6 * math.sin(turn)))
            cv2.line(face, (x - step[0], y - step[1]), (x + step[0], y + step[1]), dark, 2)
    return face
