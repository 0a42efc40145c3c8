"""The Answer page: the verdict while the testing goes on, quick at first and then calibrated."""

import json
from pathlib import Path
from typing import Annotated, Any

from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import FileResponse, HTMLResponse, RedirectResponse, Response

from breakwright.model.errors import ImpossibleValue, Problem
from breakwright.model.units import ForceUnit
from breakwright.report.charts.every import figure_titles
from breakwright.report.settle_words import PEEKING, PEEKING_SOURCE
from breakwright.usecases.bench.ports import Job
from breakwright.usecases.bench.state import StudyState
from breakwright.version import VERSION
from breakwright.web.answering.charts import SIZES, THEMES, chart_data, chart_drawing
from breakwright.web.answering.downloads import ask_for, downloads_of, file_of
from breakwright.web.answering.progress import ANSWER, Progress, again, progress_of
from breakwright.web.answering.words import settling_of, words_of
from breakwright.web.rendering import page, shown_unit
from breakwright.web.services import Services, ServicesHere
from breakwright.web.work.answers import answer_in, in_unit, result_of
from breakwright.web.work.asking import ask_and_wait
from breakwright.web.work.tools import MADE

__all__ = ["router"]

router = APIRouter(include_in_schema=False)

# A page without scripts is sent at once where the worker is warm; a script asks again itself.
_WAIT_S = 1.2
_SCRIPT_WAIT_S = 60.0


@router.get("/s/{handle}/answer", response_class=HTMLResponse)
def answer_page(request: Request, services: ServicesHere, handle: str) -> Response:
    """The whole page."""
    return _shown(request, services, handle, "answer.html.j2")


@router.get("/s/{handle}/answer/now", response_class=HTMLResponse)
def answer_now(request: Request, services: ServicesHere, handle: str) -> Response:
    """The part of the page that changes, for the script that keeps it fresh."""
    return _shown(request, services, handle, "answer_now.html.j2")


@router.post("/s/{handle}/answer/stop")
def stop(services: ServicesHere, handle: str, job: Annotated[str, Form()]) -> Response:
    """Stop a computation of this study."""
    state = _state(services, handle)
    _job(services, state, job)
    services.jobs.cancel(job)
    return _back(handle)


@router.post("/s/{handle}/answer/again")
def compute_again(services: ServicesHere, handle: str) -> Response:
    """Begin anew what was stopped or failed."""
    again(services, _state(services, handle))
    return _back(handle)


@router.post("/s/{handle}/answer/make")
def make(
    request: Request, services: ServicesHere, handle: str, kind: Annotated[str, Form()]
) -> Response:
    """Have a file made for taking home."""
    state = _state(services, handle)
    progress = progress_of(services, state, wait_s=0.0)
    unit = _unit(request, progress)
    if ask_for(services, state, progress, kind=kind, unit=unit) is None:
        raise HTTPException(409, "There is no calibrated answer yet to make this from.")
    return _back(handle, "#take-home")


@router.get("/s/{handle}/answer/file/{job_id}")
def fetch(services: ServicesHere, handle: str, job_id: str) -> Response:
    """A file that was made."""
    state = _state(services, handle)
    try:
        path, made = file_of(services, _job(services, state, job_id))
    except (ImpossibleValue, KeyError):
        raise HTTPException(404, "There is no such file.") from None
    if not path.exists():
        raise HTTPException(404, "This file is no longer there. Have it made again.")
    return FileResponse(path, media_type=made["media"], filename=made["name"])


@router.get("/s/{handle}/answer/answer.json")
def answer_file(services: ServicesHere, handle: str) -> Response:
    """The calibrated answer as data, the same as ``answer --json`` prints."""
    state = _state(services, handle)
    progress = progress_of(services, state, wait_s=0.0)
    found = None
    if progress.whole is not None and progress.calibrated:
        found = result_of(progress.whole)["answer"]
    if found is None:
        raise HTTPException(409, "There is no calibrated answer yet.")
    return Response(
        json.dumps(found, ensure_ascii=False, allow_nan=False, indent=2) + "\n",
        media_type="application/json",
        headers={"Content-Disposition": f'attachment; filename="{state.handle}-answer.json"'},
    )


