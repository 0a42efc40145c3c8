"""The pieces: drawn by lot, added and changed by hand, taken back while only planned."""

from collections.abc import Sequence

from fastapi import APIRouter, HTTPException, Request, Response

from breakwright.bootstrap.editing import with_keys
from breakwright.model.errors import Problem
from breakwright.model.event import (
    Body,
    PieceAdded,
    PieceChanged,
    PieceRestored,
    PieceVoided,
    Undone,
)
from breakwright.usecases.bench.ports import JobState
from breakwright.usecases.bench.state import PieceState, Standing, StudyState
from breakwright.web.preparing.forms import Form, FormHere
from breakwright.web.preparing.looking import problems_of, result_of
from breakwright.web.preparing.saving import keep, save_text
from breakwright.web.preparing.view import View, ViewHere, back, show
from breakwright.web.services import ServicesHere, new_id
from breakwright.web.work.asking import ask_and_wait

__all__ = ["is_only_planned", "router"]

router = APIRouter()

_LOT_S = 20.0
_MOST_PIECES = 2000
_SEED = 20240229


@router.get("/s/{handle}/prepare/order")
def page(request: Request, view: ViewHere, services: ServicesHere, drawn: bool = False) -> Response:
    wish = view.box("wish")
    values: dict[str, object] = {
        "base": view.base,
        "pieces": wish.get("pieces"),
        "blocks": "\n".join(wish.get("blocks", [])),
        "days": wish.get("days"),
        "operators": "\n".join(wish.get("operators", [])),
        "pairs": "yes" if wish.get("pairs") else "",
        "longest_run": wish.get("longest_run"),
        "seed": wish.get("seed"),
    }
    rows: list[dict[str, object]] = []
    problems: tuple[Problem, ...] = ()
    if drawn and wish.get("pieces"):
        rows, problems = _lot(services, view)
    return _page(request, view, Form.of(values), rows=rows, problems=problems)


@router.post("/s/{handle}/prepare/order")
def draw(request: Request, view: ViewHere, services: ServicesHere, form: FormHere) -> Response:
    """Keep what the order is balanced over in the study, and show the order."""
    pieces = form.whole("pieces", low=2, high=500)
    if pieces is None:
        form.refuse("pieces", "How many pieces of each group? 2 or more.")
    elif pieces * len(view.groups) > _MOST_PIECES:
        form.refuse("pieces", f"That is more than {_MOST_PIECES} pieces in all.")
    if len(view.groups) < 1:
        form.refuse("pieces", "Name the groups first, in step 1.")
    wish: dict[str, object] = {
        "pieces": pieces,
        "blocks": list(form.lines("blocks")),
        "days": form.whole("days", low=1, high=1000),
        "operators": list(form.lines("operators")),
        "pairs": True if form.typed.get("pairs") else None,
        "longest_run": form.whole("longest_run", low=1, high=1000),
        "seed": form.whole("seed", low=0, high=2**53 - 1),
    }
    problems: tuple[Problem, ...] = ()
    if form.is_fine:
        problems = save_text(
            services,
            view.state,
            base=form.text("base"),
            edit=lambda text: with_keys(text, wish, within="wish"),
            touches=("wish", "groups"),
        )
    if problems or not form.is_fine:
        return _page(request, view, form, problems=problems)
    return back(view, "/order?drawn=1#lot")


@router.post("/s/{handle}/prepare/order/take")
def take(request: Request, view: ViewHere, services: ServicesHere) -> Response:
    """Plan the pieces as drawn. Pieces of which nothing is known yet make room for them."""
    rows, problems = _lot(services, view)
    if not problems and rows:
        problems = keep(services, view.state, _replanned(view.state, rows))
    if problems or not rows:
        return _page(request, view, Form.of({"base": view.base}), problems=problems)
    return back(view, "/order#pieces")


def _lot(services: ServicesHere, view: View) -> tuple[list[dict[str, object]], tuple[Problem, ...]]:
    pieces = view.box("wish").get("pieces")
    if not isinstance(pieces, int):
        return [], ()
    job = ask_and_wait(
        services,
        view.state.id,
        "order",
        given={"toml": view.state.toml, "pieces": pieces},
        timeout_s=_LOT_S,
    )
    if job.state is not JobState.DONE:
        raise HTTPException(503, "The order was not drawn in time. Load the page again.")
    result = result_of(job)
    return list(result.get("rows", [])), problems_of(result)


def is_only_planned(state: StudyState, piece: PieceState) -> bool:
    """Is nothing known of this piece but that it is planned?"""
    worked_on = any(piece.id in p.log.pieces for p in state.preparations)
    return not (
        piece.versions
        or piece.measured
        or piece.photos
        or piece.traces
        or piece.videos
        or piece.void is not None
        or worked_on
    )


