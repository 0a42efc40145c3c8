"""The service worker that keeps the page at the rig on the device, where the browser allows one."""

from functools import cache
from importlib.resources import files

from fastapi import APIRouter
from fastapi.responses import Response

__all__ = ["router"]

router = APIRouter(include_in_schema=False)


@cache
def _script() -> str:
    return files("breakwright.web").joinpath("assets/break-offline.js").read_text("utf-8")


@router.get("/break-offline.js")
def offline_script() -> Response:
    """From the root, since a worker sees only what lies below its own address."""
    return Response(_script(), media_type="text/javascript", headers={"Cache-Control": "no-cache"})
