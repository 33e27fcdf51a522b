"""A copy of an SQLite store a day and one before each migration, kept by rotation in a folder
beside it."""

from __future__ import annotations

import glob
import logging
import sqlite3
from collections.abc import Sequence
from contextlib import suppress
from datetime import date
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from nextpair.domain.errors import InvalidValueError
from nextpair.store.copies import FOLDER, Copy, copies_of, copy_after, surplus
from nextpair.store.engine import database_url
from nextpair.store.failure import DAMAGED, PRIMARY, damaged, require_log, words_of
from nextpair.store.parts import clear_parts_in
from nextpair.store.whole_copy import write_copy

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
        made = _copied(store, copies, day)
    except (OSError, sqlite3.Error, DBAPIError, InvalidValueError) as error:
        if getattr(error, "sqlite_errorcode", 0) & PRIMARY in DAMAGED:
            raise damaged(store, words_of(error)) from error
        log.warning("no backup of today: %s", words_of(error))
        return None
    _rotate(store)
    return made


def keep_before_migration(store: Path, day: date) -> Copy:
    """Copy a store that is about to be brought up to date, whether or not it was copied this day.

    Raises InvalidValueError where no copy can be kept, and sqlite3.Error.
    """
    try:
        made = _copied(store, copies_of(store), day)
    except OSError as error:
        allowed = f"a folder that can hold a copy of the store as it was ({words_of(error)})"
        raise InvalidValueError("backups", str(store.parent / FOLDER), allowed) from error
    _rotate(store)
    log.info("kept %s before its store is brought up to date", made.path.name)
    return made


def _copied(store: Path, copies: Sequence[Copy], day: date) -> Copy:
    made = copy_after(store, copies, day)
    for written in (store, made.path):
        clear_parts_in(written.parent, f".{glob.escape(store.stem)}*")
    write_copy(store, made.path)
    return made


def _rotate(store: Path) -> None:
    with suppress(OSError):
        for copy in surplus(copies_of(store)):
            with suppress(OSError):
                copy.path.unlink()
