"""What every route of the API shares: its prefix, its errors, finding a study."""

from typing import Annotated, Any

from fastapi import APIRouter, HTTPException, Path

from breakwright.usecases.bench.state import StudyState
from breakwright.web.api.shapes import Problems
from breakwright.web.services import Services

__all__ = ["Key", "api_router", "body_of", "study_of"]

_ERRORS = {
    400: "The request could not be read.",
    401: "This device has not been let in (docs/serve.md).",
    403: "A page from elsewhere asked for this.",
    404: "There is no such study, piece, job or upload.",
    409: "It clashes with what is there.",
    413: "It is larger than what is taken here.",
    421: "The server does not go by this name.",
    422: "What was sent makes no sense; nothing of it was kept.",
    503: "The store does not answer; nothing was kept.",
    507: "The disk is full; nothing of this was kept, all before it was.",
}

Key = Annotated[str, Path(description="the study's id or its short name", max_length=200)]


def api_router(tag: str) -> APIRouter:
    """Return a router for routes under /api/v1 whose errors are all told in the schema."""
    errors: dict[int | str, dict[str, Any]] = {
        status: {"model": Problems, "description": words} for status, words in _ERRORS.items()
    }
    return APIRouter(prefix="/api/v1", tags=[tag], responses=errors)


def body_of(kind: str) -> dict[str, Any]:
    """Return the schema's words for a body of raw bytes of this media type."""
    binary = {"schema": {"type": "string", "format": "binary"}}
    return {"requestBody": {"required": True, "content": {kind: binary}}}


def study_of(services: Services, key: str) -> StudyState:
    """Return the study, or end the request with status 404."""
    state = services.bench.state(key)
    if state is None:
        raise HTTPException(404, f"There is no study '{key[:80]}' here.")
    return state
