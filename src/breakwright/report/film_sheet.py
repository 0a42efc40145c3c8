"""The contact sheet: pictures of the displays around the peak and every doubt, with what was read.

It is drawn as SVG with the pictures inside, and made into a PNG by the same library as the charts.
"""

import base64
import textwrap
from collections.abc import Sequence
from html import escape

from breakwright.model.film import FilmReading
from breakwright.model.units import ForceUnit
from breakwright.report.charts.theme import LIGHT
from breakwright.report.film_crops import FilmCrop, ShotRow, ShotSection, caption, sections

__all__ = ["contact_sheet", "contact_sheet_svg"]

_WIDTH = 1180
_MARGIN = 24
_CELL = (210, 92)
_GAP = 14
_FONT = "Liberation Sans, Arial, Helvetica, sans-serif"
_TITLE = 17
_SMALL = 14
_LETTERS = 132  # of the title's size, that fit the width
_LARGEST = 12_000  # px: a sheet that nobody could open helps nobody


def contact_sheet(
    reading: FilmReading, crops: Sequence[FilmCrop], *, unit: ForceUnit, film: str
) -> bytes:
    """Return the sheet as PNG; ``film`` is the film's name, for the head."""
    import vl_convert

    drawn: bytes = vl_convert.svg_to_png(
        contact_sheet_svg(reading, crops, unit=unit, film=film), scale=1.5
    )
    return drawn


def contact_sheet_svg(
    reading: FilmReading, crops: Sequence[FilmCrop], *, unit: ForceUnit, film: str
) -> str:
    """Return the sheet as SVG that needs no other file."""
    parts = [_text(f"What was read off {film}", _MARGIN, 40, size=24, weight="bold")]
    y = 64.0
    found = sections(reading, crops, unit)
    for section in found:
        drawn, after = _section(section, y)
        if after > _LARGEST:
            left = len(found) - found.index(section)
            parts.append(_text(f"{left} more are listed in film.json", _MARGIN, y + 26))
            y += 40.0
            break
        parts += drawn
        y = after
    if not found:
        parts.append(_text("No break and no doubt was found in this film.", _MARGIN, y + 26))
        y += 40.0
    height = y + _MARGIN
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_WIDTH}" height="{height:.0f}" '
        f'viewBox="0 0 {_WIDTH} {height:.0f}" font-family="{_FONT}">'
        f'<rect width="100%" height="100%" fill="{LIGHT.background}"/>{"".join(parts)}</svg>'
    )


def _section(section: ShotSection, top: float) -> tuple[list[str], float]:
    y = top + 14.0
    parts = [
        f'<line x1="{_MARGIN}" x2="{_WIDTH - _MARGIN}" y1="{top:.1f}" y2="{top:.1f}" '
        f'stroke="{LIGHT.grid}"/>'
    ]
    for line in textwrap.wrap(section.title, _LETTERS):
        y += 22.0
        parts.append(_text(line, _MARGIN, y - 6.0, size=_TITLE))
    if not section.rows:
        parts.append(_text("(no picture was kept here)", _MARGIN, y + 18.0, colour=LIGHT.muted))
        y += 26.0
    for row in section.rows:
        drawn, y = _row(row, y + 8.0)
        parts += drawn
    return parts, y + 12.0


def _row(row: ShotRow, top: float) -> tuple[list[str], float]:
    width, height = _CELL
    parts = [_text(row.display, _MARGIN, top + 14.0, weight="bold")]
    y = top + 22.0
    for place, shot in enumerate(row.shots):
        x = _MARGIN + place * (width + _GAP)
        data = base64.b64encode(shot.crop.jpeg).decode("ascii")
        edge = LIGHT.palette[1] if shot.marked else LIGHT.grid
        parts.append(
            f'<image href="data:image/jpeg;base64,{data}" x="{x}" y="{y:.1f}" width="{width}" '
            f'height="{height}"/>'
            f'<rect x="{x}" y="{y:.1f}" width="{width}" height="{height}" fill="none" '
            f'stroke="{edge}" stroke-width="{3 if shot.marked else 1}"/>'
        )
        words = caption(shot) + (" (peak)" if shot.marked else "")
        parts.append(_text(words, x, y + height + 17.0, weight="bold" if shot.marked else "normal"))
    return parts, y + height + 26.0


def _text(
    words: str,
    x: float,
    y: float,
    *,
    size: int = _SMALL,
    weight: str = "normal",
    colour: str = LIGHT.ink,
) -> str:
    # A control character, as a mistyped name may hold, would make the whole picture unreadable.
    safe = escape("".join(c if c.isprintable() else "\ufffd" for c in words))
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size}" font-weight="{weight}" '
        f'fill="{colour}">{safe}</text>'
    )
