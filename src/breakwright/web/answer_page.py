"""A place kept for its owner."""

from fastapi import APIRouter

__all__ = ["router"]

router = APIRouter()
