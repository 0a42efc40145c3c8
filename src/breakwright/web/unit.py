"""The unit in which a person reads loads: kept in a cookie of the device."""

import re
from typing import Annotated

from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import RedirectResponse

from breakwright.model.units import ForceUnit
from breakwright.web.rendering import UNIT_COOKIE

__all__ = ["local_path", "router"]

router = APIRouter(include_in_schema=False)

_YEAR_S = 365 * 24 * 3600
_LOCAL = re.compile(r"/([!-.0-\[\]-~][!-\[\]-~]*)?")


def local_path(back: str) -> str:
    """Return ``back`` where it stays on this server, else the first page.

    >>> local_path("/s/pegs/break"), local_path("//elsewhere.example/"), local_path("/\\\\x")
    ('/s/pegs/break', '/', '/')
    """
    return back if _LOCAL.fullmatch(back) else "/"


@router.post("/unit")
def choose_unit(
    request: Request,
    unit: Annotated[str, Form()] = "",
    back: Annotated[str, Form()] = "/",
) -> RedirectResponse:
    """Remember the unit and go back; an empty one means each study's own."""
    answer = RedirectResponse(local_path(back), status_code=303)
    if unit == "":
        answer.delete_cookie(UNIT_COOKIE)
        return answer
    if unit not in {known.value for known in ForceUnit}:
        units = ", ".join(known.value for known in ForceUnit)
        raise HTTPException(422, f"'{unit[:20]}' is none of the units {units}.")
    secure = request.url.scheme == "https"
    answer.set_cookie(
        UNIT_COOKIE, unit, max_age=_YEAR_S, httponly=True, samesite="lax", secure=secure
    )
    return answer
