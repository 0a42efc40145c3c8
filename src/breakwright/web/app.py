"""The web application put together: doors, pages, API, assets."""

from fastapi import FastAPI

from breakwright.version import VERSION
from breakwright.web import answer_page, api, break_page, prepare, studies
from breakwright.web.services import Services

__all__ = ["make_app"]


def make_app(services: Services) -> FastAPI:
    """Return the application over ``services``."""
    app = FastAPI(
        title="Breakwright",
        version=VERSION,
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/v1/openapi.json",
    )
    app.state.services = services
    for pages in (studies, prepare, break_page, answer_page, api):
        app.include_router(pages.router)
    return app
