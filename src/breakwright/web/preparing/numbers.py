"""How many pieces: what is expected, what is wished for, what the whole plan makes of it."""

from collections.abc import Sequence

from fastapi import APIRouter, Request, Response

from breakwright.bootstrap.editing import with_keys
from breakwright.usecases.bench.ports import Job
from breakwright.web.preparing.forms import Form, FormHere, read_number
from breakwright.web.preparing.looking import result_of, worked
from breakwright.web.preparing.saving import save_text
from breakwright.web.preparing.view import View, ViewHere, back, show
from breakwright.web.rendering import shown_unit
from breakwright.web.services import ServicesHere
from breakwright.web.work.asking import ALIVE, ask_instead, standing

__all__ = ["router"]

router = APIRouter()

_MOST_OFFERS = 6


@router.get("/s/{handle}/prepare/numbers")
def page(request: Request, view: ViewHere, services: ServicesHere, offers: str = "") -> Response:
    expected, wish = view.box("expected"), view.box("wish")
    ratio = expected.get("ratio", {})
    values: dict[str, object] = {
        "base": view.base,
        "offers": offers,
        "median": expected.get("median"),
        "cv": _percent(expected.get("cv")),
        "wrong_way": _percent(expected.get("wrong_way")),
        "pilots": " ".join(f"{load:g}" for load in expected.get("pilots", [])),
        "chance": _percent(wish.get("chance", 0.8)),
        "width": wish.get("width"),
        "pieces": wish.get("pieces"),
    }
    for i, group in enumerate(view.groups):
        values[f"ratio{i}"] = ratio.get(group) if isinstance(ratio, dict) else None
    return _page(request, view, services, Form.of(values))


@router.post("/s/{handle}/prepare/numbers")
def save(request: Request, view: ViewHere, services: ServicesHere, form: FormHere) -> Response:
    ratio = {}
    for i, group in enumerate(view.groups):
        times = form.above(f"ratio{i}", 0.01)
        if times is not None:
            ratio[group] = times
    expected: dict[str, object] = {
        "median": form.above("median", 0),
        "cv": _share(form, "cv", high=200),
        "ratio": ratio,
        "wrong_way": _share(form, "wrong_way", high=99),
        "pilots": form.numbers("pilots"),
    }
    wish: dict[str, object] = {
        "chance": _share(form, "chance", high=99.9),
        "width": form.above("width", 1),
        "pieces": form.whole("pieces", low=2, high=10_000),
    }
    problems: tuple[object, ...] = ()
    if form.is_fine:
        problems = save_text(
            services,
            view.state,
            base=form.text("base"),
            edit=lambda text: with_keys(
                with_keys(text, expected, within="expected"), wish, within="wish"
            ),
            touches=("expected", "wish", "groups", "unit"),
        )
    if problems or not form.is_fine:
        return _page(request, view, services, form, problems=problems)
    return back(view, "/numbers")


@router.post("/s/{handle}/prepare/numbers/count")
def count(request: Request, view: ViewHere, services: ServicesHere, form: FormHere) -> Response:
    """Have the whole plan reckoned; the page shows how far it is, and finds it again."""
    offers = _offers(form)
    if not form.is_fine:
        return _page(request, view, services, form)
    ask_instead(services, view.state.id, "before", given=_given(request, view, tuple(offers)))
    typed = "+".join(f"{offer:g}" for offer in offers)
    return back(view, f"/numbers{'?offers=' + typed if typed else ''}#count")


@router.post("/s/{handle}/prepare/numbers/stop")
def stop(view: ViewHere, services: ServicesHere) -> Response:
    job = services.jobs.newest(view.state.id, "before")
    if job is not None and job.state in ALIVE:
        services.jobs.cancel(job.id)
    return back(view, "/numbers#count")


def _offers(form: Form) -> list[float | int]:
    offers = form.numbers("offers")
    if any(not 0 < offer < 1e9 for offer in offers) or len(offers) > _MOST_OFFERS:
        form.refuse("offers", f"At most {_MOST_OFFERS} scales, each with a capacity above 0.")
    return offers


def _given(request: Request, view: View, offers: Sequence[float]) -> dict[str, object]:
    unit = shown_unit(request, view.unit).value
    return {"toml": view.state.toml, "unit": unit, "offers": [float(offer) for offer in offers]}


def _share(form: Form, name: str, *, high: float) -> float | None:
    value = form.number(name, low=0, high=high)
    return round(value / 100, 9) if value else None


def _percent(share: object) -> object:
    return round(share * 100, 6) if isinstance(share, int | float) else None


def _page(
    request: Request,
    view: View,
    services: ServicesHere,
    form: Form,
    *,
    problems: tuple[object, ...] = (),
) -> Response:
    typed = form.typed.get("offers", "").replace("+", " ").split()
    offers = [o for o in map(read_number, typed) if not isinstance(o, str)]
    now = standing(services, view.state.id, "before", given=_given(request, view, offers))
    job: Job | None = now or services.jobs.newest(view.state.id, "before")
    done = worked(now) if now is not None else None
    return show(
        request,
        view,
        "prepare_numbers.html.j2",
        title="Number of pieces",
        step="numbers",
        form=form,
        status=422 if problems else 200,
        problems=problems,
        job=now,
        is_alive=now is not None and now.state in ALIVE,
        done=done,
        is_old=now is None and job is not None and bool(result_of(job)),
    )
