"""The whole ``study.toml`` as text, what is wrong with it, and two texts that clash."""

from collections.abc import Mapping
from difflib import unified_diff

from fastapi import APIRouter, HTTPException, Request, Response

from breakwright.model.errors import Problem
from breakwright.model.event import Undone
from breakwright.usecases.bench.state import Definition, StudyState
from breakwright.web.preparing.forms import Form, FormHere
from breakwright.web.preparing.looking import part_problems
from breakwright.web.preparing.saving import keep, save_text
from breakwright.web.preparing.view import View, ViewHere, back, show
from breakwright.web.services import ServicesHere

__all__ = ["router"]

router = APIRouter()

_LONGEST = 200_000
_MOST_LINES = 400


@router.get("/s/{handle}/prepare/text")
def page(request: Request, view: ViewHere, services: ServicesHere) -> Response:
    form = Form({"toml": view.state.toml, "base": view.base})
    problems = view.problems
    if view.study is not None and view.study.parts:
        problems = part_problems(services, view.state.id, view.state.toml)
    return _page(request, view, form, problems)


@router.post("/s/{handle}/prepare/text")
def save(request: Request, view: ViewHere, services: ServicesHere, form: FormHere) -> Response:
    text = form.typed.get("toml", "")
    if len(text) > _LONGEST:
        form.refuse("toml", f"This is too long: {_LONGEST} characters at most.")
        return _page(request, view, form, ())
    problems = save_text(services, view.state, base=form.text("base"), edit=lambda _: text)
    if problems:
        return _page(request, view, form, problems, status=422)
    return back(view, "/text#saved")


@router.post("/s/{handle}/prepare/settle")
def settle(view: ViewHere, services: ServicesHere, form: FormHere) -> Response:
    """Keep one of two texts that clash; the other is taken back, and stays on record."""
    chosen = form.text("keep")
    if chosen not in {d.event for d in view.state.heads}:
        raise HTTPException(400, "Choose one of the texts that are shown.")
    keep(services, view.state, [Undone(e, "settled") for e in _others(view.state, chosen)])
    return back(view, "/text")


def _others(state: StudyState, chosen: str) -> list[str]:
    """The other texts, back to where they part from the chosen one."""
    bases = {d.event: d.base for d in state.definitions}
    own = set(_line(chosen, bases))
    gone: dict[str, None] = {}
    for head in state.heads:
        for event in _line(head.event, bases):
            if event in own:
                break
            gone[event] = None
    return list(gone)


def _line(event: str | None, bases: Mapping[str, str | None]) -> list[str]:
    line: list[str] = []
    while event is not None and event in bases and event not in line:
        line.append(event)
        event = bases[event]
    return line


def _page(
    request: Request,
    view: View,
    form: Form,
    problems: tuple[Problem, ...],
    *,
    status: int = 200,
) -> Response:
    lines = form.typed.get("toml", "").splitlines()
    told = [
        (p, lines[p.line - 1] if p.line is not None and 0 < p.line <= len(lines) else "")
        for p in problems
    ]
    return show(
        request,
        view,
        "prepare_text.html.j2",
        title="The whole study as text",
        step="text",
        form=form,
        status=status,
        told=told,
        heads=[_head(head, view.state) for head in view.state.heads],
        differences=_differences(view.state.heads),
    )


def _head(head: Definition, state: StudyState) -> dict[str, str]:
    return {
        "event": head.event,
        "made": head.made[:16].replace("T", " "),
        "who": head.person or head.device or "another device",
        "counts": "yes" if head.event == state.heads[-1].event else "",
    }


def _differences(heads: tuple[Definition, ...]) -> list[tuple[str, str]]:
    """The lines in which the first text and the last differ: which of them has it, the line."""
    if len(heads) < 2:
        return []
    found = unified_diff(heads[0].toml.splitlines(), heads[-1].toml.splitlines(), lineterm="", n=1)
    marks = {"-": "first", "+": "last", " ": "both"}
    lines = [
        (marks[line[0]], line[1:])
        for line in found
        if line[:1] in marks and not line.startswith(("---", "+++"))
    ]
    return lines[:_MOST_LINES]
