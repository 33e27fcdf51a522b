"""Files of what is frozen: packed small, and stores as SQL, which shows what is in them."""

from __future__ import annotations

import lzma
import sqlite3
from contextlib import closing
from pathlib import Path


def unpacked(path: Path) -> bytes:
    """What one frozen file holds."""
    return lzma.decompress(path.read_bytes())


def pack(path: Path, content: bytes) -> None:
    """Freeze a file, and say how large it got."""
    path.write_bytes(lzma.compress(content, preset=9))
    print(f"{path}: {path.stat().st_size} bytes")


def sqlite_words(store: Path) -> bytes:
    """An SQLite store as SQL."""
    with closing(sqlite3.connect(store)) as connection:
        connection.execute("PRAGMA journal_mode=DELETE")
        identity = connection.execute("PRAGMA application_id").fetchone()[0]
        lines = "\n".join(connection.iterdump())
    return f"PRAGMA application_id={identity};\n{lines}\n".encode()


def thaw_sqlite(frozen: Path, store: Path) -> None:
    """The SQLite store of a frozen file."""
    with closing(sqlite3.connect(store)) as connection:
        connection.executescript(unpacked(frozen).decode())
