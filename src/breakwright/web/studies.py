"""The first page: the studies, a new one, the demo, one brought along, the shelf."""

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, Any

from fastapi import APIRouter, File, HTTPException, Request, Response, UploadFile
from fastapi.responses import RedirectResponse

from breakwright.bootstrap.editing import (
    NewScale,
    NewStudy,
    free_handle,
    new_study_toml,
    study_table,
    title_of,
)
from breakwright.bootstrap.prepare import plan_text
from breakwright.model.errors import ImpossibleValue, InputRefused, Problem
from breakwright.model.event import StudyMade, StudyShelved, StudyTakenUp
from breakwright.model.units import ForceUnit
from breakwright.usecases.bench.ports import StudyLine
from breakwright.web.preparing.forms import Form, FormHere
from breakwright.web.preparing.scales import SHARING
from breakwright.web.rendering import page
from breakwright.web.services import Services, ServicesHere, new_id

__all__ = ["router"]

router = APIRouter(include_in_schema=False)

_SCALES = 2


@router.get("/")
def studies(request: Request, services: ServicesHere) -> Response:
    return _list(request, services, Form())


def _list(
    request: Request,
    services: Services,
    form: Form,
    *,
    problems: Sequence[Problem] = (),
    name: str = "",
) -> Response:
    lines = services.bench.studies()
    return page(
        request,
        "studies.html.j2",
        title="Studies",
        status=422 if problems else 200,
        context={
            "form": form,
            "at_work": [_row(services, line) for line in lines if not line.shelved],
            "shelved": [_row(services, line) for line in lines if line.shelved],
            "problems": problems,
            "name": name,
        },
    )


def _row(services: Services, line: StudyLine) -> dict[str, Any]:
    state = services.bench.state(line.id)
    try:
        table = study_table(state.toml) if state else {}
    except ImpossibleValue:
        table = {}
    left = line.pieces - line.read - line.void
    return {
        "line": line,
        "title": line.title or line.handle,
        "question": str(table.get("question", "")),
        "invented": table.get("invented") is True,
        "left": max(0, left),
        "place": "prepare" if not line.pieces else "break" if left > 0 else "answer",
        "touched": line.touched[:16].replace("T", " "),
    }


@router.get("/new")
def new(request: Request) -> Response:
    return _new(request, Form())


@router.post("/new")
def make(request: Request, services: ServicesHere, form: FormHere) -> Response:
    study = _typed(form)
    if not form.is_fine:
        return _new(request, form)
    text = new_study_toml(study)
    try:
        plan_text(text)
    except InputRefused as refused:
        return _new(request, form, problems=refused.problems)
    taken = {line.handle for line in services.bench.studies()}
    handle = free_handle(title_of(study.question), taken)
    services.record([services.event(new_id(), StudyMade(text, handle))])
    return RedirectResponse(f"/s/{handle}/prepare", status_code=303)


def _typed(form: Form) -> NewStudy:
    question = form.needed("question", "What do you want to know?", most=2000)
    groups = form.lines("groups")
    if len(groups) < 2:
        form.refuse("groups", "Name two groups or more, one on each line.")
    elif len(set(groups)) < len(groups):
        form.refuse("groups", "Two groups have the same name.")
    reference = form.text("reference") or (groups[0] if groups else "")
    if groups and reference not in groups:
        form.refuse("reference", f"The reference is one of the groups: {', '.join(groups)}.")
    unit = form.choice("unit", [u.value for u in ForceUnit])
    if unit is None:
        form.refuse("unit", "In which unit do your scales show the load?")
    worth = form.above("worth", 1)
    if worth is not None and worth >= 100:
        form.refuse("worth", "A ratio of 1.2 means a fifth stronger; 100 or more is not taken.")
    scales = []
    for i in range(_SCALES):
        capacity, resolution = form.above(f"capacity{i}", 0), form.number(f"resolution{i}", low=0)
        name = form.text(f"scale{i}", most=60)
        if name or capacity is not None or resolution is not None:
            scales.append(NewScale(name or f"scale {i + 1}", capacity, resolution))
    if len(scales) == 2 and scales[0].name == scales[1].name:
        form.refuse("scale1", "Give the two scales names that differ.")
    sharing = form.choice("sharing", tuple(SHARING)) if len(scales) == 2 else None
    counts = form.text("counts", most=80) or None
    return NewStudy(question, groups, reference, counts, worth, unit or "N", tuple(scales), sharing)


def _new(request: Request, form: Form, *, problems: Sequence[Problem] = ()) -> Response:
    return page(
        request,
        "studies_new.html.j2",
        title="A new study",
        status=422 if problems or not form.is_fine else 200,
        context={
            "form": form,
            "problems": problems,
            "force_units": [u.value for u in ForceUnit],
            "scales": range(_SCALES),
            "sharing": SHARING,
        },
    )


@router.post("/demo")
def demo(services: ServicesHere) -> Response:
    """Open the demo study; it is made where it is not there yet."""
    from breakwright.web.demo_study import see_to_demo

    return RedirectResponse(f"/s/{see_to_demo(services)}/answer", status_code=303)


@router.post("/import")
def bring(
    request: Request, services: ServicesHere, file: Annotated[UploadFile, File()]
) -> Response:
    """Take in a study folder as a zip, or a lone sheet."""
    name = (file.filename or "").replace("\\", "/").rsplit("/", 1)[-1][:200]
    try:
        study = _taken_in(services, name, file)
    except InputRefused as refused:
        return _list(request, services, Form(), problems=refused.problems, name=name)
    state = services.bench.state(study)
    if state is None:
        raise HTTPException(404, "The study was taken in and its beginning did not come along.")
    place = "answer" if any(piece.heads for piece in state.pieces) else "prepare"
    return RedirectResponse(f"/s/{state.handle}/{place}", status_code=303)


def _taken_in(services: Services, name: str, file: UploadFile) -> str:
    """Keep what was brought along, and return the study's id."""
    import shutil
    import tempfile

    from breakwright.bootstrap.folders import Making, keep_import, read_import

    making = Making(services.now(), new_id, device="server")
    handles = [(line.handle, line.id) for line in services.bench.studies()]
    # From the disk, so that a folder full of photos does not lie in memory.
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / ("study.zip" if name.lower().endswith(".zip") else "sheet.csv")
        with path.open("wb") as copy:
            shutil.copyfileobj(file.file, copy)
        incoming = read_import(path, name=name or "sheet.csv", making=making, handles=handles)
        keep_import(services.bench.store, incoming, received=services.now())
    services.listeners.tell()
    return incoming.events[0].study


@router.post("/s/{handle}/shelve")
def shelve(services: ServicesHere, handle: str) -> Response:
    return _moved(services, handle, StudyShelved())


@router.post("/s/{handle}/take-up")
def take_up(services: ServicesHere, handle: str) -> Response:
    return _moved(services, handle, StudyTakenUp())


def _moved(services: Services, handle: str, body: StudyShelved | StudyTakenUp) -> Response:
    study = services.bench.find(handle)
    if study is None:
        raise HTTPException(404, "There is no study of this name.")
    services.record([services.event(study, body)])
    return RedirectResponse("/", status_code=303)
