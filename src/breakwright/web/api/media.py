"""Photos and traces in, kept in the store beside the events that name them."""

from typing import Annotated

from fastapi import File, Form, HTTPException, Query, Request, UploadFile
from starlette.concurrency import run_in_threadpool

from breakwright.web.api.common import Key, api_router, body_of, study_of
from breakwright.web.api.shapes import HEX, MediaKept
from breakwright.web.photos import keep_photo
from breakwright.web.services import ServicesHere
from breakwright.web.traces import keep_trace

__all__ = ["router"]

router = api_router("media")

_Id = Annotated[str | None, Form(pattern=HEX)]
_QueryId = Annotated[str | None, Query(pattern=HEX)]


@router.post("/studies/{key}/photos")
def add_photo(
    services: ServicesHere,
    key: Key,
    photo: Annotated[UploadFile, File(description="JPEG, PNG or WebP, at most 32 MB")],
    piece: _Id = None,
    caption: Annotated[str | None, Form(max_length=4000)] = None,
    id: _Id = None,  # noqa: A002
) -> MediaKept:
    """Keep a photo of a piece, or of the study. It is made anew (at most 2560 pixels wide or
    high), so that no place, time or camera in it is kept."""
    state = study_of(services, key)
    if piece is not None and state.piece(piece) is None:
        raise HTTPException(404, f"There is no piece '{piece}' in this study.")
    name, receipt = keep_photo(
        services, state.id, photo.file.read(), piece=piece, caption=caption, event_id=id
    )
    return MediaKept(media=name, new=list(receipt.new), known=receipt.known)


@router.post("/studies/{key}/traces", openapi_extra=body_of("text/csv"))
async def add_trace(
    request: Request,
    services: ServicesHere,
    key: Key,
    piece: _QueryId = None,
    id: _QueryId = None,  # noqa: A002
    note: Annotated[str | None, Query(max_length=4000)] = None,
) -> MediaKept:
    """Keep the trace of a load cell: a CSV table whose first line names ``time_s`` and a load
    column with its unit, such as ``load_N``."""
    data = await request.body()
    state = await run_in_threadpool(study_of, services, key)
    if piece is not None and state.piece(piece) is None:
        raise HTTPException(404, f"There is no piece '{piece}' in this study.")
    name, receipt = await run_in_threadpool(
        keep_trace, services, state.id, data, piece=piece, note=note, event_id=id
    )
    return MediaKept(media=name, new=list(receipt.new), known=receipt.known)
