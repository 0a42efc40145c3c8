"""Papers: the bench sheet with the study's own pieces, and labels to stick on them."""

from typing import Any

from fastapi import APIRouter, HTTPException, Request, Response
from fastapi.responses import HTMLResponse

from breakwright.usecases.bench.ports import JobState
from breakwright.usecases.bench.state import Standing
from breakwright.web.preparing.forms import Form
from breakwright.web.preparing.looking import problems_of, result_of
from breakwright.web.preparing.view import ViewHere, show
from breakwright.web.rendering import page as plain_page
from breakwright.web.services import ServicesHere
from breakwright.web.work.asking import ask_and_wait

__all__ = ["router"]

router = APIRouter()

_PAPER = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
_POLICY = "sandbox allow-modals; default-src 'none'; style-src 'unsafe-inline'; img-src data:"
_SHEET_S = 25.0


@router.get("/s/{handle}/prepare/print")
def page(request: Request, view: ViewHere) -> Response:
    return show(
        request,
        view,
        "prepare_print.html.j2",
        title="Print",
        step="print",
        paper=tuple(_PAPER),
    )


@router.get("/s/{handle}/prepare/bench-sheet")
def bench_sheet(request: Request, view: ViewHere, services: ServicesHere) -> Response:
    rows = [
        {
            "order": piece.order if piece.order is not None else place,
            "label": piece.label,
            "group": piece.group,
            "block": piece.block,
            "day": piece.day or 1,
            "operator": piece.operator,
            "pair": piece.pair,
        }
        for place, piece in enumerate(view.state.pieces, start=1)
        if piece.standing is Standing.WAITING
    ]
    given = {"toml": view.state.toml, "rows": rows}
    job = ask_and_wait(services, view.state.id, "bench-sheet", given=given, timeout_s=_SHEET_S)
    if job.state is not JobState.DONE:
        raise HTTPException(503, "The bench sheet was not ready in time. Load the page again.")
    result = result_of(job)
    problems = problems_of(result)
    if problems:
        return show(
            request,
            view,
            "prepare_print.html.j2",
            title="Print",
            step="print",
            status=422,
            problems=problems,
            paper=tuple(_PAPER),
        )
    return HTMLResponse(str(result["html"]), headers={"Content-Security-Policy": _POLICY})


@router.get("/s/{handle}/prepare/labels")
def labels(request: Request, view: ViewHere) -> Response:
    """Show a page of labels; groups stay hidden where who breaks the pieces must not know."""
    form = Form(dict(request.query_params))
    across = form.whole("across", low=1, high=12) or 4
    down = form.whole("down", low=1, high=30) or 10
    top, left = form.number("top", low=0, high=60), form.number("left", low=0, high=60)
    gap = form.number("gap", low=0, high=20) or 0
    skip = form.whole("skip", low=0, high=360) or 0
    paper = form.choice("paper", tuple(_PAPER)) or "a4"
    if not form.is_fine:
        return show(
            request,
            view,
            "prepare_print.html.j2",
            title="Print",
            step="print",
            form=form,
            paper=tuple(_PAPER),
        )
    width, height = _PAPER[paper]
    top, left = 10 if top is None else top, 8 if left is None else left
    pieces = [p for p in view.state.pieces if p.standing is not Standing.VOID]
    per_sheet = across * down
    places: list[Any] = [*[None] * skip, *pieces]
    sheets = [places[i : i + per_sheet] for i in range(0, len(places), per_sheet)]
    response = plain_page(
        request,
        "prepare_labels.html.j2",
        title="Labels",
        study=view.state,
        context={
            "sheets": sheets,
            "paper": paper,
            "width": width,
            "height": height,
            "top": top,
            "left": left,
            "gap": gap,
            "across": across,
            "down": down,
            "cell_width": (width - 2 * left - gap * (across - 1)) / across,
            "cell_height": (height - 2 * top - gap * (down - 1)) / down,
            "with_group": form.typed.get("group") == "show",
            "count": len(pieces),
        },
    )
    response.headers["Content-Security-Policy"] = _POLICY
    return response
