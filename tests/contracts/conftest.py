"""Every store that the suite runs on, empty for each test."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

from contracts.servers import DEMAND, postgresql, postgresql_programs
from nextpair.application.store import Store
from nextpair.store.engine import database_url
from nextpair.store.memory import MemoryStore
from nextpair.store.opening import open_store
from nextpair.store.tables import metadata

DATABASES = ["sqlite", "postgresql"]


@pytest.fixture(scope="session")
def empty_file(tmp_path_factory) -> Path:
    """A new SQLite store, to be copied."""
    path = tmp_path_factory.mktemp("store") / "empty.sqlite3"
    open_store(path).close()
    return path


@pytest.fixture(scope="session")
def server_url() -> Iterator[str]:
    """A server for all tests, with one database."""
    programs = postgresql_programs()
    if programs is None and DEMAND not in os.environ:
        pytest.skip("no PostgreSQL server is installed")
    assert programs is not None, f"{DEMAND} is set and no PostgreSQL server is installed"
    with postgresql(programs) as url:
        open_store(url).close()
        yield url


@pytest.fixture(params=["memory", *DATABASES])
def store(request) -> Iterator[Store]:
    """An empty store of each kind."""
    yield from opened(request)


@pytest.fixture(params=DATABASES)
def database(request) -> Iterator[Store]:
    """An empty store in each kind of database."""
    yield from opened(request)


def opened(request) -> Iterator[Store]:
    if request.param == "memory":
        yield MemoryStore()
        return
    tmp_path = request.getfixturevalue("tmp_path")
    if request.param == "sqlite":
        place: str | Path = tmp_path / "store.sqlite3"
        shutil.copyfile(request.getfixturevalue("empty_file"), place)
    else:
        place = request.getfixturevalue("server_url")
        empty(place)
    kept = open_store(place)
    yield kept
    kept.close()


def empty(url: str) -> None:
    """Throw out everything that a database holds."""
    engine = create_engine(database_url(url))
    names = ", ".join(f'"{name}"' for name in metadata.tables)
    with engine.begin() as connection:
        connection.execute(text(f"TRUNCATE {names} RESTART IDENTITY"))
    engine.dispose()
