"""The report: one HTML file that needs no network and no script."""

from collections.abc import Mapping
from typing import Any

from breakwright.model.notice import Weight
from breakwright.model.study import RECORD_KEYS
from breakwright.report.cautions import NOT_A_RATING, OBEY_THE_RULES
from breakwright.report.charts.drawing import svg
from breakwright.report.charts.every import every_figure
from breakwright.report.charts.theme import LIGHT, PAGE, PHONE, Theme
from breakwright.report.comparison_tables import (
    adjusted_table,
    alternative_table,
    family_table,
    ratio_table,
    session_table,
)
from breakwright.report.foretold_words import foretold_lines, foretold_table
from breakwright.report.group_tables import count_table, strength_table
from breakwright.report.method_words import method_words, references, reproduce_words
from breakwright.report.notice_words import notice_words
from breakwright.report.numbers import p_text
from breakwright.report.page_parts import dark_colours, page_environment
from breakwright.report.piece_tables import left_out_table, piece_table
from breakwright.report.table_view import TableView
from breakwright.report.terms import answer_terms, curve_terms, group_terms, ratio_terms
from breakwright.report.verdict_words import quoted, verdict_words
from breakwright.usecases.result import Answer

__all__ = ["answer_page"]


def answer_page(answer: Answer) -> str:
    """Return the whole report as one HTML document; the same answer gives the same text."""
    return page_environment().get_template("page.html.j2").render(_context(answer))


def _context(answer: Answer) -> Mapping[str, Any]:
    return {
        "answer": answer,
        "title": answer.title or answer.question or "How strong are they?",
        "verdicts": [
            (f"{quoted(c.group)} against {quoted(c.reference)}", verdict_words(answer, c))
            for c in answer.comparisons
        ],
        "warnings": _notices(answer, Weight.WARNING),
        "remarks": _notices(answer, Weight.REMARK),
        "charts": _charts(answer),
        "colours": dark_colours(),
        "counts": count_table(answer),
        "strength": strength_table(answer),
        "foretold": foretold_table(answer),
        "foretold_lines": foretold_lines(answer),
        "ratios": ratio_table(answer) if answer.comparisons else None,
        "all_alike": _all_alike(answer),
        "closer": [_closer(answer, i) for i in range(len(answer.comparisons))],
        "left_out": left_out_table(answer),
        "pieces": piece_table(answer),
        "answer_terms": answer_terms(answer),
        "group_terms": group_terms(answer),
        "ratio_terms": ratio_terms(answer),
        "curve_terms": curve_terms(),
        "method": method_words(answer),
        "references": references(answer),
        "reproduce": reproduce_words(answer),
        "lacking": [RECORD_KEYS.get(key, key) for key in answer.lacking],
        "record": [(_label(key), value) for key, value in answer.record.items()],
        "not_a_rating": NOT_A_RATING,
        "obey": OBEY_THE_RULES,
    }


def _label(key: str) -> str:
    return key.replace("_", " ").capitalize()


def _notices(answer: Answer, weight: Weight) -> list[tuple[str, str]]:
    return [
        (notice.code, notice_words(notice, answer.unit))
        for notice in answer.notices
        if notice.weight is weight
    ]


def _charts(answer: Answer) -> Mapping[str, Mapping[str, Any]]:
    """Return each chart in two widths; the page shows the one that suits the screen."""
    from markupsafe import Markup

    charts: dict[str, Mapping[str, Any]] = {}
    wide = every_figure(answer, Theme(LIGHT, PAGE))
    narrow = every_figure(answer, Theme(LIGHT, PHONE))
    for large, small in zip(wide, narrow, strict=True):
        charts[large.name] = {
            "title": large.title,
            "note": large.note,
            # The drawing library escapes all text that it writes into an SVG.
            "wide": Markup(svg(large)),
            "narrow": Markup(svg(small)),
        }
    return charts


def _closer(answer: Answer, index: int) -> Mapping[str, Any]:
    comparison = answer.comparisons[index]
    tables: list[TableView] = []
    if comparison.alternatives:
        tables.append(alternative_table(answer, comparison))
    tables.append(family_table(answer, comparison))
    if comparison.adjusted:
        tables.append(adjusted_table(answer, comparison))
    sessions = session_table(answer, comparison)
    if sessions is not None:
        tables.append(sessions)
    title = f"{quoted(comparison.group)} against {quoted(comparison.reference)}, looked at closer"
    return {"title": title, "tables": tables}


def _all_alike(answer: Answer) -> str:
    p_value = answer.log_rank.p_value
    if p_value is None:
        return ""
    return (
        "Do all groups hold alike? Were it so, their curves would differ at least this much with "
        f"probability {p_text(p_value)} (log-rank test, which assumes no shape of scatter)."
    )
