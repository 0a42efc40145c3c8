"""A photo from the page at the rig or of a piece, without scripts."""

from typing import Annotated

from fastapi import APIRouter, File, Form, UploadFile
from fastapi.responses import RedirectResponse, Response

from breakwright.web.breaking.finding import piece_of, study_of
from breakwright.web.photos import keep_photo
from breakwright.web.services import ServicesHere

__all__ = ["router"]

router = APIRouter(include_in_schema=False)


@router.post("/s/{handle}/break/photo")
def photo(
    services: ServicesHere,
    handle: str,
    file: Annotated[UploadFile, File()],
    piece: Annotated[str, Form()],
    caption: Annotated[str, Form()] = "",
    back: Annotated[str, Form()] = "",
) -> Response:
    """Keep the picture and go back to where the form stood."""
    state = study_of(services, handle)
    shown = piece_of(state, piece)
    words = " ".join(caption.split()) or None
    keep_photo(services, state.id, file.file.read(), piece=shown.id, caption=words)
    there = f"/s/{handle}/piece/{shown.id}" if back else f"/s/{handle}/break?piece={shown.id}"
    return RedirectResponse(there, status_code=303)
