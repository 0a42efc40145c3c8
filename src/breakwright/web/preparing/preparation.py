"""The preparation log: what was done to which pieces, and how long they still have to wait."""

import re
from datetime import datetime, timedelta, timezone

from fastapi import APIRouter, Request, Response

from breakwright.model.errors import Problem
from breakwright.model.event import PreparationLogged, Undone
from breakwright.usecases.bench.curing import hours_left, ready_times
from breakwright.usecases.bench.state import Standing
from breakwright.web.preparing.forms import Form, FormHere
from breakwright.web.preparing.missing import duration_text
from breakwright.web.preparing.saving import keep
from breakwright.web.preparing.view import View, ViewHere, back, show
from breakwright.web.services import ServicesHere

__all__ = ["router"]

router = APIRouter()

_OFFSET = re.compile(r"[+-]?\d{1,3}")
_WORKS = ("glued", "wedge driven in", "coat of finish", "oiled", "hole drilled", "conditioned")


@router.get("/s/{handle}/prepare/log")
def page(request: Request, view: ViewHere, services: ServicesHere) -> Response:
    now = services.clock().astimezone()
    return _page(request, view, services, Form.of({"started": now.strftime("%Y-%m-%dT%H:%M")}))


@router.post("/s/{handle}/prepare/log")
def save(request: Request, view: ViewHere, services: ServicesHere, form: FormHere) -> Response:
    work = form.needed("work", "What was done? For example: glued.", most=120)
    started = _started(form, services.clock())
    wait = form.number("wait_h", low=0, high=100_000)
    note = form.text("note", most=1000) or None
    pieces = _pieces(view, form)
    problems: tuple[Problem, ...] = ()
    if form.is_fine:
        wait_h = None if wait is None else float(wait)
        log = PreparationLogged(work, pieces, started, wait_h, note)
        problems = keep(services, view.state, [log])
    if problems or not form.is_fine:
        return _page(request, view, services, form, problems=problems)
    return back(view, "/log#waiting")


@router.post("/s/{handle}/prepare/log/undo")
def undo(view: ViewHere, services: ServicesHere, form: FormHere) -> Response:
    event = form.text("event")
    if any(p.event == event for p in view.state.preparations):
        keep(services, view.state, [Undone(event)])
    return back(view, "/log")


def _started(form: Form, now: datetime) -> str:
    """The time as typed is that of the device; its script tells how many minutes it is ahead of
    UTC. Without a script the server's own zone is taken."""
    typed = form.text("started")
    try:
        when = datetime.fromisoformat(typed) if typed else None
    except ValueError:
        when = None
    if when is None or when.tzinfo is not None:
        form.refuse("started", "When was it done? A day and a time, such as 2026-01-31 09:30.")
        return ""
    offset = form.text("offset")
    if _OFFSET.fullmatch(offset) and abs(int(offset)) <= 14 * 60:
        when = when.replace(tzinfo=timezone(timedelta(minutes=int(offset))))
    else:
        when = when.astimezone()
    if when > now + timedelta(days=1):
        form.refuse("started", "This lies in the future.")
    return when.isoformat(timespec="seconds")


def _pieces(view: View, form: Form) -> tuple[str, ...]:
    groups = {view.groups[int(i)] for i in form.many.get("group", []) if _is_place(i, view.groups)}
    chosen = set(form.many.get("piece", []))
    pieces = tuple(
        p.id
        for p in view.state.pieces
        if p.id in chosen or (p.group in groups and p.standing is Standing.WAITING)
    )
    if not pieces:
        form.refuse("pieces", "Choose the pieces it was done to, or whole groups.")
    return pieces


def _is_place(text: str, items: tuple[str, ...]) -> bool:
    return text.isdecimal() and int(text) < len(items)


def _page(
    request: Request,
    view: View,
    services: ServicesHere,
    form: Form,
    *,
    problems: tuple[Problem, ...] = (),
) -> Response:
    now = services.clock()
    state = view.state
    ready = ready_times(state)
    labels = {piece.id: piece.label for piece in state.pieces}
    waiting = []
    for piece in state.pieces:
        if piece.standing is not Standing.WAITING:
            continue
        until = ready.get(piece.id)
        left = hours_left(until, now)
        works = [p.log.work for p in state.preparations if piece.id in p.log.pieces]
        waiting.append(
            {
                "piece": piece,
                "works": ", ".join(dict.fromkeys(works)),
                "until": until.isoformat(timespec="minutes") if until and left else "",
                "shown": until.strftime("%d %b, %H:%M") if until and left else "",
                "left": duration_text(left) if left else "",
            }
        )
    logged = [
        {
            "event": p.event,
            "work": p.log.work,
            "started": p.log.started[:16].replace("T", " "),
            "pieces": ", ".join(labels.get(i, "?") for i in p.log.pieces),
            "wait": "" if p.log.wait_h is None else duration_text(p.log.wait_h or 0.02),
            "note": p.log.note or "",
        }
        for p in reversed(state.preparations)
    ]
    return show(
        request,
        view,
        "prepare_log.html.j2",
        title="Preparation log",
        step="log",
        form=form,
        status=422 if problems else 200,
        problems=problems,
        waiting=waiting,
        logged=logged,
        works=dict.fromkeys([*(p.log.work for p in state.preparations), *_WORKS]),
        chosen=set(form.many.get("piece", [])),
        chosen_groups=set(form.many.get("group", [])),
        standing=Standing,
    )
