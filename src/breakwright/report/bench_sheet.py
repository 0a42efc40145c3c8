"""The bench sheet: one page to print, a line for each piece in order, boxes to tick."""

from collections.abc import Mapping, Sequence
from typing import Any

from breakwright.report.cautions import NOT_A_RATING, NOTHING_REPLACES_THE_RULES
from breakwright.report.numbers import count_text
from breakwright.report.page_parts import page_environment
from breakwright.report.plan_words import order_table
from breakwright.rig.cautions import Caution
from breakwright.usecases.plan_result import OrderRow, PlanResult

__all__ = ["BOXES", "bench_sheet", "bench_sheet_for"]

BOXES = ("Over range", "Went dark", "Broke elsewhere")


def bench_sheet(
    plan: PlanResult,
    *,
    scales: Sequence[str],
    cautions: Sequence[Caution],
    dangers: Sequence[str],
    invented: bool,
    made: str,
) -> str:
    """Return the sheet of a plan as one HTML document. ``scales`` get a column of readings each.

    ``dangers`` are what must be cured before the rig is loaded; they stand above everything.
    """
    return bench_sheet_for(
        plan.order,
        title=plan.title,
        facts=f"{plan.used} of each group, in an order drawn by lot (seed {plan.method.seed}). "
        f"Readings in {plan.unit.value}.",
        scales=scales,
        cautions=cautions,
        dangers=dangers,
        invented=invented,
        made=made,
    )


def bench_sheet_for(
    order: Sequence[OrderRow],
    *,
    title: str,
    facts: str,
    scales: Sequence[str],
    cautions: Sequence[Caution],
    dangers: Sequence[str],
    invented: bool,
    made: str,
) -> str:
    """Return the sheet of these pieces; ``facts`` says more about them than how many they are."""
    shown = tuple(scales) or ("Load",)
    view = order_table(order)
    context: Mapping[str, Any] = {
        "title": title or "pieces to break",
        "invented": invented,
        "facts": f"{count_text(len(order), 'piece', 'pieces')}, {facts}",
        "dangers": tuple(dangers),
        "cautions": _by_moment(cautions),
        "columns": [
            *((name, "") for name in view.head),
            *((name, "reading") for name in shown),
            *((name, "tick") for name in BOXES),
            ("How it broke, notes", "note"),
        ],
        "rows": [
            {"cells": cells, "starts_day": i > 0 and order[i - 1].day != order[i].day}
            for i, cells in enumerate(view.rows)
        ],
        "scales": shown,
        "boxes": BOXES,
        "reading_words": "Write what the display shows at the same moment on every scale."
        if len(shown) > 1
        else "Write the highest number that the display shows.",
        "not_a_rating": NOT_A_RATING,
        "obey": NOTHING_REPLACES_THE_RULES,
        "made": made,
    }
    return page_environment().get_template("bench.html.j2").render(context)


def _by_moment(cautions: Sequence[Caution]) -> list[tuple[str, list[str]]]:
    moments: dict[str, list[str]] = {}
    for caution in cautions:
        moments.setdefault(str(caution.moment).capitalize(), []).append(caution.text)
    return list(moments.items())