@router.get("/s/{handle}/answer/charts")
def charts(
    services: ServicesHere, handle: str, job: str, unit: str, theme: str, size: str
) -> Response:
    """The charts as Vega-Lite specifications."""
    source = _chart_source(services, handle, job, unit=unit, theme=theme, size=size)
    made = chart_data(services, source, unit=unit, theme=theme, size=size)
    if made is None:
        raise HTTPException(503, "The charts could not be drawn in time. Load the page again.")
    return Response(
        json.dumps({"charts": made}), media_type="application/json", headers=_KEEP_PRIVATE
    )


@router.get("/s/{handle}/answer/chart/{name}.svg")
def chart(
    services: ServicesHere, handle: str, name: str, job: str, unit: str, theme: str, size: str
) -> Response:
    """One chart as a picture."""
    source = _chart_source(services, handle, job, unit=unit, theme=theme, size=size)
    drawn = chart_drawing(services, source, name=name, unit=unit, theme=theme, size=size)
    if drawn is None:
        raise HTTPException(404, "There is no such chart.")
    # A picture may style itself; it can run nothing and fetch nothing.
    policy = "sandbox; default-src 'none'; style-src 'unsafe-inline'"
    headers = {**_KEEP_PRIVATE, "Content-Security-Policy": policy}
    return Response(drawn, media_type="image/svg+xml", headers=headers)


@router.get("/assets/vega.js")
def vega(services: ServicesHere) -> Response:
    """The drawing library, written to disk once by a worker."""
    name = f"vega-{VERSION}.js"
    path: Path = services.folder / MADE / name
    if not path.exists():
        given = {"name": name, "at": services.now()}
        ask_and_wait(services, "0" * 32, "chart-script", given=given, timeout_s=_SCRIPT_WAIT_S)
    if not path.exists():
        raise HTTPException(503, "The drawing library could not be made. Load the page again.")
    headers = {"Cache-Control": "public, max-age=86400"}
    return FileResponse(path, media_type="text/javascript", headers=headers)


_KEEP_PRIVATE = {"Cache-Control": "private, max-age=3600"}


def _shown(request: Request, services: Services, handle: str, template: str) -> Response:
    state = _state(services, handle)
    progress = progress_of(services, state, wait_s=_WAIT_S)
    unit = _unit(request, progress)
    return page(
        request,
        template,
        title=f"Answer: {state.title}",
        study=state,
        place="answer",
        context={
            "progress": progress,
            "counts": progress.counts,
            "unit": unit,
            "downloads": downloads_of(services, state, progress, unit=unit),
            "peeking": PEEKING,
            "peeking_source": PEEKING_SOURCE,
            "links": {p.label: f"/s/{state.handle}/piece/{p.id}" for p in state.pieces},
            **_found(progress, unit),
        },
    )


def _found(progress: Progress, unit: str) -> dict[str, Any]:
    """What the job that is shown has found: an answer in words, or what stands in the way."""
    nothing: dict[str, Any] = {
        "words": None,
        "answer": None,
        "titles": (),
        "problems": (),
        "settling": (),
    }
    if progress.shown is None:
        return nothing
    result = result_of(progress.shown)
    if result["answer"] is None:
        return {**nothing, "problems": [Problem(**plain) for plain in result["problems"]]}
    answer = in_unit(answer_in(result), unit)
    return {
        "words": words_of(answer),
        "answer": answer,
        "titles": figure_titles(answer),
        "problems": (),
        "settling": settling_of(result.get("settle", [])),
    }


def _unit(request: Request, progress: Progress) -> str:
    """The unit this person reads in, or the study's own."""
    shown = None if progress.shown is None else result_of(progress.shown)["answer"]
    own = ForceUnit.N if shown is None else ForceUnit(shown["unit"])
    return shown_unit(request, own).value


def _chart_source(
    services: Services, handle: str, job: str, *, unit: str, theme: str, size: str
) -> Job:
    state = _state(services, handle)
    if theme not in THEMES or size not in SIZES or unit not in set(ForceUnit):
        raise HTTPException(404, "There is no such chart.")
    found = _job(services, state, job)
    if found.result is None or found.kind not in (ANSWER, "quick-answer"):
        raise HTTPException(404, "There is no such chart.")
    return found


def _state(services: Services, handle: str) -> StudyState:
    state = services.bench.state(handle)
    if state is None:
        raise HTTPException(404, "There is no such study.")
    return state


def _job(services: Services, state: StudyState, job_id: str) -> Job:
    job = services.jobs.job(job_id)
    if job is None or job.study != state.id:
        raise HTTPException(404, "There is no such work.")
    return job


def _back(handle: str, place: str = "") -> Response:
    return RedirectResponse(f"/s/{handle}/answer{place}", status_code=303)
