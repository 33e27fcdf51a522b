"""Opening a store: the file made where there is none, and its schema brought up to date."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from sqlalchemy import URL
from sqlalchemy.exc import DBAPIError

from nextpair.application.clock import now_utc
from nextpair.application.store import DamagedStoreError
from nextpair.domain.errors import InvalidValueError
from nextpair.store.copies import copies_of, damage
from nextpair.store.daily import keep_before_migration
from nextpair.store.database import DatabaseStore
from nextpair.store.engine import database_url, open_engine, told
from nextpair.store.failure import damaged, failed, require_log, words_of
from nextpair.store.parts import make_file
from nextpair.store.schema import State, look, migrate, require_ours


def open_store(place: str | Path, clock: Callable[[], datetime] = now_utc) -> DatabaseStore:
    """The store at a file or a postgresql:// URL; the caller closes it.

    A file that is not there is made, with its folder, for this user alone. One of an older schema
    is copied before it is brought up to date; where it cannot be copied it is left as it is.
    Raises InvalidValueError for what is no store, one of a newer program, and one that cannot be
    opened; DamagedStoreError for one that is damaged, or gone while backups of it are there.
    """
    url = database_url(place)
    try:
        if url.get_backend_name() == "sqlite":
            _require_whole(Path(url.database or ""))
            make_file(Path(url.database or ""))
        found = look(url)
        if found is State.EMPTY and url.get_backend_name() == "sqlite":
            _require_new(Path(url.database or ""), "it is empty")
        require_ours(found, shown(url))
        if found is not State.READY:
            _bring_up_to_date(url, clock)
    except (OSError, sqlite3.Error, DBAPIError) as error:
        raise _refusal(url, error) from error
    return DatabaseStore(open_engine(url), clock)


def is_there(place: str | Path) -> bool:
    """Whether a store is kept there already; a server's is taken to be."""
    url = database_url(place)
    return url.get_backend_name() != "sqlite" or Path(url.database or "").is_file()


def shown(url: URL) -> str:
    """A store's place, as its user wrote it, but for the password."""
    if url.get_backend_name() == "sqlite":
        return str(url.database)
    return told(url)


def require_sound(place: str | Path) -> None:
    """Refuse an SQLite store of which a quick check of every page says that it is damaged. Raises
    DamagedStoreError; what is not there is sound."""
    url = database_url(place)
    store = Path(url.database or "")
    if url.get_backend_name() != "sqlite" or not store.is_file() or not store.stat().st_size:
        return
    require_log(store)
    found = damage(store)
    if found is not None:
        raise damaged(store, found)


def _bring_up_to_date(url: URL, clock: Callable[[], datetime]) -> None:
    """Migrate. A server's databases are copied by its own tools."""
    if url.get_backend_name() != "sqlite":
        migrate(url)
        return
    store = Path(url.database or "")
    migrate(url, before=lambda: keep_before_migration(store, clock().date()))


def _require_whole(store: Path) -> None:
    require_log(store)
    if not store.exists():
        _require_new(store, "it is not there")


def _require_new(store: Path, words: str) -> None:
    """Refuse to begin anew where daily copies say that something was kept."""
    if copies_of(store):
        raise damaged(store, words)


def _refusal(url: URL, error: Exception) -> InvalidValueError:
    """Why a store does not open: where it is not SQLite's, and there are no copies of it, it may
    never have been one."""
    cause = error.orig if isinstance(error, DBAPIError) else error
    store = Path(url.database or "")
    if isinstance(cause, sqlite3.Error):
        known = failed(cause, store)
        if known is not None and (not isinstance(known, DamagedStoreError) or copies_of(store)):
            return known
    return InvalidValueError("store", shown(url), f"one that opens ({words_of(error)})")
