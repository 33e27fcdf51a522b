"""What a database says when it cannot go on, in one line that says what to do."""

from __future__ import annotations

import shlex
import sqlite3
from contextlib import suppress
from pathlib import Path
from shutil import disk_usage

from sqlalchemy.exc import DBAPIError

from nextpair.application.store import DamagedStoreError, FullStoreError, StoreFailedError
from nextpair.store.copies import newest_sound

DAMAGED = frozenset({sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB})
FULL = frozenset({sqlite3.SQLITE_FULL})
READ_ONLY = frozenset({sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM})
BUSY = frozenset({sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED})
FAULTY = frozenset({sqlite3.SQLITE_IOERR})
NEEDED_BYTES = 2**18
"""The index of the write-ahead log begins with 32 kB (sqlite.org/walformat.html); pages follow."""
PRIMARY = 0xFF
"""The primary result code is the low byte of an extended one (sqlite.org/rescode.html)."""


def failed(error: BaseException, store: Path) -> StoreFailedError | None:
    """What an SQLite error means for the store; None where the fault is in what was asked."""
    extended = getattr(error, "sqlite_errorcode", None)
    code = None if extended is None else extended & PRIMARY
    words = words_of(error)
    if code in DAMAGED:
        return damaged(store, words)
    if code in FULL or (code in FAULTY and _is_full(store)):
        allowed = "one with room to write; free some on its disk, nothing kept is lost"
        return FullStoreError("store", str(store), f"{allowed} ({words})")
    if code in READ_ONLY:
        return StoreFailedError("store", str(store), f"one that can be written ({words})")
    if code in BUSY:
        return StoreFailedError("store", str(store), f"one that nobody holds up ({words})")
    if code in FAULTY:
        allowed = f"one whose disk reads and writes ({words})"
        return StoreFailedError("store", str(store), allowed)
    return None


def words_of(error: BaseException) -> str:
    """What a database or its driver says, on one line."""
    cause = error.orig if isinstance(error, DBAPIError) else error
    return " ".join(str(cause).split())


def damaged(store: Path, words: str) -> DamagedStoreError:
    """That a store is damaged, with the command that puts its newest sound backup back."""
    return DamagedStoreError("store", str(store), f"one that is whole ({words}); {_way(store)}")


def way_back(store: Path, copy: Path) -> str:
    """The command that puts a copy in a store's place."""
    return f"nextpair restore {shlex.quote(str(copy))} --store {shlex.quote(str(store))}"


def require_log(store: Path) -> None:
    """Refuse a store whose file of last changes is gone, before it is opened, which would hide it:
    whoever ends properly removes both files beside a store, and whoever is killed leaves both.
    Raises DamagedStoreError."""
    log, index = (store.with_name(store.name + ending) for ending in ("-wal", "-shm"))
    # Looked at twice: whoever ends removes the index first, whoever begins makes the log first.
    for _ in range(2):
        if not index.exists() or log.exists() or not store.exists():
            return
    allowed = f"one with {log.name} beside it, which holds its last changes"
    without = f"to go on without them, remove {index.name}"
    raise DamagedStoreError("store", str(store), f"{allowed}; {without}; {_way(store)}")


def _is_full(store: Path) -> bool:
    """Whether there is too little room even for what SQLite needs beside a store to read it."""
    with suppress(OSError):
        return disk_usage(store.parent).free < NEEDED_BYTES
    return False


def _way(store: Path) -> str:
    copy = newest_sound(store)
    if copy is None:
        return "there is no sound daily backup of it"
    return f"its newest sound backup comes back with `{way_back(store, copy.path)}`"