def _replanned(state: StudyState, rows: Sequence[dict[str, object]]) -> list[Body]:
    kept = [piece for piece in state.pieces if not is_only_planned(state, piece)]
    gone = [piece for piece in state.pieces if is_only_planned(state, piece)]
    labels = {piece.label for piece in kept}
    start = max((piece.order or 0 for piece in kept), default=0)
    events: list[Body] = [Undone(piece.added, "another order was drawn") for piece in gone]
    for row in rows:
        label = str(row["label"])
        number = 1
        while label in labels:
            number += 1
            label = f"{row['label']}{number}"
        labels.add(label)
        order, day = row["order"], row["day"]
        assert isinstance(order, int)
        assert isinstance(day, int)
        events.append(
            PieceAdded(
                new_id(),
                label,
                str(row["group"]),
                block=_text(row["block"]),
                order=start + order,
                day=day,
                operator=_text(row["operator"]),
                pair=_text(row["pair"]),
            )
        )
    return events


def _text(value: object) -> str | None:
    return None if value is None else str(value)


@router.get("/s/{handle}/prepare/order/new")
def new(request: Request, view: ViewHere) -> Response:
    order = max((p.order or 0 for p in view.state.pieces), default=0) + 1
    return _one(request, view, Form.of({"order": order}), piece=None)


@router.post("/s/{handle}/prepare/order/new")
def add(request: Request, view: ViewHere, services: ServicesHere, form: FormHere) -> Response:
    values = _typed(view, form, None)
    problems: tuple[Problem, ...] = ()
    if form.is_fine:
        body = PieceAdded(new_id(), **values)  # type: ignore[arg-type]
        problems = keep(services, view.state, [body])
    if problems or not form.is_fine:
        return _one(request, view, form, piece=None, problems=problems)
    return back(view, "/order#pieces")


@router.get("/s/{handle}/prepare/order/{piece}")
def one(request: Request, view: ViewHere, piece: str) -> Response:
    found = _piece(view, piece)
    names = ("label", "group", "block", "order", "day", "operator", "pair")
    return _one(request, view, Form.of({n: getattr(found, n) for n in names}), piece=found)


@router.post("/s/{handle}/prepare/order/{piece}")
def change(
    request: Request, view: ViewHere, services: ServicesHere, form: FormHere, piece: str
) -> Response:
    found = _piece(view, piece)
    bodies: list[Body] = []
    if "remove" in form.typed:
        if not is_only_planned(view.state, found):
            form.refuse("reason", "Something is known of this piece: leave it out, with a reason.")
        bodies = [Undone(found.added, form.text("reason") or "taken back")]
    elif "void" in form.typed:
        reason = form.needed("reason", "Why is it left out? The reason stays in the report.")
        bodies = [PieceVoided(found.id, reason)]
    elif "restore" in form.typed:
        reason = form.needed("reason", "Why does it count again?")
        bodies = [PieceRestored(found.id, reason)]
    else:
        values = _typed(view, form, found)
        changed = {k: v for k, v in values.items() if v is not None and v != getattr(found, k)}
        if changed:
            why = form.text("reason") or None
            bodies = [PieceChanged(found.id, reason=why, **changed)]  # type: ignore[arg-type]
    problems: tuple[Problem, ...] = ()
    if form.is_fine:
        problems = keep(services, view.state, bodies)
    if problems or not form.is_fine:
        return _one(request, view, form, piece=found, problems=problems)
    return back(view, "/order#pieces")


def _typed(view: View, form: Form, piece: PieceState | None) -> dict[str, object]:
    label = form.needed("label", "Give the piece a label, as it stands on it.", most=40)
    others = {p.label for p in view.state.pieces if piece is None or p.id != piece.id}
    if label in others:
        form.refuse("label", f"Another piece is called '{label}' already.")
    group = form.choice("group", view.groups)
    if group is None:
        form.refuse("group", "Which group does it belong to?")
    return {
        "label": label,
        "group": group,
        "block": form.text("block") or None,
        "order": form.whole("order", low=1, high=100_000),
        "day": form.whole("day", low=1, high=1000),
        "operator": form.text("operator") or None,
        "pair": form.text("pair") or None,
    }


def _piece(view: View, key: str) -> PieceState:
    found = view.state.piece(key)
    if found is None:
        raise HTTPException(404, "There is no such piece in this study.")
    return found


def _page(
    request: Request,
    view: View,
    form: Form,
    *,
    rows: Sequence[dict[str, object]] = (),
    problems: tuple[Problem, ...] = (),
) -> Response:
    state = view.state
    only = [p for p in state.pieces if is_only_planned(state, p)]
    return show(
        request,
        view,
        "prepare_order.html.j2",
        title="Pieces and order",
        step="order",
        form=form,
        status=422 if problems else 200,
        problems=problems,
        rows=rows,
        gone=len(only),
        stay=len(state.pieces) - len(only),
        usual_seed=_SEED,
        standing=Standing,
    )


def _one(
    request: Request,
    view: View,
    form: Form,
    *,
    piece: PieceState | None,
    problems: tuple[Problem, ...] = (),
) -> Response:
    return show(
        request,
        view,
        "prepare_piece.html.j2",
        title="Add a piece" if piece is None else f"Piece {piece.label}",
        step="order",
        form=form,
        status=422 if problems else 200,
        problems=problems,
        piece=piece,
        is_planned=piece is not None and is_only_planned(view.state, piece),
    )
