"""Load over time as a film shows it: each display's steps, their sum, the peak and the break."""

from dataclasses import dataclass
from typing import Any

from breakwright.model.film import Break, DisplayTrace, FilmReading, Shown
from breakwright.model.units import ForceUnit, from_newtons, to_newtons
from breakwright.report.charts.figure import DASHES, Figure, fitting, halo_text, layered, table
from breakwright.report.charts.theme import Theme
from breakwright.report.charts.ticks import decimals_for, nice_ticks
from breakwright.report.film_words import film_lines, peak_words

__all__ = ["film_figure"]

TITLE = "Load over time, as the displays showed it"
NOTE = (
    "Steps: what each display showed; dotted where it could not be read. Band: the sum, each "
    "display held until its next number. Shaded: look at these moments. Dashed upright line: the "
    "load fell."
)
_BEFORE, _AFTER = 1.5, 2.5  # s of the film shown around the pulls
_MOST_DOUBTS = 60


@dataclass(frozen=True, slots=True)
class _Plot:
    """The plot's own ranges: time in s, load in ``unit``, ``top`` with the key above ``high``."""

    start: float
    end: float
    high: float
    top: float
    unit: ForceUnit
    x: Any
    y: Any


def film_figure(reading: FilmReading, theme: Theme, *, unit: ForceUnit) -> Figure:
    """Return the load over time: around the pulls, or of the whole film where none was found."""
    plot = _plot(reading, theme, unit)
    layers = [
        *_doubts(reading, theme, plot),
        *_sum(reading, theme, plot),
        *(
            layer
            for number, trace in enumerate(reading.displays)
            for layer in _display(trace, number, theme, plot)
        ),
        *(layer for found in reading.breaks for layer in _break(found, reading, theme, plot)),
        *_key(reading, theme),
    ]
    alt_text = " ".join(
        ["A chart of load over time.", *film_lines(reading, unit)[: 3 * len(reading.breaks) + 6]]
    )
    spec = layered(layers, theme, height=360, title=TITLE, note=NOTE)
    return Figure("film", TITLE, NOTE, alt_text, spec)


