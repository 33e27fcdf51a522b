"""Opening a store: the file made where there is none, and its schema brought up to date."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from sqlalchemy import URL
from sqlalchemy.exc import DBAPIError

from nextpair.application.clock import now_utc
from nextpair.domain.errors import InvalidValueError
from nextpair.store.database import DatabaseStore
from nextpair.store.engine import database_url, open_engine
from nextpair.store.schema import State, look, migrate, require_ours


def open_store(place: str | Path, clock: Callable[[], datetime] = now_utc) -> DatabaseStore:
    """The store at a file or a postgresql:// URL; the caller closes it.

    A file that is not there is made, with its folder, for this user alone. Raises
    InvalidValueError for what is no store, one of a newer program, and one that cannot be opened.
    """
    url = database_url(place)
    try:
        if url.get_backend_name() == "sqlite":
            make_file(Path(url.database or ""))
        found = look(url)
        require_ours(found, shown(url))
        if found is not State.READY:
            migrate(url)
    except (OSError, sqlite3.Error, DBAPIError) as error:
        raise InvalidValueError(
            "store", shown(url), f"one that opens ({_words(error)})"
        ) from error
    return DatabaseStore(open_engine(url), clock)


def is_there(place: str | Path) -> bool:
    """Whether a store is kept there already; a server's is taken to be."""
    url = database_url(place)
    return url.get_backend_name() != "sqlite" or Path(url.database or "").is_file()


def shown(url: URL) -> str:
    """A store's place, as its user wrote it, but for the password."""
    if url.get_backend_name() == "sqlite":
        return str(url.database)
    return url.set(drivername="postgresql").render_as_string(hide_password=True)


def make_file(path: Path) -> None:
    """An empty file that only this user reads, in a folder that only he sees, where none is."""
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    path.touch(mode=0o600)


def _words(error: Exception) -> str:
    cause = error.orig if isinstance(error, DBAPIError) else error
    return " ".join(str(cause).split())
