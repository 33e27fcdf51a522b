"""The schema of a database: which one it has, and how it comes to have ours."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import URL, Connection, inspect, text

from nextpair.domain.errors import InvalidValueError
from nextpair.store.engine import Use, open_engine, told, writing

if TYPE_CHECKING:
    from alembic.config import Config

NEWEST = "0003"
"""The last migration: a test compares it with the folder of migrations."""
VERSION_TABLE = "nextpair_schema"
"""Alembic's own table, under a name that no other program in the database uses."""
APPLICATION_ID = int.from_bytes(b"npst", "big")
"""Written in the head of an SQLite file, so that it is known for a store."""
MIGRATIONS = Path(__file__).parent / "migrations"
_MIGRATING = int.from_bytes(b"nextpair", "big")
"""PostgreSQL's lock while one program migrates and others wait."""


class State(Enum):
    """What a database is to us."""

    EMPTY = "empty"
    READY = "ready"
    OLDER = "older"
    NEWER = "newer"
    FOREIGN = "foreign"


def look(url: URL) -> State:
    """What a database is, without touching it."""
    engine = open_engine(url, Use.LOOK)
    try:
        with engine.connect() as connection:
            return state(connection)
    finally:
        engine.dispose()


def state(connection: Connection) -> State:
    """What a database is: ours and how old, empty, or somebody else's."""
    tables = set(inspect(connection).get_table_names())
    if VERSION_TABLE not in tables:
        others = tables and connection.dialect.name == "sqlite"
        return State.FOREIGN if others else State.EMPTY
    found = connection.execute(text(f"SELECT version_num FROM {VERSION_TABLE}")).scalar()
    if found == NEWEST:
        return State.READY
    return State.OLDER if found is None or found in _known() else State.NEWER


def require_ours(found: State, shown: str) -> None:
    """Refuse a database that is somebody else's, or of a newer program."""
    if found is State.NEWER:
        raise InvalidValueError("store", shown, "one that no newer nextpair has written")
    if found is State.FOREIGN:
        raise InvalidValueError("store", shown, "a store of nextpair, or a new file")


def migrate(url: URL, before: Callable[[], object] = lambda: None) -> None:
    """Bring a database to the newest schema, all the way or not at all.

    `before` is called where something was kept by an older schema, while nobody else can write
    it; what it raises leaves the database as it is.
    """
    engine = open_engine(url, Use.MIGRATE)
    try:
        with writing(engine).begin() as connection:
            if connection.dialect.name == "postgresql":
                connection.execute(text(f"SELECT pg_advisory_xact_lock({_MIGRATING})"))
            found = state(connection)
            require_ours(found, told(url))
            if found is State.OLDER:
                before()
            _upgrade(connection)
            if connection.dialect.name == "sqlite":
                _require_references(connection)
                connection.exec_driver_sql(f"PRAGMA application_id={APPLICATION_ID}")
    finally:
        engine.dispose()


def _upgrade(connection: Connection) -> None:
    from alembic import command

    settings = _settings()
    settings.attributes["connection"] = connection
    command.upgrade(settings, "head")


def _known() -> set[str]:
    from alembic.script import ScriptDirectory

    return {one.revision for one in ScriptDirectory.from_config(_settings()).walk_revisions()}


def _settings() -> Config:
    from alembic.config import Config

    settings = Config()
    settings.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    settings.set_main_option("path_separator", "os")
    return settings


def _require_references(connection: Connection) -> None:
    broken = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
    if broken:
        raise sqlite3.IntegrityError(f"after the migration {len(broken)} references lead nowhere")
