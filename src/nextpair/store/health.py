"""What a look at a store tells, without changing anything in it: its schema, damage, and size."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, create_engine, func, select
from sqlalchemy.exc import DBAPIError

from nextpair.domain.errors import InvalidValueError
from nextpair.store import tables
from nextpair.store.copies import reading_address
from nextpair.store.engine import database_url, open_engine
from nextpair.store.failure import words_of
from nextpair.store.opening import shown
from nextpair.store.schema import NEWEST, VERSION_TABLE, State, state


@dataclass(frozen=True, slots=True)
class StoreHealth:
    """A store as it lies there. `trouble` is what keeps it from being opened or found sound; empty
    where nothing does. `latest` is the last moment that anything in it was saved."""

    place: str
    on_server: bool
    there: bool
    size_bytes: int = 0
    schema: str = ""
    newest_schema: str = NEWEST
    state: str = State.EMPTY.value
    trouble: str = ""
    records: int = 0
    jottings: int = 0
    latest: datetime | None = None


def store_health(place: str | Path) -> StoreHealth:
    """Look at a store; the file is only read. Never raises for what is wrong with the store."""
    try:
        url = database_url(place)
        if url.get_backend_name() != "sqlite":
            return _on_server(url)
    except InvalidValueError as refused:
        return StoreHealth(str(refused.found), True, True, trouble=str(refused))
    file = Path(url.database or "")
    if not file.is_file() or file.stat().st_size == 0:
        return StoreHealth(str(file), False, False)
    try:
        return _of_file(file)
    except (OSError, sqlite3.Error, DBAPIError) as error:
        return StoreHealth(str(file), False, True, _size(file), trouble=words_of(error))


def _of_file(file: Path) -> StoreHealth:
    address = reading_address(file)
    engine = create_engine("sqlite://", creator=lambda: sqlite3.connect(address, uri=True))
    try:
        with engine.connect() as connection:
            found = state(connection)
            trouble = ""
            checks = connection.exec_driver_sql("PRAGMA integrity_check(3)").fetchall()
            if checks != [("ok",)]:
                trouble = " ".join(str(checks[0][0]).split())
            elif connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall():
                trouble = "references in it lead nowhere"
            told = _told(connection, found) if not trouble else {}
            return StoreHealth(
                str(file), False, True, _size(file), state=found.value, trouble=trouble, **told
            )
    finally:
        engine.dispose()


def _on_server(url: URL) -> StoreHealth:
    place = shown(url)
    engine = open_engine(url)
    try:
        with engine.connect() as connection:
            found = state(connection)
            size = connection.exec_driver_sql("SELECT pg_database_size(current_database())")
            return StoreHealth(
                place, True, True, int(size.scalar() or 0), state=found.value,
                **_told(connection, found),
            )  # fmt: skip
    except (OSError, DBAPIError) as error:
        return StoreHealth(place, True, True, trouble=words_of(error))
    finally:
        engine.dispose()


def _told(connection: Connection, found: State) -> dict[str, Any]:
    """Schema, counts and the last change; counts only of tables that are ours."""
    if found in (State.EMPTY, State.FOREIGN):
        return {}
    ask = connection.execute
    schema = connection.exec_driver_sql(f"SELECT version_num FROM {VERSION_TABLE}").scalar()
    told: dict[str, Any] = {"schema": str(schema)}
    if found is State.READY:
        latest = ask(select(func.max(tables.revision.c.saved_at))).scalar()
        if isinstance(latest, datetime) and latest.tzinfo is None:
            latest = latest.replace(tzinfo=UTC)
        told |= {
            "records": ask(select(func.count()).select_from(tables.record)).scalar(),
            "jottings": ask(select(func.count()).select_from(tables.jotting)).scalar(),
            "latest": latest,
        }
    return told


def _size(file: Path) -> int:
    beside = (file.with_name(file.name + ending) for ending in ("", "-wal"))
    return sum(one.stat().st_size for one in beside if one.is_file())
