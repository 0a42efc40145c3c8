"""One study as the Prepare pages see it: its state, its text read, what is wrong with the text."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import Depends, HTTPException, Request
from fastapi.responses import HTMLResponse, RedirectResponse

from breakwright.bootstrap.editing import study_table
from breakwright.bootstrap.prepare import plan_text
from breakwright.model.errors import ImpossibleValue, InputRefused, Problem
from breakwright.model.study import Study
from breakwright.model.units import ForceUnit
from breakwright.usecases.bench.state import StudyState
from breakwright.web.preparing.forms import Form
from breakwright.web.preparing.steps import STEPS
from breakwright.web.rendering import load_words, page, shown_unit
from breakwright.web.services import ServicesHere

__all__ = ["View", "ViewHere", "back", "show"]


@dataclass(frozen=True, slots=True)
class View:
    """``table`` is the study's text as plain values; ``study`` is None where ``problems`` say why
    it could not be read."""

    state: StudyState
    table: Mapping[str, Any]
    study: Study | None
    problems: tuple[Problem, ...]

    @property
    def root(self) -> str:
        return f"/s/{self.state.handle}/prepare"

    @property
    def groups(self) -> tuple[str, ...]:
        groups = self.table.get("groups", [])
        return tuple(g for g in groups if isinstance(g, str)) if isinstance(groups, list) else ()

    @property
    def unit(self) -> ForceUnit:
        return ForceUnit.N if self.study is None else self.study.unit

    @property
    def unit_words(self) -> str:
        """The study's unit as people read it; '' where the study names none."""
        return str(self.table.get("unit", ""))

    @property
    def base(self) -> str:
        """The definition that a form made now is about."""
        return self.state.heads[-1].event

    def items(self, kind: str) -> list[dict[str, Any]]:
        found = self.table.get(kind, [])
        return [i for i in found if isinstance(i, dict)] if isinstance(found, list) else []

    def box(self, name: str) -> Mapping[str, Any]:
        found = self.table.get(name, {})
        return found if isinstance(found, dict) else {}


def _view(handle: str, services: ServicesHere) -> View:
    state = services.bench.state(handle)
    if state is None:
        raise HTTPException(404, "There is no study of this name.")
    try:
        table: dict[str, Any] = study_table(state.toml)
    except ImpossibleValue:
        table = {}
    try:
        study, problems = plan_text(state.toml).study, ()
    except InputRefused as refused:
        return View(state, table, None, refused.problems)
    return View(state, table, study, problems)


ViewHere = Annotated[View, Depends(_view)]


def show(
    request: Request,
    view: View,
    template: str,
    *,
    title: str,
    step: str = "",
    form: Form | None = None,
    status: int = 200,
    **context: Any,
) -> HTMLResponse:
    """Return a page of Prepare; one whose form was refused says so with 422."""
    form = form or Form()
    at = next((i for i, s in enumerate(STEPS) if s.key == step), None)
    return page(
        request,
        template,
        title=f"{title} · {view.state.title}",
        study=view.state,
        place="prepare",
        status=status if form.is_fine else 422,
        context={
            "view": view,
            "form": form,
            "step": step,
            "steps": STEPS,
            "after": STEPS[at + 1] if at is not None and at + 1 < len(STEPS) else None,
            "shown_unit": shown_unit(request, view.unit),
            "heading": title,
            "zip_same": zip_same,
            "load_words": load_words,
            **context,
        },
    )


def zip_same(words: Iterable[str]) -> list[tuple[str, str]]:
    """Return choices whose words are their values."""
    return [(word, word) for word in words]


def back(view: View, where: str = "") -> RedirectResponse:
    """Send the browser on to a page of Prepare after a change."""
    return RedirectResponse(f"{view.root}{where}", status_code=303)
