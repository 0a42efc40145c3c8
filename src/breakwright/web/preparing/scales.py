"""Scales: how far they reach, how finely they read, and how they were checked."""

from typing import Any

from fastapi import APIRouter, HTTPException, Request, Response

from breakwright.bootstrap.editing import retold, study_table
from breakwright.model.units import ForceUnit
from breakwright.web.preparing.forms import Form, FormHere, number_text
from breakwright.web.preparing.saving import save_text
from breakwright.web.preparing.view import View, ViewHere, back, show
from breakwright.web.services import ServicesHere

__all__ = ["SHARING", "router"]

router = APIRouter()

_TOUCHES = ("instrument", "layout", "sharing", "unit")
_BLANK_ROWS = 3
SHARING = {
    "same-moment": "all displays are read at the same moment",
    "separate-peaks": "each display holds its own highest number",
}


@router.get("/s/{handle}/prepare/scales")
def page(request: Request, view: ViewHere) -> Response:
    form = Form.of({"sharing": view.table.get("sharing"), "base": view.base})
    return _list(request, view, form)


@router.post("/s/{handle}/prepare/scales")
def save_sharing(
    request: Request, view: ViewHere, services: ServicesHere, form: FormHere
) -> Response:
    sharing = form.choice("sharing", tuple(SHARING))
    problems: tuple[object, ...] = ()
    if form.is_fine:
        problems = save_text(
            services,
            view.state,
            base=form.text("base"),
            edit=lambda text: _with_sharing(text, sharing),
            touches=("sharing", "instrument"),
        )
    if problems or not form.is_fine:
        return _list(request, view, form, problems=problems)
    return back(view, "/scales")


@router.get("/s/{handle}/prepare/scales/new")
def new(request: Request, view: ViewHere) -> Response:
    values = {"base": view.base, "unit": view.unit_words}
    return _one(request, view, Form.of(values), index=None)


@router.get("/s/{handle}/prepare/scales/{index}")
def one(request: Request, view: ViewHere, index: int) -> Response:
    scale = _scale(view, index)
    low, high = _factor(scale)
    values = {
        "base": view.base,
        "unit": scale.get("unit", view.unit_words),
        "factor_low": low,
        "factor_high": high,
        **{key: scale.get(key) for key in ("name", "capacity", "resolution", "refresh_s", "tare")},
    }
    for row, weight in enumerate(scale.get("weight", [])):
        for key in ("true", "shown", "tolerance"):
            values[f"{key}{row}"] = weight.get(key)
    return _one(request, view, Form.of(values), index=index)


@router.post("/s/{handle}/prepare/scales/new")
def add(request: Request, view: ViewHere, services: ServicesHere, form: FormHere) -> Response:
    return _save(request, view, services, form, index=None)


@router.post("/s/{handle}/prepare/scales/{index}")
def change(
    request: Request, view: ViewHere, services: ServicesHere, form: FormHere, index: int
) -> Response:
    _scale(view, index)
    return _save(request, view, services, form, index=index)


def _save(
    request: Request, view: View, services: ServicesHere, form: Form, *, index: int | None
) -> Response:
    scale = None if "remove" in form.typed else _typed_scale(view, form)
    problems: tuple[object, ...] = ()
    if form.is_fine:
        problems = save_text(
            services,
            view.state,
            base=form.text("base"),
            edit=lambda text: _with_scale(text, index, scale),
            touches=_TOUCHES,
        )
    if problems or not form.is_fine:
        return _one(request, view, form, index=index, problems=problems)
    return back(view, "/scales")


def _typed_scale(view: View, form: Form) -> dict[str, Any]:
    unit = form.choice("unit", [u.value for u in ForceUnit])
    if unit is None and not view.unit_words:
        form.refuse("unit", "In which unit does this scale show loads?")
    scale: dict[str, Any] = {"name": form.needed("name", "Give the scale a name.", most=60)}
    if unit and unit != view.unit_words:
        scale["unit"] = unit
    scale["capacity"] = form.above("capacity", 0)
    scale["resolution"] = form.number("resolution", low=0)
    scale["refresh_s"] = form.above("refresh_s", 0)
    scale["tare"] = form.number("tare", low=0) or None
    low, high = form.above("factor_low", 0), form.above("factor_high", 0)
    if low is not None or high is not None:
        pair = [float(low or high or 1.0), float(high or low or 1.0)]
        scale["factor"] = None if pair == [1.0, 1.0] else pair
    scale["weight"] = _weights(form) or None
    return {key: value for key, value in scale.items() if value is not None}


