"""Does a change come from a page of ours? Asked of every request that could change something."""

from collections.abc import Mapping
from enum import Enum, auto

__all__ = ["From", "origin_of"]


class From(Enum):
    """``OURS``: a page of this server. ``ELSEWHERE``: another page, or one without a name
    (``null``: sandboxed, or a file). ``NO_BROWSER``: nothing that a browser would send."""

    OURS = auto()
    ELSEWHERE = auto()
    NO_BROWSER = auto()


def origin_of(headers: Mapping[str, str], *, scheme: str) -> From:
    """Tell where a changing request comes from; ``headers`` by lower-case name.

    Origin first: over plain HTTP on a local network a browser sends it on every change, and no
    Sec-Fetch-Site at all.

    >>> origin_of({"host": "bench:8321", "origin": "http://bench:8321"}, scheme="http")
    <From.OURS: 1>
    >>> origin_of({"host": "bench:8321", "origin": "null"}, scheme="http")
    <From.ELSEWHERE: 2>
    """
    origin = headers.get("origin")
    if origin is not None:
        ours = f"{scheme}://{headers.get('host', '')}".lower()
        return From.OURS if origin.lower() == ours else From.ELSEWHERE
    site = headers.get("sec-fetch-site")
    if site is not None:
        # 'none': the person did it (typed the address, reloaded), no page.
        return From.OURS if site in ("same-origin", "none") else From.ELSEWHERE
    return From.NO_BROWSER
