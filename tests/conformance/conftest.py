"""One suite for every store: in memory, in a SQLite file, in PostgreSQL."""

from collections.abc import Iterator
from pathlib import Path
from typing import Protocol

import pytest

from breakwright.store.memory import MemoryStore
from breakwright.store.opening import open_store
from breakwright.usecases.bench.ports import EventStore, JobStore
from postgres import Cluster, cluster_or_skip


class Store(EventStore, JobStore, Protocol):
    """Both in one, as every store is."""


@pytest.fixture(scope="session")
def server() -> Cluster:
    return cluster_or_skip()


@pytest.fixture
def postgres_url(server: Cluster) -> Iterator[str]:
    """An empty database."""
    url = server.new_database()
    yield url
    server.drop(url)


@pytest.fixture(params=["sqlite", "postgres"])
def url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """A place for a store that is kept, empty yet."""
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path / 'bench.sqlite'}"
    found: str = request.getfixturevalue("postgres_url")
    return found


@pytest.fixture(params=["memory", "sqlite", "postgres"])
def store(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Store]:
    if request.param == "memory":
        yield MemoryStore()
        return
    sqlite = f"sqlite:///{tmp_path / 'bench.sqlite'}"
    url = sqlite if request.param == "sqlite" else request.getfixturevalue("postgres_url")
    opened = open_store(url)
    yield opened
    opened.close()
