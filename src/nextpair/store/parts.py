"""Files while they are written: beside their place, under a name of whoever writes."""

from __future__ import annotations

import glob
import os
import re
from contextlib import suppress
from pathlib import Path

_WRITER = re.compile(r"\.(\d+)\.part(?:-wal|-shm|-journal)?$")


def make_file(path: Path) -> None:
    """An empty file that only this user reads, in a folder that only he sees, where none is."""
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    path.touch(mode=0o600)


def part_of(target: Path) -> Path:
    """Where this process writes what becomes `target` once it is whole."""
    return target.with_name(f".{target.name}.{os.getpid()}.part")


def clear_parts(target: Path) -> None:
    """Remove what writers of `target` left behind that were killed. Those who still run keep
    theirs; where it cannot be known who runs, all stay: a part is never taken for the file."""
    clear_parts_in(target.parent, f".{glob.escape(target.name)}.*")


def clear_parts_in(folder: Path, names: str = ".*") -> None:
    """The same for every file of a folder, or for parts of such names."""
    if os.name != "posix":
        return
    for path in folder.glob(f"{names}.part*"):
        writer = _WRITER.search(path.name)
        if writer is not None and not _runs(int(writer[1])):
            with suppress(OSError):
                path.unlink()


def sync_folder(folder: Path) -> None:
    """Have a folder's names on the disk, where the system lets us."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _runs(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):
        return True
    return True
