"""News of new events, from any thread or process, to the pages that listen."""

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager, suppress

from starlette.concurrency import run_in_threadpool

from breakwright.model.errors import BreakwrightError

__all__ = ["News"]

# Another process may write into the same store, and nobody tells this one: it looks itself.
_LOOK_S = 1.0


class News:
    """Rings a bell for each page that listens. ``last`` returns the store's highest place."""

    def __init__(self, last: Callable[[], int]) -> None:
        self._last = last
        self._bells: set[asyncio.Event] = set()
        self._loop: asyncio.AbstractEventLoop | None = None
        self._watch: asyncio.Task[None] | None = None
        self.over = False

    def tell(self) -> None:
        """Say that there is something new. From any thread."""
        self._call(self._ring)

    def close(self) -> None:
        """End every stream. From any thread, or a signal's handler."""
        self.over = True
        self._call(self._ring)

    @asynccontextmanager
    async def listening(self) -> AsyncIterator[asyncio.Event]:
        """Give a bell that is set whenever there may be something new."""
        self._loop = asyncio.get_running_loop()
        bell = asyncio.Event()
        self._bells.add(bell)
        if self._watch is None or self._watch.done():
            self._watch = asyncio.create_task(self._look())
        try:
            yield bell
        finally:
            self._bells.discard(bell)

    def _call(self, what: Callable[[], None]) -> None:
        if self._loop is not None:
            with suppress(RuntimeError):  # the loop is closed: nobody listens any more
                self._loop.call_soon_threadsafe(what)

    def _ring(self) -> None:
        for bell in self._bells:
            bell.set()

    async def _look(self) -> None:
        seen = -1
        while self._bells and not self.over:
            # A store that is away for a while is looked for again; streams say so themselves.
            with suppress(BreakwrightError):
                last = await run_in_threadpool(self._last)
                if last != seen:
                    seen = last
                    self._ring()
            await asyncio.sleep(_LOOK_S)
