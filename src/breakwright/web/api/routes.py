"""All routes of the API."""

from fastapi import APIRouter

from breakwright.web.api import events, jobs, media, readings, stream, studies, uploads

__all__ = ["router"]

router = APIRouter()
for part in (events, studies, readings, stream, jobs, media, uploads):
    router.include_router(part.router)
