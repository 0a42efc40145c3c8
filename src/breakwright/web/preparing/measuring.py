"""Weighing and measuring: a table of pieces and columns; only cells that were changed are kept."""

import re

from fastapi import APIRouter, Request, Response

from breakwright.model.errors import ImpossibleValue, Problem
from breakwright.model.event import PieceMeasured
from breakwright.usecases.bench.fold import fold
from breakwright.usecases.bench.state import StudyState
from breakwright.web.preparing.forms import Form, FormHere, read_number
from breakwright.web.preparing.saving import keep
from breakwright.web.preparing.view import View, ViewHere, back, show
from breakwright.web.services import ServicesHere

__all__ = ["router"]

router = APIRouter()

_USUAL = ("mass_g", "thickness_mm", "density_kg_m3", "moisture_pct")
_UNITS = {
    "g": "g",
    "kg": "kg",
    "mm": "mm",
    "cm": "cm",
    "mm2": "mm²",
    "kg_m3": "kg/m³",
    "pct": "%",
    "h": "h",
    "deg": "°",
}
_NAME = re.compile(r"[a-z][a-z0-9]*(_[a-z0-9]+)*")
# Columns that a sheet has of its own; a measured one may not take their place.
_TAKEN = frozenset(
    (
        *("specimen", "group", "load", "ended", "failure", "void", "note", "order", "block"),
        *("date", "day", "planned_day", "operator", "pair", "scale", "rate", "unit", "together"),
    )
)


@router.get("/s/{handle}/prepare/measure")
def page(request: Request, view: ViewHere, column: str = "", of: str = "") -> Response:
    form = Form.of({"column": column, "of": of})
    extra: tuple[str, ...] = ()
    if column:
        name = _column(form)
        extra = (name,) if name and form.is_fine else ()
    return _page(request, view, form, extra=extra)


@router.post("/s/{handle}/prepare/measure")
def save(request: Request, view: ViewHere, services: ServicesHere, form: FormHere) -> Response:
    seen = _seen(view.state, form.text("last"))
    bodies = []
    for piece in view.state.pieces:
        before = seen.piece(piece.id)
        values = {}
        for name, typed in form.typed.items():
            cell, _, column = name.partition(":")
            if cell != piece.id or not _NAME.fullmatch(column):
                continue
            text = _cell(form, name, typed)
            if text != (before.measured.get(column, "") if before else ""):
                values[column] = text
        if values:
            bodies.append(PieceMeasured(piece.id, values))
    problems: tuple[Problem, ...] = ()
    if form.is_fine:
        problems = keep(services, view.state, bodies)
    if problems or not form.is_fine:
        columns = [name.partition(":")[2] for name in form.typed if ":" in name]
        return _page(request, view, form, extra=tuple(columns), problems=problems)
    return back(view, "/measure#saved" if bodies else "/measure")


def _seen(state: StudyState, last: str) -> StudyState:
    """The study as the person saw it: what others measured since must not look like a change."""
    if not last.isdecimal() or int(last) >= state.last:
        return state
    try:
        return fold([r for r in state.events if r.seq <= int(last)])
    except ImpossibleValue:
        return state


def _cell(form: Form, name: str, typed: str) -> str:
    text = typed.strip()
    column = name.partition(":")[2]
    if not text or not _has_unit(column):
        return text[:200]
    value = read_number(text)
    if isinstance(value, str):
        form.refuse(name, value)
        return text
    return text.replace("−", "-").replace(",", ".")


def _has_unit(column: str) -> bool:
    return any(column.endswith(f"_{unit}") for unit in _UNITS)


def _column(form: Form) -> str:
    """Return the name of a new column, with its unit at the end."""
    typed = "_".join(re.findall(r"[a-z0-9]+", form.text("column", most=40).lower()))
    unit = form.choice("of", tuple(_UNITS))
    name = f"{typed}_{unit}" if unit else typed
    if not _NAME.fullmatch(name) or name in _TAKEN or typed in _TAKEN:
        form.refuse("column", "Choose a name of letters that is not one of the sheet's own.")
    return name


def _columns(state: StudyState, extra: tuple[str, ...]) -> list[str]:
    found = [column for piece in state.pieces for column in piece.measured]
    return list(dict.fromkeys([*_USUAL, *found, *extra]))


def column_words(name: str) -> str:
    """Return a column's name as people say it.

    >>> column_words("density_kg_m3"), column_words("grade")
    ('Density, kg/m³', 'Grade')
    """
    fits = [unit for unit in _UNITS if name.endswith(f"_{unit}")]
    unit = max(fits, key=len, default="")
    stem = name.removesuffix(f"_{unit}") if unit else name
    words = stem.replace("_", " ")
    return f"{words[:1].upper()}{words[1:]}" + (f", {_UNITS[unit]}" if unit else "")


def _page(
    request: Request,
    view: View,
    form: Form,
    *,
    extra: tuple[str, ...] = (),
    problems: tuple[Problem, ...] = (),
) -> Response:
    columns = _columns(view.state, extra)
    return show(
        request,
        view,
        "prepare_measure.html.j2",
        title="Weigh and measure",
        step="measure",
        form=form,
        status=422 if problems else 200,
        problems=problems,
        columns=[(name, column_words(name), _has_unit(name)) for name in columns],
        units=_UNITS,
        last=form.typed.get("last", str(view.state.last)),
    )
