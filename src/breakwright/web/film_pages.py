"""All addresses of films: their list, the page to mark on, the reading, the looking through."""

from fastapi import APIRouter

from breakwright.web.filming import listing, marking, pictures, reading, review, review_forms

__all__ = ["router"]

router = APIRouter()
for part in (listing, marking, pictures, reading, review, review_forms):
    router.include_router(part.router)
