"""The folder of a batch: a folder for each event's sheet, and batch.jsonl, a line for each item.

A line is added after the files that it tells of are in place, and holds their hashes. So whatever
stops a run, at any moment, leaves whole sheets and at most one torn line at the end, which counts
for nothing.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import asdict
from hashlib import sha256
from pathlib import Path

from pydantic import BaseModel, ConfigDict, ValidationError

from nextpair.application.batch import MANIFEST, ItemRecord, State
from nextpair.domain.errors import InvalidValueError, require

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]

WRITABLE = "a folder that can be written"
OURS = "a line that this program wrote; move the file away to begin anew"
_LEFT_OVER = ".sheet.*.part"
_PLAIN = re.compile(r"[^/\\\0]+")

WriteFiles = Callable[[Mapping[Path, bytes]], None]
"""Writes all files or none. Raises InvalidValueError."""


class _Line(BaseModel):
    """A line of the manifest."""

    model_config = ConfigDict(strict=True, frozen=True)

    item: str
    folder: str
    event: str
    inputs: str
    seed: int
    model_version: str
    program: str
    state: str
    seconds: float
    files: dict[str, str]
    why: list[str]


class BatchFolder:
    """See `nextpair.application.batch.Tray`. Raises InvalidValueError where the folder cannot be
    written, another batch is at it, or its manifest is not one."""

    def __init__(self, root: Path, write_files: WriteFiles) -> None:
        self._root = root
        self._write_files = write_files
        self._manifest: int | None = None
        try:
            self._made = [folder for folder in (root, *root.parents) if not folder.exists()]
            root.mkdir(parents=True, exist_ok=True)
            self._lock = _locked(root)
        except OSError as error:
            raise InvalidValueError("--out", str(root), WRITABLE) from error
        try:
            self._records = self._tidied()
        except BaseException:
            _unlocked(self._lock)
            raise

    def close(self) -> None:
        """Let others at the folder; one that was made and got nothing is not left behind."""
        if self._manifest is not None:
            os.close(self._manifest)
        with suppress(OSError):
            for folder in self._made:
                folder.rmdir()
        _unlocked(self._lock)

    def records(self) -> Mapping[str, ItemRecord]:
        """The last line of each item, by the item's name, as the run began."""
        return self._records

    def holds(self, record: ItemRecord) -> bool:
        """Whether every file of a record lies there as it was written."""
        try:
            return all(
                sha256((self._root / record.folder / name).read_bytes()).hexdigest() == known
                for name, known in record.files.items()
            )
        except OSError:
            return False

    def keep(self, folder: str, files: Mapping[str, bytes]) -> None:
        """Write the files of one item, all or none, over what a killed run left half."""
        for part in (self._root / folder).glob(_LEFT_OVER):
            with suppress(OSError):
                part.unlink()
        self._write_files({self._root / folder / name: data for name, data in files.items()})

    def note(self, record: ItemRecord) -> None:
        """Add a line to the manifest, in one piece."""
        if self._manifest is None:
            self._manifest = self._opened()
        try:
            os.write(self._manifest, _written(record))
            os.fsync(self._manifest)
        except OSError as error:
            raise self._unwritable(error) from error

    def _tidied(self) -> dict[str, ItemRecord]:
        """The manifest's last line of each item; written anew where there is more in it."""
        place = self._root / MANIFEST
        try:
            content = place.read_bytes()
        except FileNotFoundError:
            return {}
        except OSError as error:
            raise self._unwritable(error) from error
        *lines, torn = content.split(b"\n")
        read = [self._read(number, line) for number, line in enumerate(lines, start=1)]
        records = {record.item: record for record in read}
        if torn or len(records) < len(lines):
            self._write_files({place: b"".join(map(_written, records.values()))})
        return records

    def _read(self, number: int, line: bytes) -> ItemRecord:
        place = f"{self._root / MANIFEST}: line {number}"
        try:
            told = _Line.model_validate_json(line)
            state = State(told.state)
        except (ValidationError, ValueError) as wrong:
            raise InvalidValueError(place, line[:60].decode("utf-8", "replace"), OURS) from wrong
        for name in (told.folder, *told.files):
            require(_is_plain(name), place, name, "the plain name of a folder or file")
        values = told.model_dump() | {"state": state, "why": tuple(told.why)}
        return ItemRecord(**values)

    def _opened(self) -> int:
        flags = os.O_WRONLY | os.O_APPEND | os.O_CREAT | getattr(os, "O_BINARY", 0)
        try:
            return os.open(self._root / MANIFEST, flags, 0o666)
        except OSError as error:
            raise self._unwritable(error) from error

    def _unwritable(self, error: OSError) -> InvalidValueError:
        found = error.strerror or str(error)
        return InvalidValueError(str(self._root / MANIFEST), found, "a file that can be written")


def _written(record: ItemRecord) -> bytes:
    return json.dumps(asdict(record), ensure_ascii=True).encode() + b"\n"


def _is_plain(name: str) -> bool:
    return _PLAIN.fullmatch(name) is not None and name not in (".", "..")


def _locked(root: Path) -> int | None:
    """The folder, held for this process as long as it lives; None where no system can."""
    if fcntl is None:
        return None
    held = os.open(root, os.O_RDONLY)
    try:
        fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        os.close(held)
        found = f"{root} (another batch is at it)"
        raise InvalidValueError("--out", found, "a folder that no other batch writes to") from None
    except OSError:  # a file system without locks
        os.close(held)
        return None
    return held


def _unlocked(held: int | None) -> None:
    if held is not None:
        os.close(held)
