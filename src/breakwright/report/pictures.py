"""The charts as files to show: SVG, and PNG of 1920 x 1080 with text large enough for a video."""

from collections.abc import Callable, Mapping

from breakwright.report.charts.drawing import png, svg
from breakwright.report.charts.every import every_figure
from breakwright.report.charts.theme import DARK, LIGHT, PICTURE, Theme
from breakwright.usecases.result import Answer

__all__ = ["pictures"]

SCALE = 2.0


def _silent(doing: str, share: float) -> None:
    """Progress that nobody asked for."""


def pictures(
    answer: Answer, *, progress: Callable[[str, float], None] = _silent
) -> Mapping[str, bytes]:
    """Return file name -> bytes: every chart, on a light and on a dark ground, as SVG and PNG.

    The same answer gives the same bytes with the same versions of the drawing libraries.
    ``progress`` is told what is being drawn and the share done (0..1).
    """
    figures = [
        (f"{figure.name}-{colours.name}", figure)
        for colours in (LIGHT, DARK)
        for figure in every_figure(answer, Theme(colours, PICTURE))
    ]
    made: dict[str, bytes] = {}
    for done, (name, figure) in enumerate(figures):
        progress(f"drawing {name}", done / len(figures))
        made[f"{name}.svg"] = svg(figure).encode()
        made[f"{name}.png"] = png(figure, scale=SCALE)
    progress("pictures drawn", 1.0)
    return made
