"""The rig: its parts in the order of the load's way, their layout, live numbers."""

from collections.abc import Sequence
from typing import Any

from fastapi import APIRouter, HTTPException, Request, Response

from breakwright.bootstrap.editing import moved_item, with_item, with_keys, without_item
from breakwright.model.errors import ImpossibleValue, InputRefused
from breakwright.web.preparing.forms import Form, FormHere
from breakwright.web.preparing.kinds import KindForm, kind_forms
from breakwright.web.preparing.looking import Looked, look
from breakwright.web.preparing.part_form import (
    NumberField,
    WordField,
    group_rows,
    number_fields,
    part_of,
    typed_part,
    word_fields,
)
from breakwright.web.preparing.saving import save_text
from breakwright.web.preparing.view import View, ViewHere, back, show
from breakwright.web.rendering import load_words, shown_unit
from breakwright.web.rendering import page as plain_page
from breakwright.web.services import ServicesHere

__all__ = ["router"]

router = APIRouter()

_LAYOUT = ("load_at_mm", "wander_mm", "rate", "loose_mass_kg", "stroke_mm")


@router.get("/s/{handle}/prepare/rig")
def page(request: Request, view: ViewHere, services: ServicesHere) -> Response:
    return _list(request, view, services, _layout_form(view))


@router.post("/s/{handle}/prepare/rig")
def save_layout(
    request: Request, view: ViewHere, services: ServicesHere, form: FormHere
) -> Response:
    values: dict[str, object] = {
        "load_at_mm": form.number("load_at_mm"),
        "wander_mm": form.number("wander_mm", low=0),
        "rate": form.above("rate", 0),
        "loose_mass_kg": form.above("loose_mass_kg", 0),
        "stroke_mm": form.above("stroke_mm", 0),
    }
    at = {}
    for i, scale in enumerate(view.items("instrument")):
        place = form.number(f"at{i}")
        if place is not None:
            at[str(scale.get("name", ""))] = place
    values["scale_at_mm"] = at
    problems: tuple[object, ...] = ()
    if form.is_fine:
        problems = save_text(
            services,
            view.state,
            base=form.text("base"),
            edit=lambda text: with_keys(text, values, within="layout"),
            touches=("layout", "instrument"),
        )
    if problems or not form.is_fine:
        return _list(request, view, services, form, problems=problems)
    return back(view, "/rig")


@router.post("/s/{handle}/prepare/rig/move")
def move(view: ViewHere, services: ServicesHere, form: FormHere) -> Response:
    index = form.whole("index", low=0, high=1000)
    step = form.whole("by", low=-1, high=1)
    if index is None or step is None or not 0 <= index + step < len(view.items("part")):
        return back(view, "/rig")
    save_text(
        services,
        view.state,
        base=form.text("base"),
        edit=lambda text: moved_item(text, "part", index, to=index + step),
        touches=("part",),
    )
    return back(view, "/rig")


@router.get("/s/{handle}/prepare/rig/new")
def new(request: Request, view: ViewHere, kind: str = "") -> Response:
    if kind not in kind_forms():
        return show(
            request,
            view,
            "prepare_kinds.html.j2",
            title="Add a part",
            step="rig",
            kinds=kind_forms().values(),
        )
    first = not any(part.get("tested") for part in view.items("part"))
    values = {"base": view.base, "kind": kind, "tested": "yes" if first else ""}
    return _one(request, view, Form.of(values), kind_forms()[kind], index=None)


@router.get("/s/{handle}/prepare/rig/{index}")
def one(request: Request, view: ViewHere, index: int, kind: str = "") -> Response:
    part = _part(view, index)
    known = kind_forms().get(kind or str(part.get("kind", "")))
    if known is None:
        return back(view, "/text")
    return _one(
        request, view, Form.of({**part_of(known, part), "base": view.base}), known, index=index
    )


@router.post("/s/{handle}/prepare/rig/new")
def add(request: Request, view: ViewHere, services: ServicesHere, form: FormHere) -> Response:
    return _save(request, view, services, form, index=None)


@router.post("/s/{handle}/prepare/rig/look/{which}")
def live(
    request: Request, view: ViewHere, services: ServicesHere, form: FormHere, which: str
) -> Response:
    """Return the numbers of the rig as the form has it, without keeping anything."""
    index = int(which) if which.isdecimal() else None
    kind = _kind(form)
    part = typed_part(form, kind, _there(view, index), view.groups)
    looked = Looked()
    if form.is_fine:
        try:
            text = with_item(view.state.toml, "part", index, _one_tested(view, part, index))
            looked = _looked(request, view, services, text)
        except (ImpossibleValue, InputRefused) as error:
            looked = Looked(trouble=str(error))
    return plain_page(
        request,
        "prepare_live.html.j2",
        title="",
        context={
            "looked": looked,
            "form": form,
            "part": part["name"],
            "shown_unit": shown_unit(request, view.unit),
            "load_words": load_words,
        },
    )


