"""The daily copies of an SQLite store: their names, which of them stay, which is the newest sound
one.

A copy's number says its place in their order, never its date: a clock that was wrong for a while
neither makes an old copy the newest nor a new one the first to go
(docs/adr/0023-daily-backups.md).
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable, Iterable, Sequence
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path

FOLDER = "backups"
SUFFIX = ".sqlite3"
DAYS, WEEKS, MONTHS = 7, 4, 12
"""How many different days, weeks and months keep their last copy."""


@dataclass(frozen=True, slots=True, order=True)
class Copy:
    """One daily copy; `number` counts them from 1, `day` is what the clock said."""

    number: int
    day: date
    path: Path


def copies_of(store: Path) -> tuple[Copy, ...]:
    """The daily copies of a store, oldest first. Raises OSError where their folder cannot be
    read."""
    named = re.compile(rf"{re.escape(_stem(store))}-(\d{{5,}})-(\d{{4}}-\d\d-\d\d)\.sqlite3")
    folder = store.parent / FOLDER
    found: list[Copy] = []
    if folder.is_dir():
        for path in folder.iterdir():
            match = named.fullmatch(path.name)
            with suppress(ValueError):
                if match is not None:
                    found.append(Copy(int(match[1]), date.fromisoformat(match[2]), path))
    return tuple(sorted(found))


def copy_after(store: Path, copies: Sequence[Copy], day: date) -> Copy:
    """The next copy of a store: its number, and where it goes."""
    number = copies[-1].number + 1 if copies else 1
    name = f"{_stem(store)}-{number:05d}-{day.isoformat()}{SUFFIX}"
    return Copy(number, day, store.parent / FOLDER / name)


def surplus(copies: Iterable[Copy]) -> tuple[Copy, ...]:
    """Copies that may go: of each of the last seven different days, four weeks and twelve months
    that were copied, in the order of the copies, the last one stays."""
    newest_first = sorted(copies, reverse=True)
    stay: set[Copy] = set()
    for most, label in _RULES:
        met: set[object] = set()
        for copy in newest_first:
            if label(copy.day) not in met and len(met) < most:
                met.add(label(copy.day))
                stay.add(copy)
    return tuple(copy for copy in reversed(newest_first) if copy not in stay)


def newest_sound(store: Path) -> Copy | None:
    """The last copy that a check finds whole; None where there is none."""
    try:
        copies = copies_of(store)
    except OSError:
        return None
    return next((copy for copy in reversed(copies) if damage(copy.path) is None), None)


def damage(file: Path) -> str | None:
    """What a quick check of a database's pages finds wrong; None where it is sound. A file that
    is not there, or that cannot be read now, is not sound either."""
    if not file.is_file() or file.stat().st_size == 0:
        return "it is empty" if file.is_file() else "it is not there"
    alone = not is_open(file)
    found = _checked(file)
    if found is not None and alone and is_open(file):
        found = _checked(file)  # somebody began to write it meanwhile
    return found


def is_open(file: Path) -> bool:
    """Whether a database has a log beside it: somebody has it open, or left it so."""
    return any(file.with_name(file.name + ending).exists() for ending in ("-wal", "-journal"))


def reading_address(file: Path) -> str:
    """A URI by which SQLite reads a database and leaves no file beside it that was not there."""
    # Without a log nobody writes it: it may be read as if nobody could.
    return f"{file.absolute().as_uri()}?mode=ro{'' if is_open(file) else '&immutable=1'}"


def _checked(file: Path) -> str | None:
    try:
        with closing(sqlite3.connect(reading_address(file), uri=True)) as asked:
            found = str(asked.execute("PRAGMA quick_check(1)").fetchone()[0])
    except sqlite3.Error as error:
        return str(error)
    return None if found == "ok" else " ".join(found.split())


def _stem(store: Path) -> str:
    return store.name.removesuffix(SUFFIX)


def _week(day: date) -> object:
    return tuple(day.isocalendar())[:2]


def _month(day: date) -> object:
    return (day.year, day.month)


_RULES: tuple[tuple[int, Callable[[date], object]], ...] = (
    (DAYS, lambda day: day),
    (WEEKS, _week),
    (MONTHS, _month),
)
