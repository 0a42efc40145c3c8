"""The list of studies at once, the rest a moment later: importing every page and making their
routes takes as long as everything before it."""

import asyncio
import re

from fastapi import FastAPI
from starlette.concurrency import run_in_threadpool
from starlette.types import Message, Receive, Scope, Send

from breakwright.web.parts import add_rest, load_rest

__all__ = ["Whole"]

_AT_ONCE = re.compile(r"/|/assets/frame\.css|/assets/mark\.svg|/unit")


class Whole:
    """The application from its first page on. What only the rest can answer waits for it; the
    rest is loaded beside the first answer."""

    def __init__(self, app: FastAPI) -> None:
        self._app = app
        self._loading: asyncio.Task[None] | None = None

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        if _AT_ONCE.fullmatch(scope["path"]):
            await self._app(scope, receive, self._then_load(send))
            return
        self._load()
        assert self._loading is not None
        # Shielded: a browser that goes away must not stop the loading for all others.
        await asyncio.shield(self._loading)
        await self._app(scope, receive, send)

    def _then_load(self, send: Send) -> Send:
        async def send_then_load(message: Message) -> None:
            await send(message)
            if message["type"] == "http.response.body" and not message.get("more_body", False):
                self._load()

        return send_then_load

    def _load(self) -> None:
        if self._loading is None:
            self._loading = asyncio.create_task(self._load_rest())

    async def _load_rest(self) -> None:
        await run_in_threadpool(load_rest)
        # On the event loop and in one go: no request finds half of the routes.
        add_rest(self._app)
