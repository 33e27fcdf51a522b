"""One SQLite file written whole: a copy of it as one moment saw it, checked before it gets its
name."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from nextpair.store.parts import clear_parts, make_file, part_of, sync_folder

BESIDE = ("", "-wal", "-shm")
"""Endings of the files that make up a store."""


def write_copy(store: Path, target: Path) -> None:
    """Copy a store that may be in use, over any file of that name: whole or not at all. Raises
    OSError and sqlite3.Error: with the code of a corrupt database where the copy, and so the
    store, is not sound."""
    with new_part(target) as part:
        copy_pages(store, part)
        part.replace(target)
        sync_folder(target.parent)


@contextmanager
def new_part(target: Path) -> Iterator[Path]:
    """A new file beside the target, gone afterwards unless it was moved."""
    clear_parts(target)
    part = part_of(target)
    make_file(part)
    try:
        yield part
    finally:
        for ending in BESIDE:
            with suppress(OSError):
                part.with_name(part.name + ending).unlink()


def copy_pages(source: Path, part: Path) -> None:
    """Copy a store page by page, as one moment saw it, and check that the copy is sound."""
    with closing(sqlite3.connect(source)) as whole, closing(sqlite3.connect(part)) as copy:
        whole.backup(copy)
    into_one_file(part)
    with closing(sqlite3.connect(part)) as copy:
        sound = copy.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        if not sound or copy.execute("PRAGMA foreign_key_check").fetchall():
            error = sqlite3.DatabaseError("it is damaged")
            error.sqlite_errorcode = sqlite3.SQLITE_CORRUPT
            raise error


def into_one_file(part: Path) -> None:
    """Have no second file beside it, and all of it on the disk."""
    with closing(sqlite3.connect(part)) as copy:
        copy.execute("PRAGMA journal_mode=DELETE")
    with part.open("rb+") as file:
        os.fsync(file.fileno())
