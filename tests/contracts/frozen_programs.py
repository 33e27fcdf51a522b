"""What earlier programs' phones wrote and their servers answered.

`tools/frozen_program.py` wrote each on the checkout of its commit, by that program's own server
and its own page in Chromium; nobody edits them afterwards. A name says what the next program
brought: `before_scores` is the first whose phones log, send and show codes.
"""

from __future__ import annotations

import io
import json
import tarfile
from functools import cache
from pathlib import Path
from typing import Any

from contracts.frozen_files import thaw_sqlite, unpacked

FROZEN = Path(__file__).parent / "frozen_programs"

GRIT = ".surface_grit"
"""A number from 360 to 5000 or `polished`: docs/guide/files.md."""


def frozen_programs() -> list[str]:
    """Their names."""
    return sorted(path.name.removesuffix(".json.xz") for path in FROZEN.glob("*.json.xz"))


@cache
def _text_of(name: str) -> str:
    return unpacked(FROZEN / f"{name}.json.xz").decode()


def told_by(name: str) -> Any:
    """Everything that was kept of a program but its store."""
    return json.loads(_text_of(name))


def thaw_store(name: str, path: Path) -> None:
    """The store that it left."""
    thaw_sqlite(FROZEN / f"{name}.sqlite.sql.xz", path)


def thaw_page(name: str, folder: Path) -> None:
    """The page that its phones ran, for a host of static files."""
    content = unpacked(FROZEN / f"{name}.page.tar.xz")
    with tarfile.open(fileobj=io.BytesIO(content)) as files:
        files.extractall(folder, filter="data")


def shape(told: Any) -> Any:
    """What JSON is made of: objects by their keys, a list by what any of its items has, and the
    rest by its kind. Null says nothing."""
    if isinstance(told, dict):
        return {key: shape(value) for key, value in told.items()}
    if isinstance(told, list):
        merged: Any = None
        for item in told:
            merged = _merged(merged, shape(item))
        return [merged]
    if told is None:
        return None
    return "number" if type(told) in (int, float) else type(told).__name__


def _merged(one: Any, other: Any) -> Any:
    if isinstance(one, dict) and isinstance(other, dict):
        return {key: _merged(one.get(key), other.get(key)) for key in {**one, **other}}
    if isinstance(one, list) and isinstance(other, list):
        return [_merged(one[0], other[0])]
    return other if one is None else one


def missing(before: Any, now: Any, place: str = "") -> list[str]:
    """What of an earlier shape is gone or of another kind now; more is no loss."""
    if before is None or now is None:
        return []
    if isinstance(before, dict) and isinstance(now, dict):
        gone = [f"{place}.{key}" for key in before if key not in now]
        return gone + [
            one
            for key in before
            if key in now
            for one in missing(before[key], now[key], f"{place}.{key}")
        ]
    if isinstance(before, list) and isinstance(now, list):
        return missing(before[0], now[0], f"{place}[]")
    if before == now or (place.endswith(GRIT) and {before, now} == {"number", "str"}):
        return []
    return [f"{place}: {before!r} was, {now!r} is"]
