"""Where the files of an event lie: on disk, or in memory as texts or as tables read already."""

from __future__ import annotations

import posixpath
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path, PurePath
from typing import Protocol

LARGEST_FILE_BYTES = 4_000_000

Table = dict[str, object]


class UnreadableError(Exception):
    """A file cannot be had; says why in a few words."""


class Folder(Protocol):
    """What holds files under their paths: each as bytes, or as what bytes would be read as."""

    def holds(self, path: PurePath) -> bool:
        """Whether anything lies there."""

    def content(self, path: PurePath) -> bytes:
        """What a file holds. Raises UnreadableError."""

    def table(self, path: PurePath) -> Table | None:
        """The tables of a file, where they need no reading."""

    def rows(self, path: PurePath) -> Sequence[Table] | None:
        """The rows of a file, where they need no reading."""


class Disk:
    """The files of this computer."""

    def holds(self, path: PurePath) -> bool:
        return Path(path).exists()

    def content(self, path: PurePath) -> bytes:
        path = Path(path)
        try:
            if path.is_dir():
                raise UnreadableError("a folder")
            if path.exists() and not path.is_file():
                raise UnreadableError("not an ordinary file")
            with path.open("rb") as file:
                return _of_a_size(file.read(LARGEST_FILE_BYTES + 1))
        except FileNotFoundError:
            raise UnreadableError("no such file") from None
        except OSError as failed:
            why = (failed.strerror or "cannot be read").lower()
            raise UnreadableError(why) from failed
        except ValueError:
            raise UnreadableError("not the name of a file") from None

    def table(self, path: PurePath) -> Table | None:  # noqa: ARG002
        return None

    def rows(self, path: PurePath) -> Sequence[Table] | None:  # noqa: ARG002
        return None


DISK = Disk()


@dataclass(frozen=True, slots=True)
class Memory:
    """Files that lie nowhere: texts, tables and rows by their paths, with slashes."""

    texts: Mapping[str, str] = field(default_factory=dict)
    tables: Mapping[str, Mapping[str, object]] = field(default_factory=dict)
    lists: Mapping[str, Sequence[Mapping[str, object]]] = field(default_factory=dict)

    def holds(self, path: PurePath) -> bool:
        names = {posixpath.normpath(name) for name in (*self.texts, *self.tables, *self.lists)}
        return _plain(path) in names

    def content(self, path: PurePath) -> bytes:
        texts = {posixpath.normpath(name): text for name, text in self.texts.items()}
        text = texts.get(_plain(path))
        if text is None:
            raise UnreadableError("no such file")
        return _of_a_size(text.encode("utf-8", "surrogatepass"))

    def table(self, path: PurePath) -> Table | None:
        table = self.tables.get(_plain(path))
        return None if table is None else told(table)

    def rows(self, path: PurePath) -> Sequence[Table] | None:
        rows = self.lists.get(_plain(path))
        return None if rows is None else [filled(row) for row in rows]


def _of_a_size(content: bytes) -> bytes:
    if len(content) > LARGEST_FILE_BYTES:
        raise UnreadableError(f"more than {LARGEST_FILE_BYTES // 1_000_000} MB")
    return content


def _plain(path: PurePath) -> str:
    return posixpath.normpath(path.as_posix())


def told(table: Mapping[str, object]) -> Table:
    """A table of its own that leaves out what holds nothing."""
    return {key: _copy(value) for key, value in table.items() if value is not None}


def _copy(value: object) -> object:
    if isinstance(value, Mapping):
        return told(value)
    if isinstance(value, list | tuple):
        return [_copy(item) for item in value]
    return value


def filled(row: Mapping[str, object]) -> Table:
    """The filled cells of a row, texts without the blanks around them, as a CSV file has them."""
    cells = {key: _stripped(value) for key, value in row.items()}
    return {key: value for key, value in cells.items() if value not in (None, "")}


def _stripped(value: object) -> object:
    """A text without the blanks around it; one without any stays what it is."""
    return value.strip() if isinstance(value, str) and value != value.strip() else value
