"""The page on which a film that was read is looked through, corrected and taken."""

from collections.abc import Mapping, Sequence
from typing import Any

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse, Response

from breakwright.model.errors import ImpossibleValue, Problem
from breakwright.model.units import ForceUnit
from breakwright.usecases.bench.state import FilmState, StudyState
from breakwright.web.breaking.finding import side_of, study_of
from breakwright.web.breaking.scene import scene_of
from breakwright.web.filming.finding import Filmed, filmed_of
from breakwright.web.filming.moment import SHOWN, moment_of, start_of
from breakwright.web.filming.pulls import pulls_of
from breakwright.web.filming.told import told_of
from breakwright.web.preparing.forms import read_number
from breakwright.web.rendering import page, shown_unit
from breakwright.web.services import Services, ServicesHere, new_id
from breakwright.web.work.film_bundles import open_bundle

__all__ = ["router", "show_review"]

router = APIRouter(include_in_schema=False)


@router.get("/s/{handle}/film/{key}/moment", response_class=HTMLResponse)
def moment(request: Request, services: ServicesHere, handle: str, key: str, at: str) -> Response:
    """The part of the page that changes with the moment, for its script."""
    state = study_of(services, handle)
    film = filmed_of(services, state, key)
    if film.film is None:
        raise HTTPException(404, "This film was not read yet.")
    context = _moment(request, services, state, film, film.film, at)
    if context["moment"] is None:
        raise HTTPException(503, context["trouble"] or "It is still being worked on.")
    context["typed"] = {}
    return page(request, "film_moment.html.j2", title="", study=state, context=context)


def show_review(
    request: Request,
    services: Services,
    state: StudyState,
    film: Filmed,
    *,
    problems: Sequence[Problem] = (),
    about: str = "",
    typed: Mapping[str, str] | None = None,
) -> Response:
    """Return the page; ``problems`` speak against what was just ``typed`` in the form ``about``."""
    assert film.film is not None
    at = (typed or request.query_params).get("at", "")
    context = _moment(request, services, state, film, film.film, at)
    told, unit = context["told"], context["unit"]
    side = side_of(state)
    scene = scene_of(state, side)
    ways = tuple(dict.fromkeys(([side.counts] if side.counts else []) + list(scene.ways)))
    return page(
        request,
        "film_review.html.j2",
        title=f"{film.name} · {state.title}",
        study=state,
        place="break",
        status=422 if problems else 200,
        context={
            **context,
            "pulls": () if told is None else pulls_of(state, film, film.film, told, unit),
            "ways": ways,
            "invented": side.invented,
            "mended": [(event, body) for event, body in film.film.corrections.items()],
            "problems": problems,
            "about": about,
            "typed": typed or {},
            "fresh": new_id,
        },
    )


def _moment(
    request: Request,
    services: Services,
    state: StudyState,
    film: Filmed,
    read: FilmState,
    at: str,
) -> dict[str, Any]:
    unit = shown_unit(request, side_of(state).unit)
    told = told_of(services, state.id, read, unit=unit.value)
    found, trouble = None, told.trouble
    if told.result is not None:
        asked = read_number(at) if at else start_of(told.result)
        time = start_of(told.result) if isinstance(asked, str) else float(asked)
        try:
            bundle = open_bundle(services.bench.store, services.folder, read)
            found = moment_of(told.result, bundle.crops, time, ForceUnit(unit))
        except ImpossibleValue as error:
            trouble = str(error)
    return {
        "film": film,
        "read": read,
        "unit": unit,
        "told": told.result,
        "trouble": trouble,
        "moment": found,
        "kinds": [(shown.value, words) for shown, words in SHOWN.items()],
        "here": f"/s/{state.handle}/film/{film.key}",
        "query": "-".join(sorted(read.corrections))[-40:],
    }
