"""The page of one piece, in a study: what counts, what happened, and how to set it right."""

from collections.abc import Sequence

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from breakwright.model.errors import Problem
from breakwright.usecases.bench.state import PieceState, StudyState
from breakwright.web.breaking.finding import piece_of, side_of, study_of
from breakwright.web.breaking.piece_view import piece_view
from breakwright.web.breaking.scene import scene_of
from breakwright.web.breaking.typed import Typed
from breakwright.web.rendering import page, shown_unit
from breakwright.web.services import Services, ServicesHere, new_id

__all__ = ["router", "show_piece"]

router = APIRouter(include_in_schema=False)


@router.get("/s/{handle}/piece/{key}", response_class=HTMLResponse)
def piece_page(request: Request, services: ServicesHere, handle: str, key: str) -> Response:
    """Everything of one piece, by its id or its label."""
    state = study_of(services, handle)
    return show_piece(request, services, state, piece_of(state, key))


def show_piece(
    request: Request,
    services: Services,
    state: StudyState,
    piece: PieceState,
    *,
    typed: Typed | None = None,
    problems: Sequence[Problem] = (),
    form: str = "",
) -> Response:
    """Return the page; ``problems`` belong to the form called ``form``, and ``typed`` is in it."""
    side = side_of(state)
    scene = scene_of(state, side)
    view = piece_view(
        state,
        side,
        piece,
        ways=scene.ways,
        unit=shown_unit(request, side.unit),
        now=services.clock(),
        typed=typed,
        problems=problems,
        form=form,
    )
    return page(
        request,
        "piece.html.j2",
        title=f"{piece.label} · {state.title}",
        study=state,
        place="break",
        status=422 if problems else 200,
        context={"view": view, "fresh": new_id},
    )
