"""The way to a database: what SQLite needs to be told, and what a URL may be."""

from __future__ import annotations

import sqlite3
from enum import Enum
from pathlib import Path
from typing import Any

from sqlalchemy import (
    URL,
    Connection,
    Engine,
    ExceptionContext,
    create_engine,
    event,
    make_url,
)
from sqlalchemy.exc import ArgumentError, NoSuchModuleError

from nextpair.domain.errors import InvalidValueError
from nextpair.store.documents import to_json
from nextpair.store.failure import failed

BUSY_S = 30
"""How long a writer waits for another one: longer than any batch takes."""
WRITES = "nextpair_writes"
ALLOWED = "a file, or a postgresql:// URL"


def database_url(place: str | Path) -> URL:
    """Where a store lies, as a URL: a file is SQLite's. Raises InvalidValueError."""
    if isinstance(place, Path) or "://" not in place:
        return URL.create("sqlite", database=str(Path(place).expanduser()))
    try:
        url = make_url(place)
    except (ArgumentError, ValueError) as error:
        kind = place.partition("://")[0]
        raise InvalidValueError("store", f"{kind}://…", ALLOWED) from error  # it holds a password
    if url.get_backend_name() == "postgresql":
        return url.set(drivername="postgresql+psycopg")
    if url.get_backend_name() == "sqlite" and url.database:
        return URL.create("sqlite", database=url.database)
    raise InvalidValueError("store", told(url), ALLOWED)


def told(url: URL) -> str:
    """A server's URL as its user wrote it, without any of its passwords."""
    kind = url.get_backend_name()
    query = {key: "***" if "pass" in key.casefold() else url.query[key] for key in url.query}
    return url.set(drivername=kind, query=query).render_as_string(hide_password=True)


class Use(Enum):
    """What a database is opened for, and what SQLite is told then."""

    LOOK = ()
    """Nothing that would change a file: it may be somebody else's."""
    MIGRATE = ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=OFF")
    """Tables that are made anew would trip over references to them."""
    WORK = ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON")


def open_engine(url: URL, use: Use = Use.WORK) -> Engine:
    """An engine whose writers are `writing`; nothing is opened yet. What it says of a statement
    that failed quotes nothing that is kept. Raises InvalidValueError where the driver is not
    installed."""
    options: dict[str, Any] = {"json_serializer": to_json, "hide_parameters": True}
    if url.get_backend_name() == "sqlite":
        engine = create_engine(url, connect_args={"timeout": BUSY_S}, **options)
        _tell_sqlite(engine, use)
        if use is Use.WORK:
            _tell_failures(engine, Path(url.database or ""))
        return engine
    try:
        return create_engine(url, pool_pre_ping=True, **options)
    except (ImportError, NoSuchModuleError) as error:
        allowed = "a file; for PostgreSQL install nextpair[team]"
        shown = told(url)
        raise InvalidValueError("store", shown, allowed) from error


def writing(engine: Engine) -> Engine:
    """The engine for transactions that write: SQLite's take the write lock as they begin, so that
    what they read stays true until they have written."""
    return engine.execution_options(**{WRITES: True})


def _tell_failures(engine: Engine, store: Path) -> None:
    """Have a store that is damaged, full or held up told as that, wherever it shows."""

    @event.listens_for(engine, "handle_error")
    def noted(context: ExceptionContext) -> None:
        known = failed(context.original_exception, store)
        if known is not None:
            raise known from context.original_exception


def _tell_sqlite(engine: Engine, use: Use) -> None:
    @event.listens_for(engine, "connect")
    def connected(connection: sqlite3.Connection, _: object) -> None:
        connection.isolation_level = None  # the driver begins nothing by itself
        try:
            for words in use.value:
                connection.execute(f"PRAGMA {words}").close()
        except sqlite3.Error as error:
            known = failed(error, Path(engine.url.database or ""))
            if use is not Use.WORK or known is None:
                raise
            raise known from error

    @event.listens_for(engine, "begin")
    def begun(connection: Connection) -> None:
        writes = connection.get_execution_options().get(WRITES)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
