"""Copies of an SQLite store: made while it is in use, and put back in its place."""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from nextpair.domain.errors import InvalidValueError, require
from nextpair.store.copies import newest_sound
from nextpair.store.engine import database_url
from nextpair.store.failure import require_log
from nextpair.store.opening import shown
from nextpair.store.parts import part_of, sync_folder
from nextpair.store.schema import State, look, migrate, require_ours
from nextpair.store.whole_copy import BESIDE, copy_pages, into_one_file, new_part, write_copy

ASIDE = "before-restore"
PATIENCE_S = 5
"""How long a store that is being put back waits for whoever still has the old one open."""


def back_up(place: str | Path, target: Path) -> None:
    """Write a copy of a store that may be in use: checked, whole or not at all, over any file of
    that name. Raises InvalidValueError."""
    store = _file_of(place)
    is_free = target.is_file() or not target.exists()
    usable = is_free and target.resolve() != store.resolve()
    require(usable, "backup", str(target), "a file that is not the store itself")
    require_log(store)
    _require_store(store)
    with _told_as("backup", target):
        write_copy(store, target)


def last_backup(place: str | Path) -> Path:
    """The newest daily copy of a store that is sound. Raises InvalidValueError where there is
    none."""
    store = _file_of(place)
    copy = newest_sound(store)
    if copy is None:
        allowed = "a store that has a sound daily backup; name a backup's file"
        raise InvalidValueError("store", str(store), allowed)
    return copy.path


def restore(source: Path, place: str | Path) -> Path | None:
    """Put a backup in a store's place; returns where the store that was there is now.

    The backup is copied, checked and brought up to date first: what is wrong with it leaves the
    store as it was. Raises InvalidValueError.
    """
    store = _file_of(place)
    require(source.resolve() != store.resolve(), "backup", str(source), "another file")
    _require_store(source)
    with _told_as("store", store), new_part(store) as part:
        with _told_as("backup", source):
            copy_pages(source, part)
        _bring_up_to_date(part)
        into_one_file(part)
        aside = _put_aside(store)
        part.replace(store)
        sync_folder(store.parent)
    return aside


def _bring_up_to_date(part: Path) -> None:
    """The backup itself is the copy that is kept of it as it was."""
    url = database_url(part)
    if look(url) is not State.READY:
        migrate(url)


def _file_of(place: str | Path) -> Path:
    url = database_url(place)
    if url.get_backend_name() != "sqlite":
        allowed = "an SQLite store; of PostgreSQL's `nextpair archive` writes all of an account"
        raise InvalidValueError("store", shown(url), allowed)
    return Path(url.database or "")


def _require_store(file: Path) -> None:
    """Refuse what is no store, or one of a newer program."""
    require(file.is_file(), "store", str(file), "a store that is there")
    try:
        found = look(database_url(file))
    except (sqlite3.Error, DBAPIError):
        found = State.FOREIGN
    require_ours(State.FOREIGN if found is State.EMPTY else found, str(file))


@contextmanager
def _told_as(field: str, file: Path) -> Iterator[None]:
    try:
        yield
    except (OSError, sqlite3.Error, DBAPIError) as error:
        words = getattr(error, "strerror", None) or str(error)
        raise InvalidValueError(field, str(file), f"one that can be copied ({words})") from error


def _put_aside(store: Path) -> Path | None:
    """Give the store that is there a name of its own beside its old one, under which the new one
    then takes its place: at no moment is there none. Raises InvalidValueError while another
    program has it open."""
    if not store.exists():
        return None
    with closing(sqlite3.connect(store, timeout=PATIENCE_S)) as connection:
        try:
            # Only who is alone with a store can end its write-ahead log.
            connection.execute("PRAGMA journal_mode=DELETE")
        except sqlite3.OperationalError as error:
            allowed = "one that nobody has open; stop `nextpair serve` first"
            raise InvalidValueError("store", str(store), allowed) from error
        except sqlite3.DatabaseError:
            pass  # it is damaged: the more reason to put it aside
    aside = _free_name(store)
    _name_again(store, aside)
    for ending in BESIDE[1:]:
        # Of a damaged store only: read with another file it would damage that too.
        with suppress(FileNotFoundError):
            store.with_name(store.name + ending).rename(aside.with_name(aside.name + ending))
    return aside


def _name_again(store: Path, aside: Path) -> None:
    """Have a file under a second name; as a copy where the disk knows no second names."""
    try:
        os.link(store, aside)
    except OSError:
        part = part_of(aside)
        try:
            shutil.copy2(store, part)
            part.replace(aside)
        finally:
            part.unlink(missing_ok=True)


def _free_name(store: Path) -> Path:
    number = 1
    while (name := store.with_name(f"{store.name}.{ASIDE}-{number}")).exists():
        number += 1
    return name
