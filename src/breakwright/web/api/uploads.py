"""Resumable uploads of films: begin, ask how far, append at a place, finish."""

import asyncio
from typing import Annotated, Any
from weakref import WeakValueDictionary

from fastapi import Header, HTTPException, Path, Request, Response
from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect

from breakwright.model.event import Event, VideoAdded
from breakwright.web.api.common import api_router, body_of, study_of
from breakwright.web.api.shapes import HEX, FilmKept, UploadIn, UploadOut
from breakwright.web.doors.limits import too_large
from breakwright.web.services import Services, ServicesHere, new_id
from breakwright.web.uploads import Upload, Uploads

__all__ = ["plain_name", "router"]

router = api_router("uploads")

_UploadId = Annotated[str, Path(pattern=HEX)]
_Offset = Annotated[int, Header(ge=0, lt=2**53)]
# Written to the disk in pieces of this size: few calls, little memory.
_GATHER = 2**20
_BUSY: WeakValueDictionary[str, asyncio.Lock] = WeakValueDictionary()
_HOW_FAR: dict[int | str, dict[str, Any]] = {
    200: {
        "headers": {
            "Upload-Offset": {"schema": {"type": "integer"}, "description": "bytes that are here"},
            "Upload-Length": {"schema": {"type": "integer"}, "description": "bytes in all"},
        }
    }
}


@router.post("/uploads", status_code=201)
def begin_upload(services: ServicesHere, given: UploadIn) -> UploadOut:
    """Begin an upload, or find it again by the ``id`` you gave. Room on the disk is checked."""
    state = study_of(services, given.study)
    if given.piece is not None and state.piece(given.piece) is None:
        raise HTTPException(404, f"There is no piece '{given.piece}' in this study.")
    uploads = Uploads(services.folder)
    upload = uploads.begin(
        Upload(
            id=given.id or new_id(),
            study=state.id,
            name=plain_name(given.name),
            size=given.size,
            piece=given.piece,
            sha256=given.sha256,
        )
    )
    return _out(upload, uploads.offset(upload))


@router.get("/uploads/{upload_id}", responses=_HOW_FAR)
@router.head("/uploads/{upload_id}", include_in_schema=False)
def how_far(services: ServicesHere, upload_id: _UploadId, response: Response) -> UploadOut:
    """How many bytes have come; send on from there. (HEAD tells it in headers alone.)"""
    upload = _upload(services, upload_id)
    offset = Uploads(services.folder).offset(upload)
    response.headers["upload-offset"] = str(offset)
    response.headers["upload-length"] = str(upload.size)
    return _out(upload, offset)


@router.patch("/uploads/{upload_id}", openapi_extra=body_of("application/octet-stream"))
async def append_bytes(
    request: Request, services: ServicesHere, upload_id: _UploadId, upload_offset: _Offset
) -> UploadOut:
    """Append bytes at ``Upload-Offset``, which must be where the upload stands. A link that
    breaks loses nothing that had come; ask how far it got and go on."""
    upload = await run_in_threadpool(_upload, services, upload_id)
    uploads = Uploads(services.folder)
    lock = _BUSY.setdefault(upload_id, asyncio.Lock())
    if lock.locked():
        raise HTTPException(409, "Another call is just adding to this upload. Ask how far it got.")
    async with lock:
        offset = await run_in_threadpool(uploads.offset, upload)
        if upload_offset != offset:
            raise HTTPException(409, f"This upload stands at {offset}; go on from there.")
        offset = await _pour(request, uploads, upload, offset)
    return _out(upload, offset)


async def _pour(request: Request, uploads: Uploads, upload: Upload, at: int) -> int:
    gathered = bytearray()
    try:
        async for chunk in request.stream():
            if at + len(gathered) + len(chunk) > upload.size:
                raise too_large(upload.size)
            gathered += chunk
            if len(gathered) >= _GATHER:
                at = await run_in_threadpool(uploads.append, upload, bytes(gathered), at=at)
                gathered.clear()
    except ClientDisconnect:
        pass  # what had come is kept all the same
    if gathered:
        at = await run_in_threadpool(uploads.append, upload, bytes(gathered), at=at)
    return at


@router.post("/uploads/{upload_id}/finish")
def finish_upload(services: ServicesHere, upload_id: _UploadId) -> FilmKept:
    """Check the film, put it in its place, and note that it is there. Again is harmless."""
    upload = _upload(services, upload_id)
    uploads = Uploads(services.folder)
    found = uploads.finish(upload)
    body = VideoAdded(upload.file, upload.name, upload.size, found, upload.piece)
    receipt = services.record_once(Event(upload.id, upload.study, services.now(), body))
    return FilmKept(
        file=upload.file,
        sha256=found,
        size=upload.size,
        new=list(receipt.new),
        known=receipt.known,
    )


@router.delete("/uploads/{upload_id}", status_code=204)
def drop_upload(services: ServicesHere, upload_id: _UploadId) -> None:
    """Give an upload up. A film that is finished stays."""
    Uploads(services.folder).forget(_upload(services, upload_id))


def _upload(services: Services, upload_id: str) -> Upload:
    upload = Uploads(services.folder).find(upload_id)
    if upload is None:
        raise HTTPException(404, f"There is no upload '{upload_id}' (any more).")
    return upload


def plain_name(name: str) -> str:
    """Return what a person called it, without the folders that some browsers send along."""
    last = name.replace("\\", "/").rpartition("/")[2]
    return "".join(c for c in last if c.isprintable()).strip() or "film"


def _out(upload: Upload, offset: int) -> UploadOut:
    return UploadOut(id=upload.id, name=upload.name, size=upload.size, offset=offset)
