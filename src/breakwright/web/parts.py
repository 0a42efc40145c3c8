"""Which routes there are: those of the first page, and the rest, which takes longer to load."""

import importlib

from fastapi import FastAPI

from breakwright.web import asset_files, studies, unit

__all__ = ["add_first", "add_rest", "load_rest"]

# The pages come before the assets: one of them serves a large script under /assets by itself.
_REST = (
    "prepare",
    "break_page",
    "answer_page",
    "film_pages",
    "api.routes",
    "devices",
    "kept_files",
)


def add_first(app: FastAPI) -> None:
    """Add what the list of studies needs."""
    for part in (studies, unit, asset_files):
        app.include_router(part.router)


def load_rest() -> None:
    """Import the modules of the rest. Takes a while; not for the event loop."""
    for name in _REST:
        importlib.import_module(f"breakwright.web.{name}")


def add_rest(app: FastAPI) -> None:
    """Add the rest, in front of the assets."""
    assets = app.router.routes.pop()
    for name in _REST:
        app.include_router(importlib.import_module(f"breakwright.web.{name}").router)
    app.router.routes.append(assets)
