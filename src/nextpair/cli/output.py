"""Files that a command leaves behind: all of them, or none."""

from __future__ import annotations

import errno
import os
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from nextpair.application.interruption import unbroken
from nextpair.domain.errors import InvalidValueError, require
from nextpair.store.parts import clear_parts, part_of


def write_files(contents: Mapping[Path, bytes], private: bool = False) -> None:
    """Write every file or none: each whole beside its place first, then all moved into place.
    What is private only this user may read.

    Folders that are missing are made. Raises InvalidValueError, naming the file, where one cannot
    be written.
    """
    made: list[Path] = []
    parts: dict[Path, Path] = {}
    target = Path()
    try:
        for target, content in contents.items():
            _require_ordinary(target)
            _make_folder(target.parent, made)
            clear_parts(target)
            parts[target] = part_of(target)
            parts[target].touch(mode=0o600 if private else 0o666)
            _write(parts[target], content)
        with unbroken():
            for target, part in parts.items():
                part.replace(target)
    except BaseException as error:
        for part in parts.values():
            with suppress(OSError):
                part.unlink()
        for folder in reversed(made):
            with suppress(OSError):
                folder.rmdir()
        if isinstance(error, (OSError, ValueError)):
            raise _cannot_be_written(target, error) from error
        raise


def require_writable(target: Path) -> None:
    """Refuse a file that cannot be written, before anything is kept that goes with it; leaves
    nothing behind. Raises InvalidValueError."""
    made: list[Path] = []
    try:
        _require_ordinary(target)
        _make_folder(target.parent, made)
        part = part_of(target)
        part.touch()
        part.unlink()
    except (OSError, ValueError) as error:
        raise _cannot_be_written(target, error) from error
    finally:
        for folder in reversed(made):
            with suppress(OSError):
                folder.rmdir()


def _require_ordinary(target: Path) -> None:
    """Nothing but a file is replaced: a device would be gone for everybody. Raises OSError."""
    if target.is_dir():
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR))
    if target.exists() and not target.is_file():
        raise OSError(errno.EINVAL, "Not an ordinary file")


def _cannot_be_written(target: Path, error: OSError | ValueError) -> InvalidValueError:
    why = getattr(error, "strerror", None) or str(error)
    return InvalidValueError(str(target), why, "a file name in a folder that can be written")


def _write(part: Path, content: bytes) -> None:
    """Write a file down to the disk: its name comes after what is in it."""
    part.write_bytes(content)
    with part.open("rb+") as file:
        os.fsync(file.fileno())


def each_once(targets: list[Path]) -> None:
    """Refuse two outputs in one file."""
    for target in targets:
        require(targets.count(target) == 1, "output", str(target), "each file once")


def _make_folder(folder: Path, made: list[Path]) -> None:
    for missing in reversed([folder, *folder.parents]):
        if not missing.exists():
            missing.mkdir()
            made.append(missing)
