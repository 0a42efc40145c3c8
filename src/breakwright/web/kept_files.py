"""Photos, traces and films out again, so that nothing in them runs or is taken for a page."""

import re

from fastapi import APIRouter, HTTPException
from fastapi.responses import FileResponse, Response

from breakwright.web.services import ServicesHere
from breakwright.web.uploads import Uploads

__all__ = ["router"]

router = APIRouter(include_in_schema=False)

_NAME = re.compile(r"[0-9a-f]{64}\.[a-z0-9]{1,5}")
_SHOWN = ("image/jpeg", "image/png", "image/webp")
_SAFE = {
    "content-security-policy": "default-src 'none'; sandbox; frame-ancestors 'none'",
    # A name is the hash of what it names: it never changes.
    "cache-control": "private, max-age=31536000, immutable",
}


@router.get("/media/{name}")
def media(services: ServicesHere, name: str) -> Response:
    """A photo, or a trace to save."""
    kept = services.bench.store.media(name) if _NAME.fullmatch(name) else None
    if kept is None:
        raise HTTPException(404, f"There is no photo or trace '{name[:80]}' here.")
    headers = dict(_SAFE)
    if kept.kind not in _SHOWN:
        headers["content-disposition"] = f'attachment; filename="{name}"'
    return Response(kept.data, media_type=kept.kind, headers=headers)


@router.get("/videos/{file}")
def video(services: ServicesHere, file: str) -> Response:
    """A film to save."""
    path = Uploads(services.folder).video(file)
    if path is None:
        raise HTTPException(404, f"There is no film '{file[:80]}' here.")
    kind = "application/octet-stream"
    return FileResponse(path, media_type=kind, filename=file, headers=_SAFE)
