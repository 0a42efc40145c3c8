"""A chart as data, and the few pieces that every chart is put together from."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from breakwright.report.charts.theme import Theme

__all__ = ["DASHES", "SHAPES", "Figure", "fitting", "halo_text", "layered", "table"]

# Shape and dash tell groups apart where colour does not (print, colour-blind eyes).
SHAPES = ("circle", "square", "diamond", "triangle-up", "cross", "triangle-down")
DASHES: tuple[tuple[int, ...], ...] = ((1, 0), (9, 4), (2, 3), (10, 3, 2, 3), (5, 2), (1, 2))


@dataclass(frozen=True, slots=True)
class Figure:
    """``spec`` is a Vega-Lite specification; ``alt`` says the same facts to who cannot see it.

    ``note`` explains the marks in one or two sentences.
    """

    name: str
    title: str
    note: str
    alt: str
    spec: Mapping[str, Any]


def table(rows: Sequence[Mapping[str, Any]]) -> Any:
    """Return rows as inline chart data. An empty table keeps its layer, with nothing to draw."""
    import altair as alt

    return alt.InlineData(values=list(rows))


def fitting(text: str, width: float, size: float) -> str:
    """Return ``text`` cut so that it fits ``width`` px at ``size`` px, the cut shown by dots.

    A letter of the sans-serif in use is about 0.54 of its size wide (measured on English text).
    """
    most = max(4, int(width / (0.54 * size)))
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"


def halo_text(
    data: Any, theme: Theme, *, x: Any, y: Any, size: float, weight: str = "normal"
) -> list[Any]:
    """Return text marks (field ``text``) with a rim in the background's colour behind them."""
    import altair as alt

    base: Any = alt.Chart(data).encode(text="text:N", x=x, y=y)
    colours = theme.colours
    style = {"align": "left", "baseline": "middle", "fontSize": size, "fontWeight": weight}
    rim = {"fill": colours.background, "stroke": colours.background, "strokeWidth": size / 3.5}
    return [
        base.mark_text(**style, **rim, strokeJoin="round"),
        base.mark_text(**style, fill=colours.ink),
    ]


def layered(
    layers: Sequence[Any], theme: Theme, *, height: float, title: str, note: str
) -> dict[str, Any]:
    """Return the specification of ``layers`` drawn over each other, sized to the theme."""
    import altair as alt

    colours, size = theme.colours, theme.size
    chart = alt.LayerChart(layer=list(layers)).properties(
        width=size.width,
        height=size.height or height,
        autosize=alt.AutoSizeParams(type="fit", contains="padding"),
        padding={"left": 8, "right": 14, "top": 8, "bottom": 8}
        if size.height is None
        else {"left": 36, "right": 40, "top": 26, "bottom": 22},
    )
    if size.title:
        chart = chart.properties(
            title=alt.TitleParams(
                text=fitting(title, size.width - 76, size.title),
                subtitle=_wrapped(note, size.width - 76, size.small),
                anchor="start",
                frame="group",
                fontSize=size.title,
                fontWeight="bold",
                subtitleFontSize=size.small,
                subtitlePadding=6,
                offset=16,
                color=colours.ink,
                subtitleColor=colours.muted,
            )
        )
    chart = chart.configure(
        background=colours.background,
        font="Liberation Sans, Arial, Helvetica, sans-serif",
        axis=alt.AxisConfig(
            labelFontSize=size.small,
            titleFontSize=size.small,
            titleFontWeight="normal",
            labelColor=colours.ink,
            titleColor=colours.ink,
            gridColor=colours.grid,
            domainColor=colours.muted,
            tickColor=colours.muted,
            titlePadding=8,
            labelPadding=5,
            labelFlush=False,
        ),
        view=alt.ViewConfig(stroke=None),
    )
    spec: dict[str, Any] = chart.to_dict(validate=False)
    return spec


def _wrapped(text: str, width: float, size: float) -> list[str]:
    import textwrap

    return textwrap.wrap(text, max(10, int(width / (0.5 * size))))
