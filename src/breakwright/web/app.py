"""The web application put together: pages, API, assets, and what runs beside them."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from fastapi import FastAPI
from starlette.concurrency import run_in_threadpool
from starlette.types import ASGIApp

from breakwright.version import VERSION
from breakwright.web.doors.guard import Doors, Guard
from breakwright.web.later import Whole
from breakwright.web.news import News
from breakwright.web.parts import add_first, add_rest
from breakwright.web.services import Services
from breakwright.web.trouble import answer_troubles
from breakwright.web.uploads import Uploads

__all__ = ["guarded", "make_app", "served"]


def make_app(services: Services) -> FastAPI:
    """Return the whole application over ``services``, without its doors (see ``guarded``)."""
    app = _first_app(services)
    add_rest(app)
    return app


def guarded(app: FastAPI, doors: Doors) -> ASGIApp:
    """Return ``app`` behind its doors."""
    app.state.doors = doors
    return Guard(app, doors)


def served(services: Services, doors: Doors) -> ASGIApp:
    """Return what the server runs: the application behind its doors, its first page at once and
    the rest a moment later."""
    app = _first_app(services)
    app.state.doors = doors
    return Guard(Whole(app), doors)


def _first_app(services: Services) -> FastAPI:
    listeners = services.listeners
    news = listeners if isinstance(listeners, News) else News(services.bench.store.last)

    @asynccontextmanager
    async def beside(app: FastAPI) -> AsyncIterator[None]:  # noqa: ARG001
        await run_in_threadpool(Uploads(services.folder).sweep)
        yield
        news.close()

    app = FastAPI(
        title="Breakwright",
        version=VERSION,
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/v1/openapi.json",
        lifespan=beside,
    )
    app.state.services = services
    app.state.news = news
    answer_troubles(app)
    _describe(app)
    add_first(app)
    return app


def _describe(app: FastAPI) -> None:
    """Have the schema made when it is first asked for."""

    def made() -> dict[str, object]:
        from breakwright.web.api.schema import whole_schema

        if app.openapi_schema is None:
            app.openapi_schema = whole_schema(app)
        return app.openapi_schema

    app.openapi = made  # type: ignore[method-assign]
