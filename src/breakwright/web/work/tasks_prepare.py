"""What the Prepare pages have reckoned: numbers while sizes change, the plan, the order, papers."""

import dataclasses
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from breakwright.bootstrap.prepare import (
    bench_sheet_of,
    draw_order_of,
    look_at,
    parts_checked,
    plan_text,
)
from breakwright.model.errors import InputRefused
from breakwright.model.units import NEWTONS_PER, ForceUnit
from breakwright.web.work.tools import Tell, Tools

if TYPE_CHECKING:
    from breakwright.files.source import Source
    from breakwright.report.before_page import Drawn
    from breakwright.report.passage import Passage
    from breakwright.usecases.rig_result import RigResult

__all__ = ["before", "bench_sheet", "look", "order", "part_check"]


def part_check(given: Mapping[str, Any], tell: Tell, tools: Tools) -> dict[str, Any]:  # noqa: ARG001
    """Say what is wrong with the parts of ``toml``, and nothing more."""
    try:
        parts_checked(plan_text(given["toml"]))
    except InputRefused as refused:
        return _refused(refused)
    return {"problems": []}


def look(given: Mapping[str, Any], tell: Tell, tools: Tools) -> dict[str, Any]:  # noqa: ARG001
    """Look at ``toml``: what breaks at what load, the margin of each part, how far the scales
    reach. ``unit`` is the one to write loads in, ``offers`` scales that could be bought, in the
    study's unit."""
    from breakwright.report.predict_words import predict_passages
    from breakwright.report.rig_words import rig_passages
    from breakwright.report.scales_words import scales_passages

    try:
        source = parts_checked(plan_text(given["toml"]))
    except InputRefused as refused:
        return _refused(refused)
    offers = _offers(source, given.get("offers", ()))
    predicted, rig, scales = look_at(_shown_in(source, given.get("unit")), offers=offers)
    return {
        "problems": [],
        "predict": _passages(predict_passages(predicted)),
        "rig": _passages(rig_passages(rig)),
        "scales": _passages(scales_passages(scales)),
        "path": _path(source, rig),
        "pieces": [
            {"group": p.group, "median": p.median, "p5": p.p5, "p95": p.p95, "p99": p.p99}
            for p in rig.pieces
        ],
    }


def _path(source: "Source", rig: "RigResult") -> list[dict[str, Any]]:
    """The load path in the order of the study, each part by the way it gives first."""
    by_part = {m.part: m for m in rig.margins if m.governs}
    rows: list[dict[str, Any]] = []
    for part in source.study.parts:
        margin = None if part.tested else by_part.get(part.name)
        way = (rig.intended or rig.taken) if part.tested else margin and margin.mechanism
        rows.append(
            {
                "part": part.name,
                "kind": part.kind,
                "tested": part.tested,
                "mechanism": way,
                "median": None if margin is None else margin.median,
                "margin": None if margin is None else margin.margin,
                "level": None if margin is None else margin.level.value,
            }
        )
    return rows


def before(given: Mapping[str, Any], tell: Tell, tools: Tools) -> dict[str, Any]:  # noqa: ARG001
    """Make the whole plan: passages of the scales and the number of pieces, with their charts."""
    from breakwright.bootstrap.sheets import before as look_ahead
    from breakwright.report.before_sheets import before_sheet

    try:
        source = _shown_in(parts_checked(plan_text(given["toml"])), given.get("unit"))
        offers = _offers(source, given.get("offers", ()))
        result = look_ahead(
            source, seed=None, offers=offers, progress=lambda doing, at: tell(doing, 0.9 * at)
        )
    except InputRefused as refused:
        return _refused(refused)
    sheet = before_sheet(result, version="")
    shown = [p for p in sheet.passages if p.key in ("short", "scales", "fitting", "pieces")]
    tell("drawing the charts", 0.9)
    return {
        "problems": [],
        "passages": _passages(shown),
        "charts": {one.passage: _chart(one) for one in sheet.charts if one.passage != "race"},
        "used": result.plan.used,
        "recommended": result.plan.recommended,
    }


def order(given: Mapping[str, Any], tell: Tell, tools: Tools) -> dict[str, Any]:  # noqa: ARG001
    """Draw ``pieces`` of each group in an order by lot."""
    try:
        source = plan_text(given["toml"])
        rows = draw_order_of(source, int(given["pieces"]))
    except InputRefused as refused:
        return _refused(refused)
    return {"problems": [], "rows": [dataclasses.asdict(row) for row in rows]}


def bench_sheet(given: Mapping[str, Any], tell: Tell, tools: Tools) -> dict[str, Any]:  # noqa: ARG001
    """Write the bench sheet of ``rows``, pieces as the study has them."""
    from breakwright.usecases.plan_result import OrderRow

    try:
        source = parts_checked(plan_text(given["toml"]))
    except InputRefused as refused:
        return _refused(refused)
    return {
        "problems": [],
        "html": bench_sheet_of(source, [OrderRow(**row) for row in given["rows"]]),
    }


def _refused(refused: InputRefused) -> dict[str, Any]:
    return {"problems": [dataclasses.asdict(problem) for problem in refused.problems]}


def _offers(source: "Source", offers: Sequence[float]) -> tuple[float, ...]:
    return tuple(offer * NEWTONS_PER[source.study.unit] for offer in offers)


def _shown_in(source: "Source", unit: str | None) -> "Source":
    """Return the study with loads written in ``unit``; inside they are in N in any case."""
    if unit is None:
        return source
    return dataclasses.replace(
        source, study=dataclasses.replace(source.study, unit=ForceUnit(unit))
    )


def _passages(passages: "Sequence[Passage]") -> list[dict[str, Any]]:
    return [dataclasses.asdict(passage) for passage in passages]


def _chart(one: "Drawn") -> dict[str, str]:
    from breakwright.report.charts.drawing import svg

    return {
        "title": one.wide.title,
        "note": one.wide.note,
        "wide": svg(one.wide),
        "narrow": svg(one.narrow),
    }
