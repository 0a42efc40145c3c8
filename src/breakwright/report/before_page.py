"""What is known before the first cut, as one HTML file that needs no network and no script."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from breakwright.model.notice import Notice, Weight
from breakwright.model.units import ForceUnit
from breakwright.report.cautions import NOT_A_RATING, NOTHING_REPLACES_THE_RULES
from breakwright.report.charts.drawing import svg
from breakwright.report.charts.figure import Figure
from breakwright.report.charts.theme import LIGHT, PAGE, PHONE, Theme
from breakwright.report.notice_words import notice_words
from breakwright.report.page_parts import dark_colours, page_environment
from breakwright.report.passage import Passage

__all__ = ["Drawn", "Sheet", "before_page", "drawn"]


@dataclass(frozen=True, slots=True)
class Drawn:
    """One chart in two widths, and the passage that it opens."""

    passage: str
    wide: Figure
    narrow: Figure


@dataclass(frozen=True, slots=True)
class Sheet:
    """What goes on a page: who it is about, and how the same can be had again."""

    kind: str
    title: str
    invented: bool
    unit: ForceUnit
    passages: tuple[Passage, ...]
    charts: tuple[Drawn, ...]
    notices: tuple[Notice, ...]
    made: str


def drawn(passage: str, draw: Any) -> Drawn:
    """Return the chart that ``draw(theme)`` makes, for a desk and for a phone."""
    return Drawn(passage, draw(Theme(LIGHT, PAGE)), draw(Theme(LIGHT, PHONE)))


def before_page(sheet: Sheet) -> str:
    """Return the whole page as one HTML document; the same sheet gives the same text."""
    return page_environment().get_template("before.html.j2").render(_context(sheet))


def _context(sheet: Sheet) -> Mapping[str, Any]:
    return {
        "sheet": sheet,
        "charts": _charts(sheet.charts),
        "colours": dark_colours(),
        "warnings": _notices(sheet.notices, sheet.unit, Weight.WARNING),
        "remarks": _notices(sheet.notices, sheet.unit, Weight.REMARK),
        "not_a_rating": NOT_A_RATING,
        "obey": NOTHING_REPLACES_THE_RULES,
    }


def _charts(charts: Sequence[Drawn]) -> Mapping[str, Mapping[str, Any]]:
    from markupsafe import Markup

    return {
        one.passage: {
            "title": one.wide.title,
            "note": one.wide.note,
            # The drawing library escapes all text that it writes into an SVG.
            "wide": Markup(svg(one.wide)),
            "narrow": Markup(svg(one.narrow)),
        }
        for one in charts
    }


def _notices(notices: Sequence[Notice], unit: ForceUnit, weight: Weight) -> list[tuple[str, str]]:
    return [(n.code, notice_words(n, unit)) for n in notices if n.weight is weight]
