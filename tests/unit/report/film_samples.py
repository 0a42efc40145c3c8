"""A film as it could have been read: two scales, the right one dark before the break; invented."""

from dataclasses import replace

from breakwright.model.film import (
    Break,
    DisplayMark,
    DisplayTrace,
    FilmDoubt,
    FilmFacts,
    FilmReading,
    PeakWindow,
    Quad,
    Shown,
    Span,
    SumSpan,
)
from breakwright.model.trial import Ending
from breakwright.model.units import ForceUnit, to_newtons

FACTS = FilmFacts(1920, 1080, 0, 750, 25.0, "h264", sound=True)
REFRESH = 0.25


def kgf(value: float) -> float:
    return to_newtons(value, ForceUnit.KGF)


def mark(name: str) -> DisplayMark:
    quad = Quad((400.0, 300.0), (640.0, 302.0), (639.0, 380.0), (401.0, 377.0))
    return DisplayMark(name, quad, 0.5, "kgf", 2, 0.05, 50.0, REFRESH, 4)


def span(start: float, end: float, shown: Shown, value: float | None = None) -> Span:
    text = "" if value is None else f"{value:.2f}"
    return Span(start, end, shown, value, text, 0.999, 7, start - 0.03)


def rising(top: float, *, until: float) -> list[Span]:
    """A span each refresh from 3 s on, to ``top`` at the last one before ``until``."""
    spans = [span(0.0, 3.0, Shown.VALUE, 0.0)]
    count = round((until - 3.0) / REFRESH)
    for i in range(count):
        start = 3.0 + REFRESH * i
        value = round(top * (i + 1) / count / 0.05) * 0.05
        spans.append(span(start, start + REFRESH, Shown.VALUE, round(value, 2)))
    return spans


def screen_lost() -> FilmReading:
    """The sum was last 41.80 kgf at 20 s; then «right scale» is dark; the break comes at 21.3 s."""
    left = rising(20.70, until=20.0)
    left += [span(20.0, 21.3, Shown.VALUE, 21.4), span(21.3, 25.0, Shown.VALUE, 0.0)]
    right = [*rising(21.10, until=20.0), span(20.0, 25.0, Shown.BLANK)]
    traces = tuple(
        DisplayTrace(mark(name), tuple(spans), REFRESH, 2, 0.05, 0.0, 0.0)
        for name, spans in (("left scale", left), ("right scale", right))
    )
    total = tuple(
        SumSpan(
            a.start,
            a.end,
            None if b.value is None else kgf((a.value or 0.0) + b.value - 0.05),
            None if b.value is None else kgf((a.value or 0.0) + b.value + 0.05 + 0.23),
        )
        for a, b in zip(left, [*right, right[-1]], strict=True)
    )
    last = len(left) - 3
    return FilmReading(
        FACTS,
        traces,
        total,
        (
            Break(
                1,
                3.0,
                21.3,
                (21.0, 21.3),
                19.9,
                kgf(41.75),
                None,
                (
                    PeakWindow("left scale", 20.70, 20.93, Shown.VALUE, last),
                    PeakWindow("right scale", 21.10, None, Shown.BLANK, last + 1),
                ),
                Ending.SCREEN_LOST,
                kgf(0.91),
                (9.0,),
            ),
        ),
        (
            FilmDoubt("screen-lost", 20.0, 21.3, "right scale", 21.10, "blank"),
            FilmDoubt("ghost-at-peak", 19.75, 19.8, "left scale", 28.70, "28.70"),
        ),
    )


def broke() -> FilmReading:
    """As ``screen_lost``, but both scales stayed lit: between 41.75 and 42.05 kgf."""
    reading = screen_lost()
    left, right = reading.displays
    lit = replace(
        right,
        spans=(*right.spans[:-1], replace(right.spans[-1], shown=Shown.VALUE, value=0.0)),
    )
    found = reading.breaks[0]
    return replace(
        reading,
        displays=(left, lit),
        breaks=(
            replace(
                found,
                upper=kgf(42.05),
                ending=Ending.BROKE,
                windows=tuple(
                    replace(w, upper=w.lower + 0.1, shown=Shown.VALUE) for w in found.windows
                ),
            ),
        ),
        doubts=(),
    )
