"""Templates into pages: the frame that all pages share, and what a person chose to see."""

from functools import cache
from typing import TYPE_CHECKING, Any

from fastapi import Request
from fastapi.responses import HTMLResponse

from breakwright.model.units import NEWTONS_PER, ForceUnit
from breakwright.usecases.bench.state import StudyState
from breakwright.version import VERSION

if TYPE_CHECKING:
    from jinja2 import Environment

__all__ = ["UNIT_COOKIE", "load_words", "page", "shown_unit"]

# Each person reads in the unit of their own choice; what was typed keeps the one it came in.
UNIT_COOKIE = "breakwright-unit"


@cache
def _environment() -> "Environment":
    from jinja2 import Environment, PackageLoader, StrictUndefined

    environment = Environment(
        loader=PackageLoader("breakwright.web", "templates"),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=StrictUndefined,
    )
    environment.globals["version"] = VERSION
    environment.globals["units"] = [unit.value for unit in ForceUnit]
    return environment


def shown_unit(request: Request, otherwise: ForceUnit) -> ForceUnit:
    """Return the unit this person reads loads in, or the study's own."""
    try:
        return ForceUnit(request.cookies.get(UNIT_COOKIE, ""))
    except ValueError:
        return otherwise


def load_words(newtons: float, unit: ForceUnit) -> str:
    """Return a load to four digits, with its unit.

    >>> load_words(4040.3, ForceUnit.KN), load_words(4040.3, ForceUnit.KGF)
    ('4.040 kN', '412.0 kgf')
    """
    value = newtons / NEWTONS_PER[unit]
    digits = max(0, min(6, 4 - len(str(int(abs(value)))))) if abs(value) >= 1 else 4
    return f"{value:.{digits}f} {unit}"


def page(
    request: Request,
    template: str,
    *,
    title: str,
    study: StudyState | None = None,
    place: str = "",
    status: int = 200,
    context: dict[str, Any] | None = None,
) -> HTMLResponse:
    """Return the page made from ``template``.

    ``place`` is the page's key in the study's row of pages (prepare, break, answer), which
    ``study`` None leaves out.
    """
    made = (
        _environment()
        .get_template(template)
        .render(
            request=request,
            title=title,
            study=study,
            place=place,
            chosen_unit=request.cookies.get(UNIT_COOKIE, ""),
            **(context or {}),
        )
    )
    return HTMLResponse(made, status_code=status)
