"""All charts of an answer, in the order in which people read them."""

from breakwright.report.charts.curves import curves_figure
from breakwright.report.charts.figure import Figure
from breakwright.report.charts.probability import probability_figure
from breakwright.report.charts.ratio import ratio_figure
from breakwright.report.charts.readings import readings_figure
from breakwright.report.charts.theme import Theme
from breakwright.usecases.result import Answer

__all__ = ["every_figure"]


def every_figure(answer: Answer, theme: Theme) -> tuple[Figure, ...]:
    """Return the charts that have something to show: without a break, no line to check."""
    figures = [readings_figure(answer, theme)]
    if answer.comparisons:
        figures.append(ratio_figure(answer, theme))
    figures.append(curves_figure(answer, theme))
    if any(p.upper is not None and p.void is None for p in answer.pieces):
        figures.append(probability_figure(answer, theme))
    return tuple(figures)
