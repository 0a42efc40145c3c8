"""The doors as one layer around the application (pure ASGI): names, token, origin, sizes."""

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import parse_qs

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from breakwright.web.doors.headers import with_headers
from breakwright.web.doors.hosts import host_allowed, host_name, is_loopback
from breakwright.web.doors.limits import counted, limit_of, size_words
from breakwright.web.doors.origin import From, origin_of
from breakwright.web.doors.refusal import refusal
from breakwright.web.doors.token import COOKIE, same_token

__all__ = ["Doors", "Guard"]

_READS = ("GET", "HEAD", "OPTIONS")
_YEAR_S = 365 * 24 * 3600


@dataclass(frozen=True, slots=True)
class Doors:
    """``names`` are the hosts allowed besides loopback; ``token`` lets other devices in (None:
    only this machine comes in); ``address`` is where other devices find the server."""

    names: frozenset[str] = frozenset()
    token: str | None = None
    address: str | None = None


class Guard:
    """Lets through what may pass, and adds the headers that every answer has."""

    def __init__(self, app: ASGIApp, doors: Doors) -> None:
        self._app = app
        self._doors = doors

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1008})
            return
        request = Request(scope, receive)
        headers = _by_name(request)
        host = headers.get("host", "")
        secure = scope["scheme"] == "https"
        trusted = secure or is_loopback(host_name(host) or "")
        send = with_headers(send, path=scope["path"], trusted=trusted)
        answer = self._answer_at_door(request, headers)
        if answer is not None:
            await answer(scope, receive, send)
            return
        limit = limit_of(scope["path"], headers)
        if limit is not None:
            if _declared(headers) > limit:
                too_large = refusal(request, "body-too-large", read=size_words(limit))
                await too_large(scope, receive, send)
                return
            receive = counted(receive, limit)
        await self._app(scope, receive, send)

    def _answer_at_door(self, request: Request, headers: Mapping[str, str]) -> Response | None:
        """Return what is answered without asking the application; None: it may pass."""
        host = headers.get("host", "")
        if not host_allowed(host, self._doors.names):
            return refusal(request, "host-unknown", read=host[:80])
        path = request.url.path
        if path == "/enter" and self._doors.token is not None:
            return self._enter(request)
        bearer = self._bearer(headers)
        if not (self._is_known(request) or bearer or path.startswith("/assets/")):
            return refusal(request, "not-let-in")
        if request.method in _READS:
            return refusal(request, "came-from-elsewhere") if _fetched_elsewhere(headers) else None
        came_from = origin_of(headers, scheme=request.scope["scheme"])
        if came_from is From.ELSEWHERE:
            return refusal(request, "came-from-elsewhere")
        if came_from is From.NO_BROWSER and not (bearer or _peer_is_here(request)):
            # A cookie alone may have been put there by a browser that hides where it comes from.
            return refusal(request, "not-let-in")
        return None

    def _enter(self, request: Request) -> Response:
        assert self._doors.token is not None
        given = parse_qs(request.url.query).get("token", [""])[0]
        if request.method not in ("GET", "HEAD") or not same_token(given, self._doors.token):
            return refusal(request, "token-wrong")
        answer = RedirectResponse("/", status_code=303, headers={"cache-control": "no-store"})
        # Lax: a camera that opens the address counts as coming from elsewhere.
        answer.set_cookie(
            COOKIE,
            self._doors.token,
            max_age=_YEAR_S,
            httponly=True,
            samesite="lax",
            secure=request.scope["scheme"] == "https",
        )
        return answer

    def _is_known(self, request: Request) -> bool:
        if _peer_is_here(request):
            return True
        token = self._doors.token
        return token is not None and same_token(request.cookies.get(COOKIE, ""), token)

    def _bearer(self, headers: Mapping[str, str]) -> bool:
        kind, _, given = headers.get("authorization", "").partition(" ")
        token = self._doors.token
        return token is not None and kind.lower() == "bearer" and same_token(given.strip(), token)


def _by_name(request: Request) -> dict[str, str]:
    """Return the headers by lower-case name; one given twice as both, joined, so that a second
    Host or Origin never slips by unseen."""
    joined: dict[str, str] = {}
    for name, value in request.headers.items():
        joined[name] = f"{joined[name]}, {value}" if name in joined else value
    return joined


def _peer_is_here(request: Request) -> bool:
    return request.client is not None and is_loopback(request.client.host)


def _declared(headers: Mapping[str, str]) -> int:
    length = headers.get("content-length", "0")
    return int(length) if length.isascii() and length.isdigit() else 0


def _fetched_elsewhere(headers: Mapping[str, str]) -> bool:
    """Would another page read or embed this? Following a link from elsewhere is fine."""
    site = headers.get("sec-fetch-site", "same-origin")
    going_there = headers.get("sec-fetch-mode") == "navigate"
    return site in ("cross-site", "same-site") and not going_there
