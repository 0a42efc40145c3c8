"""The page at the rig: one piece at a time, one number a display, one tap that saves."""

from collections.abc import Sequence
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from breakwright.model.errors import Problem
from breakwright.usecases.bench.state import PieceState, StudyState
from breakwright.web.breaking.finding import bench_day, piece_of, side_of, study_of
from breakwright.web.breaking.rig_view import Said, rig_view
from breakwright.web.breaking.scene import scene_form, scene_of, scene_text
from breakwright.web.breaking.typed import Typed
from breakwright.web.rendering import page, shown_unit
from breakwright.web.services import Services, ServicesHere, new_id

__all__ = ["router", "show_rig"]

router = APIRouter(include_in_schema=False)


@router.get("/s/{handle}/break", response_class=HTMLResponse)
def rig_page(
    request: Request,
    services: ServicesHere,
    handle: str,
    piece: Annotated[str, Query()] = "",
    said: Annotated[str, Query()] = "",
    word: Annotated[str, Query()] = "",
    every: Annotated[str, Query()] = "",
) -> Response:
    """The next piece, or the one asked for; ``said`` is the event to echo, ``word`` what the page
    was just sent for; with ``every`` all pieces are listed for a browser without scripts."""
    state = study_of(services, handle)
    shown = piece_of(state, piece) if piece else state.next_piece
    return show_rig(request, services, state, shown, said=Said(said, word), every=every)


@router.get("/s/{handle}/break.json")
def rig_scene(request: Request, services: ServicesHere, handle: str) -> Response:
    """What the page holds, afresh, for its scripts."""
    state = study_of(services, handle)
    side = side_of(state)
    unit = shown_unit(request, side.unit).value
    form = scene_form(state, scene_of(state, side), shown=unit, now=services.now())
    return JSONResponse(form, headers={"Cache-Control": "no-store"})


def show_rig(
    request: Request,
    services: Services,
    state: StudyState,
    shown: PieceState | None,
    *,
    typed: Typed | None = None,
    problems: Sequence[Problem] = (),
    said: Said | None = None,
    every: str = "",
    status: int = 200,
) -> Response:
    """Return the page with this piece; what was ``typed`` is in its form, below ``problems``."""
    side = side_of(state)
    unit = shown_unit(request, side.unit)
    scene = scene_of(state, side)
    view = rig_view(
        state,
        scene,
        shown,
        typed=typed or Typed(("",) * len(side.displays), side.unit.value, new_id()),
        problems=problems,
        said=said,
        unit=unit,
        now=services.clock(),
        day=bench_day(services),
    )
    form = scene_form(state, scene, shown=unit.value, now=services.now())
    title = f"{shown.label}: break" if shown else "Break"
    return page(
        request,
        "break.html.j2",
        title=f"{title} · {state.title}",
        study=state,
        place="break",
        status=status,
        context={"view": view, "scene": scene_text(form), "new_piece": new_id(), "every": every},
    )
