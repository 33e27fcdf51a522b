"""A copy of an SQLite store a day, kept by rotation in a folder beside it."""

from __future__ import annotations

import glob
import logging
import sqlite3
from contextlib import suppress
from datetime import date
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from nextpair.domain.errors import InvalidValueError
from nextpair.store.backup import write_copy
from nextpair.store.copies import Copy, copies_of, copy_after, surplus
from nextpair.store.engine import database_url
from nextpair.store.failure import DAMAGED, PRIMARY, damaged, require_log, words_of
from nextpair.store.parts import clear_parts_in

log = logging.getLogger("nextpair.store")


def keep_daily(place: str | Path, day: date) -> Copy | None:
    """Copy a store that was not copied yet this day, and let older copies go by rotation; None
    where there is nothing to copy or no need.

    The copy is checked before it gets its name, and only then does an older one go. Where it
    cannot be written that is told, and whoever opens the store goes on. Raises DamagedStoreError.
    """
    url = database_url(place)
    store = Path(url.database or "")
    if url.get_backend_name() != "sqlite" or not store.is_file() or not store.stat().st_size:
        return None
    require_log(store)
    try:
        copies = copies_of(store)
        if copies and copies[-1].day == day:
            return None
        made = copy_after(store, copies, day)
        for written in (store, made.path):
            clear_parts_in(written.parent, f".{glob.escape(store.stem)}*")
        write_copy(store, made.path)
    except (OSError, sqlite3.Error, DBAPIError, InvalidValueError) as error:
        if getattr(error, "sqlite_errorcode", 0) & PRIMARY in DAMAGED:
            raise damaged(store, words_of(error)) from error
        log.warning("no backup of today: %s", words_of(error))
        return None
    _rotate(store)
    return made


def _rotate(store: Path) -> None:
    with suppress(OSError):
        for copy in surplus(copies_of(store)):
            with suppress(OSError):
                copy.path.unlink()
