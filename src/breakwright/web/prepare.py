"""Everything before the first break, one page for each step of the work."""

from fastapi import APIRouter

from breakwright.web.preparing import (
    astext,
    measuring,
    numbers,
    order,
    overview,
    preparation,
    printing,
    question,
    rig,
    scales,
)

__all__ = ["router"]

router = APIRouter(include_in_schema=False)
for step in (
    overview,
    question,
    scales,
    rig,
    numbers,
    order,
    preparation,
    measuring,
    printing,
    astext,
):
    router.include_router(step.router)
