"""Which events a batch is of: files, folders that are searched, and lists of both."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from nextpair.application.batch import Item
from nextpair.files.intake import Intake, Source
from nextpair.files.text_file import read_text

EVENT_FILE = "event.toml"
COMMENT = "#"


def listed_paths(path: Path) -> tuple[Path, ...]:
    """What a list names, a file or folder a line, from the list's own folder; empty lines and
    lines that begin with # are passed over. Raises InputRefusedError."""
    intake = Intake()
    text = read_text(Source.first(path), intake)
    intake.close()
    lines = (line.strip() for line in (text or "").splitlines())
    return tuple(path.parent / line for line in lines if line and not line.startswith(COMMENT))


def events_below(paths: Iterable[Path], but: Path) -> tuple[Item, ...]:
    """Every event of some files and folders, each once, in the order in which they are named.

    A folder is every event.toml in it or below, by name, without folders that are hidden and
    without `but`. A folder without any stands for the event.toml that it lacks.
    """
    skipped = _real(but)
    items: dict[str, Item] = {}
    for path in paths:
        found = _below(path, skipped) if path.is_dir() else iter((path,))
        for event in found:
            name = _real(event)
            items.setdefault(name, Item(event, name))
    return tuple(items.values())


def _below(folder: Path, skipped: str) -> Iterator[Path]:
    unread: list[Path] = []
    found = False
    for place, below, files in os.walk(folder, onerror=lambda e: unread.append(Path(e.filename))):
        below[:] = sorted(
            name
            for name in below
            if not name.startswith(".") and _real(Path(place, name)) != skipped
        )
        if EVENT_FILE in files:
            found = True
            yield Path(place, EVENT_FILE)
    yield from (place / EVENT_FILE for place in unread)
    if not found and not unread:
        yield folder / EVENT_FILE


def _real(path: Path) -> str:
    """The one name of a file, however it was written; as it was written where it has none."""
    try:
        return os.path.realpath(path)
    except (OSError, ValueError):
        return os.fspath(path)
