"""Every store that the suite runs on, empty for each test."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import URL, create_engine, make_url, text

from contracts.servers import NEEDED, postgresql, postgresql_programs
from nextpair.application.store import Store
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
    if programs is None and NEEDED not in os.environ:
        pytest.skip("no PostgreSQL server is installed")
    assert programs is not None, f"{NEEDED} is set and no PostgreSQL server is installed"
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


@pytest.fixture
def memory() -> MemoryStore:
    """An empty store that no database slows down."""
    return MemoryStore()


@pytest.fixture(params=DATABASES)
def place(request) -> str:
    """Where an empty store lies, in each kind of database."""
    return empty_place(request)


@pytest.fixture(params=DATABASES)
def new_place(request, tmp_path) -> Iterator[str]:
    """Where a store can be made, in each kind of database."""
    if request.param == "sqlite":
        yield str(tmp_path / "new" / "store.sqlite3")
        return
    url = make_url(request.getfixturevalue("server_url"))
    for words in ("DROP DATABASE IF EXISTS another", "CREATE DATABASE another"):
        told(url, words, autocommit=True)
    yield url.set(database="another").render_as_string()


def opened(request) -> Iterator[Store]:
    if request.param == "memory":
        yield MemoryStore()
        return
    kept = open_store(empty_place(request))
    yield kept
    kept.close()


def empty_place(request) -> str:
    if request.param == "sqlite":
        path = request.getfixturevalue("tmp_path") / "store.sqlite3"
        shutil.copyfile(request.getfixturevalue("empty_file"), path)
        return str(path)
    url = request.getfixturevalue("server_url")
    names = ", ".join(f'"{name}"' for name in metadata.tables)
    told(make_url(url), f"TRUNCATE {names} RESTART IDENTITY")
    return url


def told(url: URL, words: str, autocommit: bool = False) -> None:
    """Have a server do something."""
    options = {"isolation_level": "AUTOCOMMIT"} if autocommit else {}
    engine = create_engine(url.set(drivername="postgresql+psycopg"), **options)
    with engine.begin() as connection:
        connection.execute(text(words))
    engine.dispose()
