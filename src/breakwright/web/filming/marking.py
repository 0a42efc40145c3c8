"""The page on which the displays of a film are marked, and what was marked as data."""

import json
from collections.abc import Mapping, Sequence
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from breakwright.bootstrap.film_marks import DisplayAsked
from breakwright.bootstrap.film_pages import StudyDisplay, marks_for, study_displays
from breakwright.model.errors import InputRefused, Problem
from breakwright.usecases.bench.event_form import LONGEST_TEXT
from breakwright.usecases.bench.ports import JobState
from breakwright.usecases.bench.state import StudyState
from breakwright.web.breaking.finding import study_of
from breakwright.web.filming.finding import Filmed, filmed_of
from breakwright.web.filming.marks import CORNERS, Shown, marks_of, shown_of, typed_marks
from breakwright.web.filming.reading import ask_to_read
from breakwright.web.filming.stills import proposals_for, still_for
from breakwright.web.preparing.forms import Form, FormHere, read_number
from breakwright.web.rendering import page
from breakwright.web.services import Services, ServicesHere

__all__ = ["router"]

router = APIRouter(include_in_schema=False)

_FIRST_S = 0.5


@router.get("/s/{handle}/film/{key}/mark", response_class=HTMLResponse)
def mark_page(
    request: Request,
    services: ServicesHere,
    handle: str,
    key: str,
    t: str = "",
    propose: str = "",
) -> Response:
    """A still of the film at ``t`` (s) to mark the displays on; with ``propose`` the program
    looks for displays by itself."""
    state = study_of(services, handle)
    film = filmed_of(services, state, key)
    before = marks_of(services, state, film)
    given = read_number(t) if t else before.time if before.time is not None else _FIRST_S
    return _shown(
        request,
        services,
        state,
        film,
        displays=shown_of(_displays(state), before.marks),
        time=_FIRST_S if isinstance(given, str) else max(0.0, float(given)),
        remembered=before.is_of_another,
        proposing=bool(propose),
    )


@router.post("/s/{handle}/film/{key}/mark")
def mark(
    request: Request, services: ServicesHere, handle: str, key: str, form: FormHere
) -> Response:
    """Keep the marks and have the film read."""
    state = study_of(services, handle)
    film = filmed_of(services, state, key)
    displays = _displays(state)
    time = form.number("t", low=0.0) or 0.0
    marks = typed_marks(form, displays, time)
    if len(json.dumps(marks)) > LONGEST_TEXT:
        form.refuse("t", "These are too many displays for one film. Leave some of them out.")
    problems: Sequence[Problem] = ()
    if form.is_fine:
        problems = _problems(state, marks)
    if not film.is_here:
        form.refuse("t", "The film is no longer on the server's disk; bring it here again.")
    if problems or not form.is_fine:
        return _shown(
            request,
            services,
            state,
            film,
            displays=shown_of(displays, (), form),
            time=time,
            form=form,
            problems=problems,
        )
    ask_to_read(services, state, film, marks)
    return RedirectResponse(f"/s/{state.handle}/film/{key}", status_code=303)


def _displays(state: StudyState) -> tuple[StudyDisplay, ...]:
    """Return the study's displays; one without a name's facts where it describes none."""
    found = study_displays(state.toml)
    return found or (StudyDisplay("display", None, None, None, None, None),)


def _problems(state: StudyState, marks: Sequence[Mapping[str, Any]]) -> Sequence[Problem]:
    asked = [
        DisplayAsked(
            corners=tuple((x, y) for x, y in one["corners"]),
            file="the page",
            **{name: value for name, value in one.items() if name != "corners"},
        )
        for one in marks
    ]
    try:
        marks_for(asked, state.toml)
    except InputRefused as refused:
        return refused.problems
    return ()


def _shown(
    request: Request,
    services: Services,
    state: StudyState,
    film: Filmed,
    *,
    displays: Sequence[Shown],
    time: float,
    remembered: bool = False,
    proposing: bool = False,
    form: Form | None = None,
    problems: Sequence[Problem] = (),
) -> Response:
    still = still_for(services, state, film, time)
    proposed = proposals_for(services, state, film) if proposing else None
    shown = form or Form()
    return page(
        request,
        "film_mark.html.j2",
        title=f"Mark the displays · {film.name}",
        study=state,
        place="break",
        status=422 if problems or not shown.is_fine else 200,
        context={
            "film": film,
            "still": still.result,
            "trouble": still.trouble,
            "slow": still.state in (JobState.QUEUED, JobState.RUNNING),
            "displays": displays,
            "corners": CORNERS,
            "time": time,
            "remembered": remembered,
            "proposed": proposed,
            "form": shown,
            "problems": problems,
        },
    )
