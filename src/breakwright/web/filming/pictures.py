"""Pictures for the pages of films: the still, the crops, the chart."""

import re

from fastapi import APIRouter, HTTPException
from fastapi.responses import FileResponse, Response

from breakwright.model.errors import ImpossibleValue
from breakwright.model.units import ForceUnit
from breakwright.usecases.bench.state import FilmState, StudyState
from breakwright.web.breaking.finding import study_of
from breakwright.web.filming.finding import filmed_of
from breakwright.web.filming.stills import chart_for, still_for
from breakwright.web.services import ServicesHere
from breakwright.web.work.film_bundles import open_bundle
from breakwright.web.work.tools import MADE

__all__ = ["router"]

router = APIRouter(include_in_schema=False)

_THEMES = ("light", "dark")
_SIZES = ("page", "phone")
_KEEP = {"cache-control": "private, max-age=3600"}
_NAME = re.compile(r"display-\d{1,3}-at-\d{1,7}\.\d{3}s\.jpg")


@router.get("/s/{handle}/film/{key}/still.jpg")
def still(services: ServicesHere, handle: str, key: str, t: float = 0.0) -> Response:
    """The film's picture at ``t`` (s)."""
    state = study_of(services, handle)
    made = still_for(services, state, filmed_of(services, state, key), max(0.0, t))
    if made.result is None:
        raise HTTPException(503, made.trouble or "The picture was not made in time. Try again.")
    path = services.folder / MADE / made.result["file"]
    if not path.exists():
        raise HTTPException(404, "This picture is no longer there. Choose another moment.")
    return FileResponse(path, media_type="image/jpeg", headers=_KEEP)


@router.get("/s/{handle}/film/{key}/crop/{film}/{name}")
def crop(services: ServicesHere, handle: str, key: str, film: str, name: str) -> Response:
    """One display at one moment, as it was read."""
    state = study_of(services, handle)
    filmed_of(services, state, key)
    found = _film(state, film)
    data = None
    if _NAME.fullmatch(name):
        try:
            data = open_bundle(services.bench.store, services.folder, found).crop(name)
        except ImpossibleValue:
            data = None
    if data is None:
        raise HTTPException(404, "There is no such picture of this film.")
    return Response(data, media_type="image/jpeg", headers=_KEEP)


@router.get("/s/{handle}/film/{key}/chart/{film}.svg")
def chart(
    services: ServicesHere, handle: str, key: str, film: str, unit: str, theme: str, size: str
) -> Response:
    """Load against time."""
    state = study_of(services, handle)
    filmed_of(services, state, key)
    if theme not in _THEMES or size not in _SIZES or unit not in set(ForceUnit):
        raise HTTPException(404, "There is no such chart.")
    made = chart_for(services, state.id, _film(state, film), unit=unit, theme=theme, size=size)
    if made.result is None:
        raise HTTPException(503, made.trouble or "The chart was not drawn in time. Try again.")
    # A picture may style itself; it can run nothing and fetch nothing.
    policy = "sandbox; default-src 'none'; style-src 'unsafe-inline'"
    headers = {**_KEEP, "content-security-policy": policy}
    return Response(made.result["svg"], media_type="image/svg+xml", headers=headers)


def _film(state: StudyState, film: str) -> FilmState:
    found = next((one for one in state.films if one.event == film), None)
    if found is None:
        raise HTTPException(404, "There is no such reading of a film.")
    return found
