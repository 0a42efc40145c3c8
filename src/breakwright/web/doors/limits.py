"""How much a request may carry, and the counting of it while it streams."""

import re
from collections.abc import Mapping

from starlette.exceptions import HTTPException
from starlette.types import Message, Receive

__all__ = ["counted", "limit_of", "size_words", "too_large"]

_KIB, _MIB = 2**10, 2**20
_FORM = 1 * _MIB
_WITH_FILE = 32 * _MIB
_ROUTES = (
    # A part of a large upload is held against the size that its upload has declared.
    (re.compile(r"/api/v1/uploads/[^/]+"), None),
    (re.compile(r"/api/v1/events"), 4 * _MIB),
    (re.compile(r"/api/v1/studies/[^/]+/traces"), 64 * _MIB),
    (re.compile(r"/import"), 256 * _MIB),
    # A whole film at once, from a page without scripts.
    (re.compile(r"/s/[^/]+/films"), 1024 * _MIB),
)


def limit_of(path: str, headers: Mapping[str, str]) -> int | None:
    """Return how many bytes a request to ``path`` may carry; None: its route counts itself."""
    for pattern, limit in _ROUTES:
        if pattern.fullmatch(path):
            return limit
    kind = headers.get("content-type", "").lower()
    return _WITH_FILE if kind.startswith("multipart/form-data") else _FORM


def size_words(size: int) -> str:
    """Return a size as people say it.

    >>> size_words(33554432), size_words(512)
    ('32 MB', '512 bytes')
    """
    for step, name in ((2**30, "GB"), (_MIB, "MB"), (_KIB, "kB")):
        if size >= step:
            return f"{size / step:.3g} {name}"
    return f"{size} bytes"


def too_large(limit: int) -> HTTPException:
    return HTTPException(413, f"This is larger than the {size_words(limit)} that is taken here.")


def counted(receive: Receive, limit: int) -> Receive:
    """Return ``receive``, ending with status 413 once more than ``limit`` bytes have come."""
    seen = 0

    async def receive_counted() -> Message:
        nonlocal seen
        message = await receive()
        if message["type"] == "http.request":
            seen += len(message.get("body", b""))
            if seen > limit:
                raise too_large(limit)
        return message

    return receive_counted
