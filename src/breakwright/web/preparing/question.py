"""The question and its groups."""

from collections.abc import Mapping

from fastapi import APIRouter, Request, Response

from breakwright.bootstrap.editing import retold, study_table, with_keys
from breakwright.model.errors import Problem
from breakwright.model.event import PieceChanged
from breakwright.model.units import ForceUnit
from breakwright.usecases.bench.state import StudyState
from breakwright.web.preparing.forms import Form, FormHere
from breakwright.web.preparing.saving import keep, save_text
from breakwright.web.preparing.view import View, ViewHere, back, show
from breakwright.web.services import ServicesHere

__all__ = ["router"]

router = APIRouter()

_TOUCHES = ("title", "question", "groups", "reference", "counts", "worth", "unit")


@router.get("/s/{handle}/prepare/question")
def page(request: Request, view: ViewHere) -> Response:
    values = {key: view.table.get(key) for key in _TOUCHES if key != "groups"}
    values |= {f"group{i}": group for i, group in enumerate(view.groups)}
    return _page(request, view, Form.of({**values, "base": view.base}))


@router.post("/s/{handle}/prepare/question")
def save(request: Request, view: ViewHere, services: ServicesHere, form: FormHere) -> Response:
    names = _names(view, form)
    title = form.needed("title", "Give the study a short title.")
    question = form.text("question", most=2000)
    groups = [name for name in names.values() if name]
    groups += [name for name in form.lines("more") if name not in groups]
    if len(set(groups)) < len(groups):
        form.refuse("more", "Two groups have the same name.")
    if not groups:
        form.refuse("more", "Name the groups, one on a line.")
    reference = form.text("reference") or (groups[0] if groups else "")
    reference = names.get(reference, reference)
    if groups and reference not in groups:
        form.refuse("reference", f"The reference is one of the groups: {', '.join(groups)}.")
    worth = form.above("worth", 1)
    unit = form.choice("unit", [u.value for u in ForceUnit])
    if unit is None or (unit != view.unit_words and _has_loads(view.table)):
        unit = view.unit_words or unit
    if not form.is_fine:
        return _page(request, view, form)
    values = {
        "title": title,
        "question": question,
        "groups": groups,
        "reference": reference,
        "counts": form.text("counts"),
        "worth": worth,
        "unit": unit,
    }
    state, base = view.state, form.text("base")
    problems = _pieces_moved(services, state, base, names)
    if problems:
        return _page(request, view, form, problems=problems)
    newest = services.bench.state(state.id) or state
    if newest.last != state.last:
        state, base = newest, newest.heads[-1].event
    problems = save_text(
        services,
        state,
        base=base,
        edit=lambda text: _edited(text, values, names),
        touches=_TOUCHES,
    )
    return _page(request, view, form, problems=problems) if problems else back(view)


def _names(view: View, form: Form) -> dict[str, str]:
    """Return each group's name as it was with the name it gets; '' takes the group away."""
    names: dict[str, str] = {}
    for i, group in enumerate(view.groups):
        names[group] = form.text(f"group{i}") if f"group{i}" in form.typed else group
        with_pieces = sum(piece.group == group for piece in view.state.pieces)
        if not names[group] and with_pieces:
            form.refuse(f"group{i}", f"'{group}' has {with_pieces} pieces; it cannot go.")
    return names


def _pieces_moved(
    services: ServicesHere, state: StudyState, base: str, names: Mapping[str, str]
) -> tuple[Problem, ...]:
    """Give pieces of renamed groups the new name. No piece may be of a group that the study does
    not name, so that the study names both while the pieces move."""
    renamed = {old: new for old, new in names.items() if new and new != old}
    moved = [
        PieceChanged(piece.id, group=renamed[piece.group])
        for piece in state.pieces
        if piece.group in renamed
    ]
    if not moved:
        return ()

    def with_both(text: str) -> str:
        groups = study_table(text).get("groups", [])
        return with_keys(text, {"groups": list(dict.fromkeys([*groups, *renamed.values()]))})

    problems = save_text(services, state, base=base, edit=with_both, touches=_TOUCHES)
    if problems:
        return problems
    return keep(services, services.bench.state(state.id) or state, moved)


def _edited(text: str, values: Mapping[str, object], names: Mapping[str, str]) -> str:
    """A group that gets another name gets it wherever the text speaks of it."""
    data = study_table(text)
    for key, value in values.items():
        if value is None or value == "":
            data.pop(key, None)
        else:
            data[key] = value
    expected = data.get("expected", {})
    for box, key in ((expected, "ratio"), *((part, "group") for part in data.get("part", []))):
        if key in box:
            box[key] = {names.get(g, g): v for g, v in box[key].items() if names.get(g, g)}
            if not box[key]:
                del box[key]
    if "expected" in data and not expected:
        del data["expected"]
    return retold(text, data)


def _has_loads(table: Mapping[str, object]) -> bool:
    """Would another unit change what loads in the text mean?"""
    scales, parts = table.get("instrument", []), table.get("part", [])
    expected, layout = table.get("expected", {}), table.get("layout", {})
    assert isinstance(scales, list)
    assert isinstance(parts, list)
    assert isinstance(expected, dict)
    assert isinstance(layout, dict)
    return (
        any("unit" not in scale and scale.get("capacity") is not None for scale in scales)
        or any(part.get("own_tests") for part in parts)
        or any(expected.get(key) for key in ("median", "pilots"))
        or layout.get("rate") is not None
    )


def _page(
    request: Request, view: View, form: Form, *, problems: tuple[object, ...] = ()
) -> Response:
    return show(
        request,
        view,
        "prepare_question.html.j2",
        title="Question and groups",
        step="question",
        form=form,
        status=422 if problems else 200,
        problems=problems,
        unit_is_fixed=bool(view.unit_words) and _has_loads(view.table),
        pieces={g: sum(p.group == g for p in view.state.pieces) for g in view.groups},
    )
