"""Every kind of work, by its word."""

from collections.abc import Callable, Mapping
from importlib import import_module
from types import MappingProxyType
from typing import Any

from breakwright.web.work import kinds_answer, kinds_film, kinds_prepare
from breakwright.web.work.kinds import Kind
from breakwright.web.work.tools import Tell, Tools

__all__ = ["KINDS", "Task", "kinds_of", "lane_of", "task_of"]

# Given what was asked, how to tell of progress, and what there is at hand: the result, JSON-able.
Task = Callable[[Mapping[str, Any], Tell, Tools], Mapping[str, Any]]

KINDS: Mapping[str, Kind] = MappingProxyType(
    {**kinds_answer.KINDS, **kinds_prepare.KINDS, **kinds_film.KINDS}
)


def lane_of(kind: str) -> str:
    """Return the lane that ``kind`` runs in. Raises KeyError for a kind there is none of."""
    return KINDS[kind].lane


def kinds_of(lane: str) -> tuple[str, ...]:
    """Return the kinds of work done in ``lane``."""
    return tuple(word for word, kind in KINDS.items() if kind.lane == lane)


def task_of(kind: str) -> Task:
    """Return the function that does this kind of work, importing what it needs."""
    found = KINDS[kind]
    task: Task = getattr(import_module(found.module), found.function)
    return task
