"""All charts of an answer, in the order in which people read them."""

from collections.abc import Callable

from breakwright.report.charts import curves, probability, ratio, readings
from breakwright.report.charts.figure import Figure
from breakwright.report.charts.theme import Theme
from breakwright.usecases.result import Answer

__all__ = ["every_figure", "figure_titles"]

_Draw = Callable[[Answer, Theme], Figure]


def every_figure(answer: Answer, theme: Theme) -> tuple[Figure, ...]:
    """Return the charts that have something to show: without a break, no line to check."""
    return tuple(draw(answer, theme) for _, _, draw in _chosen(answer))


def figure_titles(answer: Answer) -> tuple[tuple[str, str], ...]:
    """Return name and title of every chart that ``every_figure`` would draw, drawing none."""
    return tuple((name, title) for name, title, _ in _chosen(answer))


def _chosen(answer: Answer) -> list[tuple[str, str, _Draw]]:
    chosen: list[tuple[str, str, _Draw]] = [("readings", readings.TITLE, readings.readings_figure)]
    if answer.comparisons:
        chosen.append(("ratio", ratio.TITLE, ratio.ratio_figure))
    chosen.append(("curves", curves.TITLE, curves.curves_figure))
    if any(p.upper is not None and p.void is None for p in answer.pieces):
        chosen.append(("probability", probability.TITLE, probability.probability_figure))
    return chosen
