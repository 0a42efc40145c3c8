"""The scripts, styles and pictures of the pages: files of the package, by allowed names only."""

import re
from pathlib import Path

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import Response

__all__ = ["router"]

router = APIRouter(include_in_schema=False)

_FOLDER = Path(__file__).parent / "assets"
_NAME = re.compile(r"[a-z0-9][a-z0-9-]*(\.[a-z0-9-]+)*\.(css|js|svg|png|json|webmanifest)")
_KINDS = {
    "css": "text/css; charset=utf-8",
    "js": "text/javascript; charset=utf-8",
    "json": "application/json",
    "png": "image/png",
    "svg": "image/svg+xml",
    "webmanifest": "application/manifest+json",
}
# By name: when and how large the file was, what it holds, and its mark.
_HELD: dict[str, tuple[tuple[int, int], bytes, str]] = {}


@router.get("/assets/{name}")
def asset(request: Request, name: str) -> Response:
    """One file. The browser asks each time whether it has changed, so that a new version of
    Breakwright never meets old scripts."""
    found = _NAME.fullmatch(name)
    if found is None:
        raise HTTPException(404, f"There is no file '{name[:80]}' here.")
    data, mark = _read(name)
    headers = {"etag": mark, "cache-control": "no-cache"}
    if mark in request.headers.get("if-none-match", ""):
        return Response(status_code=304, headers=headers)
    return Response(data, media_type=_KINDS[name.rpartition(".")[2]], headers=headers)


def _read(name: str) -> tuple[bytes, str]:
    from hashlib import sha256

    path = _FOLDER / name
    try:
        there = path.stat()
        stamp = (there.st_mtime_ns, there.st_size)
        held = _HELD.get(name)
        if held is None or held[0] != stamp:
            data = path.read_bytes()
            held = _HELD[name] = (stamp, data, f'"{sha256(data).hexdigest()[:32]}"')
    except OSError as error:
        raise HTTPException(404, f"There is no file '{name}' here.") from error
    return held[1], held[2]