@router.post("/s/{handle}/prepare/rig/{index}")
def change(
    request: Request, view: ViewHere, services: ServicesHere, form: FormHere, index: int
) -> Response:
    _part(view, index)
    return _save(request, view, services, form, index=index)


def _save(
    request: Request, view: View, services: ServicesHere, form: Form, *, index: int | None
) -> Response:
    kind = _kind(form)
    problems: tuple[object, ...] = ()
    if "remove" in form.typed and index is not None:
        problems = save_text(
            services,
            view.state,
            base=form.text("base"),
            edit=lambda text: without_item(text, "part", index),
            touches=("part",),
        )
    elif "look" in form.typed:
        part = typed_part(form, kind, _there(view, index), view.groups)
        looked = Looked()
        if form.is_fine:
            text = with_item(view.state.toml, "part", index, part)
            looked = _looked(request, view, services, text)
        return _one(request, view, form, kind, index=index, looked=looked)
    else:
        part = typed_part(form, kind, _there(view, index), view.groups)
        if form.is_fine:
            problems = save_text(
                services,
                view.state,
                base=form.text("base"),
                edit=lambda text: with_item(text, "part", index, part),
                touches=("part", "groups"),
            )
    if problems or not form.is_fine:
        return _one(request, view, form, kind, index=index, problems=problems)
    return back(view, "/rig")


def _kind(form: Form) -> KindForm:
    kind = kind_forms().get(form.text("kind"))
    if kind is None:
        raise HTTPException(400, "This form names a kind of part that there is none of.")
    return kind


def _there(view: View, index: int | None) -> dict[str, Any]:
    return {} if index is None else _part(view, index)


def _part(view: View, index: int) -> dict[str, Any]:
    parts = view.items("part")
    if not 0 <= index < len(parts):
        raise HTTPException(404, "There is no such part in this study.")
    return parts[index]


def _one_tested(view: View, part: dict[str, Any], index: int | None) -> dict[str, Any]:
    """While a second part is being marked as tested, its numbers are shown all the same."""
    others = [p for i, p in enumerate(view.items("part")) if i != index]
    if part.get("tested") and any(other.get("tested") for other in others):
        return {key: value for key, value in part.items() if key not in ("tested", "breaks")}
    return part


def _unit(request: Request, view: View) -> str:
    return shown_unit(request, view.unit).value


def _looked(request: Request, view: View, services: ServicesHere, text: str) -> Looked:
    return look(services, view.state.id, text, unit=_unit(request, view))


def _layout_form(view: View) -> Form:
    layout = view.box("layout")
    at = layout.get("scale_at_mm", {})
    values: dict[str, object] = {key: layout.get(key) for key in _LAYOUT}
    for i, scale in enumerate(view.items("instrument")):
        values[f"at{i}"] = at.get(scale.get("name")) if isinstance(at, dict) else None
    return Form.of({**values, "base": view.base})


def _differing(numbers: Sequence[NumberField], words: Sequence[WordField]) -> list[tuple[str, str]]:
    return [
        *((field.key, f"{field.label}, {field.unit}".rstrip(", ")) for field in numbers),
        *((field.key, field.label) for field in words),
    ]


def _list(
    request: Request,
    view: View,
    services: ServicesHere,
    form: Form,
    *,
    problems: tuple[object, ...] = (),
) -> Response:
    parts = view.items("part")
    looked = Looked()
    if parts and view.study is not None:
        looked = _looked(request, view, services, view.state.toml)
    return show(
        request,
        view,
        "prepare_rig.html.j2",
        title="Rig",
        step="rig",
        form=form,
        status=422 if problems else 200,
        problems=problems,
        parts=parts,
        looked=looked,
        scales=view.items("instrument"),
    )


def _one(
    request: Request,
    view: View,
    form: Form,
    kind: KindForm,
    *,
    index: int | None,
    problems: tuple[object, ...] = (),
    looked: Looked | None = None,
) -> Response:
    part = _there(view, index)
    rows = max(len(group_rows(part)) + 2, sum(name.startswith("key") for name in form.typed))
    return show(
        request,
        view,
        "prepare_part.html.j2",
        title="Add a part" if index is None else f"Change «{part.get('name', '')}»",
        step="rig",
        form=form,
        status=422 if problems else 200,
        problems=problems,
        kind=kind,
        kinds=kind_forms(),
        index=index,
        numbers=number_fields(kind, part),
        words=word_fields(kind),
        # What a table lacks is told as a problem, and belongs into one of these fields.
        properties_open=bool(problems)
        or any(
            form.typed.get(f"number:{number.name}")
            for number in kind.numbers
            if number.use == "property"
        ),
        differing=_differing,
        group_rows=range(rows if view.groups else 0),
        looked=looked,
        part=form.text("name"),
    )
