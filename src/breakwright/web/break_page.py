"""All addresses of Break: the page at the rig, the page of one piece, what was understood."""

from fastapi import APIRouter

from breakwright.web.breaking import (
    entering,
    handing_in,
    kept_page,
    photo_form,
    piece_forms,
    piece_page,
    rig_forms,
    rig_page,
    understanding,
)

__all__ = ["router"]

router = APIRouter()
for part in (
    rig_page,
    entering,
    rig_forms,
    photo_form,
    handing_in,
    kept_page,
    piece_page,
    piece_forms,
    understanding,
):
    router.include_router(part.router)
