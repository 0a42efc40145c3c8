"""The first page of Prepare: what is still missing, and the steps in their order."""

from fastapi import APIRouter, Request, Response

from breakwright.web.preparing.looking import look
from breakwright.web.preparing.missing import found_lacks, lacks, standings
from breakwright.web.preparing.view import ViewHere, show
from breakwright.web.rendering import shown_unit
from breakwright.web.services import ServicesHere

__all__ = ["router"]

router = APIRouter()

# The page does not wait for a worker that is only starting; its script asks again.
_PATIENCE_S = 1.5


@router.get("/s/{handle}/prepare")
def overview(
    request: Request, view: ViewHere, services: ServicesHere, patient: bool = False
) -> Response:
    """Show what is missing and the way through. ``patient`` waits for all that is reckoned."""
    now = services.clock()
    found = lacks(view, now)
    waiting, trouble = False, ""
    if view.study is not None and view.study.parts:
        unit = shown_unit(request, view.unit).value
        looked = look(
            services,
            view.state.id,
            view.state.toml,
            unit=unit,
            timeout_s=20.0 if patient else _PATIENCE_S,
        )
        found += found_lacks(looked)
        waiting, trouble = looked.is_waiting, looked.trouble
    loudest = {"danger": 0, "care": 1}
    return show(
        request,
        view,
        "prepare.html.j2",
        title="Prepare",
        lacks=sorted(found, key=lambda lack: loudest.get(lack.tone, 2)),
        is_waiting=waiting,
        trouble=trouble,
        standings=standings(view, now),
    )
