"""A frame of the film with the corners of the displays drawn into it, to see what was meant."""

import base64
from collections.abc import Sequence
from html import escape

import numpy as np
from numpy.typing import NDArray

from breakwright.report.charts.theme import DARK

__all__ = ["marked_frame"]

_WIDTH = 1280.0
_FONT = "Liberation Sans, Arial, Helvetica, sans-serif"

Corners = Sequence[tuple[float, float]]


def marked_frame(
    frame: NDArray[np.uint8], displays: Sequence[tuple[str, Corners]], *, title: str
) -> bytes:
    """Return a PNG of ``frame`` (h, w, 3 as Y, U, V) with each display's corners, numbered in
    the order in which they were given, and its name; ``title`` stands above.

    Corners outside the frame are drawn too: the picture then has a rim as wide as needed, though
    no wider than the frame itself.
    """
    import vl_convert

    high, wide = frame.shape[:2]
    xs = [x for _, corners in displays for x, _ in corners]
    ys = [y for _, corners in displays for _, y in corners]
    left = min(0.0, max(-float(wide), min(xs, default=0.0) - 20.0))
    top = min(0.0, max(-float(high), min(ys, default=0.0) - 20.0))
    right = max(float(wide), min(2.0 * wide, max(xs, default=0.0) + 20.0))
    bottom = max(float(high), min(2.0 * high, max(ys, default=0.0) + 20.0))
    unit = (right - left) / _WIDTH  # px of the frame for one of the picture
    head = 44.0 * unit
    parts = [
        f'<rect x="{left}" y="{top - head}" width="{right - left}" '
        f'height="{bottom - top + head}" fill="{DARK.background}"/>',
        f'<image href="data:image/jpeg;base64,{_jpeg(frame)}" x="0" y="0" width="{wide}" '
        f'height="{high}"/>',
        _words(title, left + 12.0 * unit, top - 15.0 * unit, size=20.0 * unit, colour=DARK.ink),
    ]
    for number, (name, corners) in enumerate(displays):
        parts.append(_display(name, corners, DARK.palette[number % len(DARK.palette)], unit))
    drawn: bytes = vl_convert.svg_to_png(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_WIDTH:.0f}" '
        f'height="{(bottom - top + head) / unit:.0f}" font-family="{_FONT}" '
        f'viewBox="{left} {top - head} {right - left} {bottom - top + head}">{"".join(parts)}</svg>'
    )
    return drawn


def _display(name: str, corners: Corners, colour: str, unit: float) -> str:
    points = " ".join(f"{x:.1f},{y:.1f}" for x, y in corners)
    parts = [
        f'<polygon points="{points}" fill="none" stroke="{colour}" stroke-width="{2.5 * unit}"/>'
    ]
    for number, (x, y) in enumerate(corners, start=1):
        parts.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{4.0 * unit}" fill="{colour}"/>')
        parts.append(
            _words(str(number), x + 7.0 * unit, y - 7.0 * unit, size=17.0 * unit, colour=colour)
        )
    x = min(x for x, _ in corners)
    y = max(y for _, y in corners) + 24.0 * unit
    return "".join([*parts, _words(name, x, y, size=20.0 * unit, colour=colour)])


def _words(words: str, x: float, y: float, *, size: float, colour: str) -> str:
    safe = escape("".join(c if c.isprintable() else "\ufffd" for c in words))
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:.1f}" font-weight="bold" fill="{colour}" '
        f'stroke="{DARK.background}" stroke-width="{size / 6.0:.1f}" paint-order="stroke">'
        f"{safe}</text>"
    )


def _jpeg(frame: NDArray[np.uint8]) -> str:
    import cv2

    # The planes are stored as Y, U (blue), V (red); the library's own order has red first.
    colour = cv2.cvtColor(np.ascontiguousarray(frame[:, :, [0, 2, 1]]), cv2.COLOR_YCrCb2BGR)
    done, data = cv2.imencode(".jpg", colour, [cv2.IMWRITE_JPEG_QUALITY, 88])
    assert done
    return base64.b64encode(data.tobytes()).decode("ascii")