def _weights(form: Form) -> list[dict[str, float | int]]:
    rows = []
    for row in range(_rows(form)):
        true, shown = form.number(f"true{row}", low=0), form.number(f"shown{row}")
        tolerance = form.number(f"tolerance{row}", low=0)
        if true is None and shown is None:
            continue
        if true is None or shown is None:
            lacks = "true" if true is None else "shown"
            form.refuse(f"{lacks}{row}", "A check needs both: the weight, and what was shown.")
            continue
        weight = {"true": true, "shown": shown}
        if tolerance:
            weight["tolerance"] = tolerance
        rows.append(weight)
    return rows


def _rows(form: Form) -> int:
    named = [name[4:] for name in form.typed if name.startswith("true")]
    return max((int(n) + 1 for n in named if n.isdecimal() and int(n) < 100), default=0)


def _with_scale(text: str, index: int | None, scale: dict[str, Any] | None) -> str:
    """A scale that gets another name gets it in the layout too; one that goes, goes there."""
    data = study_table(text)
    scales = data.setdefault("instrument", [])
    at = data.get("layout", {}).get("scale_at_mm", {})
    if index is None and scale is not None:
        scales.append(scale)
    elif index is not None and index < len(scales):
        old = scales[index].get("name")
        if scale is None:
            del scales[index]
            at.pop(old, None)
        else:
            scales[index] = scale
            if old in at and old != scale["name"]:
                at[scale["name"]] = at.pop(old)
    if not scales:
        del data["instrument"]
    if len(scales) < 2:
        data.pop("sharing", None)
    if "layout" in data and "scale_at_mm" in data["layout"] and not at:
        del data["layout"]["scale_at_mm"]
    return retold(text, data)


def _with_sharing(text: str, sharing: str | None) -> str:
    data = study_table(text)
    data.pop("sharing", None)
    if sharing:
        data["sharing"] = sharing
    return retold(text, data)


def _scale(view: View, index: int) -> dict[str, Any]:
    scales = view.items("instrument")
    if not 0 <= index < len(scales):
        raise HTTPException(404, "There is no such scale in this study.")
    return scales[index]


def _factor(scale: dict[str, Any]) -> tuple[float | None, float | None]:
    factor = scale.get("factor")
    if isinstance(factor, list) and len(factor) == 2:
        return factor[0], factor[1]
    return None, None


def _list(
    request: Request, view: View, form: Form, *, problems: tuple[object, ...] = ()
) -> Response:
    unit = view.unit_words
    rows = [
        {
            "name": scale.get("name", ""),
            "capacity": _with_unit(scale.get("capacity"), scale.get("unit", unit)),
            "resolution": _with_unit(scale.get("resolution"), scale.get("unit", unit)),
            "checks": len(scale.get("weight", [])),
        }
        for scale in view.items("instrument")
    ]
    return show(
        request,
        view,
        "prepare_scales.html.j2",
        title="Scales",
        step="scales",
        form=form,
        status=422 if problems else 200,
        problems=problems,
        scales=rows,
        sharing=SHARING,
    )


def _with_unit(value: object, unit: str) -> str:
    return "not known" if value is None else f"{number_text(value)} {unit}".strip()


def _one(
    request: Request,
    view: View,
    form: Form,
    *,
    index: int | None,
    problems: tuple[object, ...] = (),
) -> Response:
    filled = sum(
        1
        for row in range(_rows(form))
        if form.typed.get(f"true{row}") or form.typed.get(f"shown{row}")
    )
    return show(
        request,
        view,
        "prepare_scale.html.j2",
        title="A new scale" if index is None else "Change a scale",
        step="scales",
        form=form,
        status=422 if problems else 200,
        problems=problems,
        index=index,
        rows=range(max(_rows(form), filled + _BLANK_ROWS)),
        units=[u.value for u in ForceUnit],
    )