def _plot(reading: FilmReading, theme: Theme, unit: ForceUnit) -> _Plot:
    import altair as alt

    size = theme.size
    start, end = 0.0, max(reading.facts.duration, 0.1)
    if reading.breaks:
        start = max(0.0, min(b.start for b in reading.breaks) - _BEFORE)
        last = max(b.moment[1] for b in reading.breaks)
        end = min(end, last + _AFTER) if end > last else last + 0.5
    loads = [0.0]
    loads += [from_newtons(s.upper, unit) for s in reading.total if s.upper is not None]
    loads += [_in(v, trace, unit) for trace in reading.displays for _, _, v in _values(trace)]
    loads += [from_newtons(b.upper or b.lower, unit) for b in reading.breaks]
    high = max(max(loads) * 1.12, 1e-9)
    low = min(0.0, min(loads) * 1.05)
    rows = len(reading.displays) + 1
    plot_px = (size.height - 170) if size.height else 290.0
    top = high / (1.0 - min(0.5, 1.35 * size.text * rows / plot_px))
    ticks_y = [t for t in nice_ticks(low, high, 5) if t <= high]
    ticks_x = nice_ticks(start, end, max(3, size.width // 110))
    x = alt.X(
        "x:Q",
        scale=alt.Scale(domain=[start, end], nice=False),
        axis=alt.Axis(
            values=ticks_x,
            format=f".{decimals_for(ticks_x)}f",
            title="time in the film, s",
            titleAnchor="end",
            grid=False,
            labelOverlap=False,
        ),
    )
    y = alt.Y(
        "y:Q",
        scale=alt.Scale(domain=[low, top], nice=False),
        axis=alt.Axis(
            values=ticks_y,
            format=f",.{decimals_for(ticks_y)}f",
            title=f"load, {unit.value}",
            titleAnchor="end",
            grid=True,
        ),
    )
    return _Plot(start, end, high, top, unit, x, y)


def _in(value: float, trace: DisplayTrace, unit: ForceUnit) -> float:
    own = ForceUnit(trace.mark.unit) if trace.mark.unit else ForceUnit.N
    return from_newtons(to_newtons(value, own), unit)


def _values(trace: DisplayTrace) -> list[tuple[float, float, float]]:
    return [
        (s.start, s.end, s.value)
        for s in trace.spans
        if s.shown is Shown.VALUE and s.value is not None
    ]


def _clipped(start: float, end: float, plot: _Plot) -> tuple[float, float] | None:
    """Return the part of a stretch of time that lies within the plot."""
    left, right = max(start, plot.start), min(end, plot.end)
    return (left, right) if right > left else None


def _rules(
    rows: list[dict[str, float]], plot: _Plot, *, colour: str, width: float, dash: tuple[int, ...]
) -> Any:
    import altair as alt

    base: Any = alt.Chart(table(rows))
    return base.mark_rule(
        color=colour, strokeWidth=width, strokeDash=list(dash), strokeCap="butt"
    ).encode(x=plot.x, x2="x2:Q", y=plot.y, y2="y2:Q")


def _display(trace: DisplayTrace, number: int, theme: Theme, plot: _Plot) -> list[Any]:
    """Steps where it was read, a dotted line at the last number where it was not."""
    steps: list[dict[str, float]] = []
    holes: list[dict[str, float]] = []
    last: float | None = None
    joined = False
    for span in trace.spans:
        part = _clipped(span.start, span.end, plot)
        if span.shown is Shown.VALUE and span.value is not None:
            value = _in(span.value, trace, plot.unit)
            if part is not None:
                if joined and last is not None:
                    steps.append({"x": part[0], "x2": part[0], "y": last, "y2": value})
                steps.append({"x": part[0], "x2": part[1], "y": value, "y2": value})
            last, joined = value, part is not None
        else:
            joined = False
            if part is not None:
                at = last or 0.0
                holes.append({"x": part[0], "x2": part[1], "y": at, "y2": at})
    colour, width = theme.colour(number), 0.8 * theme.size.line
    return [
        _rules(steps, plot, colour=colour, width=width, dash=DASHES[0]),
        _rules(holes, plot, colour=colour, width=width, dash=(2, 3)),
    ]


def _sum(reading: FilmReading, theme: Theme, plot: _Plot) -> list[Any]:
    """The band from the least to the most that the sum can have been."""
    import altair as alt

    if len(reading.displays) < 2:
        return []
    rows = []
    for span in reading.total:
        part = _clipped(span.start, span.end, plot)
        if span.lower is None or span.upper is None or part is None:
            continue
        ends = (from_newtons(v, plot.unit) for v in (span.lower, span.upper))
        rows.append(dict(zip(("x", "x2", "y", "y2"), (*part, *ends), strict=True)))
    base: Any = alt.Chart(table(rows))
    colour = theme.colours.ink
    lows = [{**row, "y2": row["y"]} for row in rows]
    return [
        base.mark_rect(color=colour, opacity=0.22, strokeWidth=0).encode(
            x=plot.x, x2="x2:Q", y=plot.y, y2="y2:Q"
        ),
        _rules(lows, plot, colour=colour, width=0.6 * theme.size.line, dash=DASHES[0]),
    ]


def _doubts(reading: FilmReading, theme: Theme, plot: _Plot) -> list[Any]:
    import altair as alt

    least = 0.006 * (plot.end - plot.start)
    rows = []
    for doubt in reading.doubts[:_MOST_DOUBTS]:
        if doubt.end - doubt.start > 0.6 * (plot.end - plot.start):
            continue  # said in words; shading the whole plot would show nothing
        middle, half = (doubt.start + doubt.end) / 2.0, (doubt.end - doubt.start) / 2.0
        part = _clipped(middle - max(half, least), middle + max(half, least), plot)
        if part is not None:
            rows.append({"x": part[0], "x2": part[1], "y": 0.0, "y2": plot.high})
    base: Any = alt.Chart(table(rows))
    return [
        base.mark_rect(color=theme.colours.muted, opacity=0.16).encode(
            x=plot.x, x2="x2:Q", y=plot.y, y2="y2:Q"
        )
    ]


def _break(found: Break, reading: FilmReading, theme: Theme, plot: _Plot) -> list[Any]:
    """The moment of the break, the peak's range, and the range in words."""
    import altair as alt

    size, colours = theme.size, theme.colours
    low = from_newtons(found.lower, plot.unit)
    high = None if found.upper is None else from_newtons(found.upper, plot.unit)
    top = plot.high if high is None else high
    at, fell = found.peak_at, sum(found.moment) / 2.0
    accent = theme.colour(1 if len(reading.displays) < 2 else len(reading.displays))
    fall = {"x": fell, "x2": fell, "y": 0.0, "y2": plot.high}
    bar = {"x": at, "x2": at, "y": low, "y2": top}
    ends = [{"x": at, "y": low}, *([] if high is None else [{"x": at, "y": high}])]
    layers = [
        _rules([fall], plot, colour=colours.muted, width=1.5, dash=(6, 4)),
        _rules([bar], plot, colour=accent, width=1.6 * size.line, dash=DASHES[0]),
    ]
    caps: Any = alt.Chart(table(ends))
    layers.append(
        caps.mark_tick(
            orient="horizontal", color=accent, thickness=1.2 * size.line, size=4.0 * size.dot
        ).encode(x=plot.x, y=plot.y)
    )
    if high is None:
        arrow: Any = alt.Chart(table([{"x": at, "y": plot.high}]))
        layers.append(
            arrow.mark_point(
                shape="triangle-up",
                filled=True,
                size=(2.6 * size.dot) ** 2,
                color=accent,
                opacity=1,
            ).encode(x=plot.x, y=plot.y)
        )
    if len(reading.breaks) > 4:
        return layers
    words = peak_words(found, reading, plot.unit).partition(":")[0].partition(", read")[0]
    room = (at - plot.start) / (plot.end - plot.start) * (size.width - 120) - 3.0 * size.dot
    text: Any = alt.Chart(
        table([{"x": at, "y": min(top, plot.high), "text": fitting(words, room, size.text)}])
    )
    return [
        *layers,
        text.mark_text(
            align="right",
            baseline="bottom",
            dx=-2.2 * size.dot,
            dy=-2,
            fontSize=size.text,
            color=colours.ink,
        ).encode(x=plot.x, y=plot.y, text="text:N"),
    ]


def _key(reading: FilmReading, theme: Theme) -> list[Any]:
    import altair as alt

    size = theme.size
    entries = [
        (trace.mark.name, theme.colour(number), 0.8 * size.line)
        for number, trace in enumerate(reading.displays)
    ]
    if len(reading.displays) > 1:
        entries.append(("sum of the displays", theme.colours.ink, 0.6 * size.line))
    row = 1.35 * size.text
    layers: list[Any] = []
    for place, (name, colour, width) in enumerate(entries):
        at = alt.value(row * (place + 0.5))
        base: Any = alt.Chart(table([{"text": fitting(name, 0.6 * size.width, size.text)}]))
        layers.append(
            base.mark_rule(color=colour, strokeWidth=width).encode(
                x=alt.value(4), x2=alt.value(4 + 2.2 * size.text), y=at
            )
        )
        layers += halo_text(
            table([{"text": fitting(name, 0.6 * size.width, size.text)}]),
            theme,
            x=alt.value(4 + 2.7 * size.text),
            y=at,
            size=size.text,
        )
    return layers
