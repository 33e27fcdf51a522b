"""Targets: the command line, in this process, on damaged files and odd arguments."""

from __future__ import annotations

import contextlib
import io
import json
import os
import sqlite3
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from fuzz import originals
from fuzz.damage import TEXTS, damaged_bytes, damaged_documents
from fuzz.judge import first_fault, require
from fuzz.keeping import sound_archive
from fuzz.target import Target
from nextpair.cli.main import DONE, WRONG_INPUT, exit_code
from nextpair.domain.errors import InvalidValueError

SAYS = "nextpair: "
STORE = "nextpair.sqlite3"
Case = dict[str, Any]


@cache
def sound_store() -> bytes:
    """A store that holds the small event, as a file."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        _write(folder, {name: text.encode() for name, text in originals.FILES.items()})
        code, _, told = _run(["import", "event.toml", "--data-dir", "data"], folder)
        require(code == DONE, told)
        with sqlite3.connect(folder / "data" / STORE) as store:
            copy = sqlite3.connect(folder / "copy")
            store.backup(copy)
            copy.close()
        store.close()
        return (folder / "copy").read_bytes()


def run(case: Case) -> None:
    """Run a command in a folder of its own: exit 0, or 2 with lines, and all as it was before.
    Raises InvalidValueError with the first of those lines."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        files = {name: text.encode() for name, text in originals.FILES.items()}
        files |= {"data/" + STORE: sound_store()} | case["files"]
        _write(folder, files)
        before = _seen(folder)
        code, out, told = _run(case["arguments"], folder)
        after = _seen(folder)
    require(code in (DONE, WRONG_INPUT), f"exit {code}: {told[:1500]}")
    if code == DONE:
        return
    require(not out, f"exit 2 and output: {out[:200]!r}")
    require(after == before, f"partial write: {sorted(set(after) ^ set(before))[:5]} after exit 2")
    lines = told.removesuffix("\n").split("\n")
    require(all(line.startswith(SAYS) for line in lines), f"a line without a name: {told[:400]!r}")
    fault = first_fault(*lines)
    require(not fault, fault)
    raise InvalidValueError("command", lines[0][:200], "what the command says")


def _write(folder: Path, files: dict[str, bytes]) -> None:
    for name, content in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)


def _run(arguments: list[str], folder: Path) -> tuple[int, str, str]:
    out, told = io.StringIO(), io.StringIO()
    here = Path.cwd()
    os.chdir(folder)
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(told):
            code = exit_code(arguments)
    finally:
        os.chdir(here)
    return code, out.getvalue(), told.getvalue()


def _seen(folder: Path) -> dict[str, object]:
    """Every file by its name: its bytes, or of the store what it says."""
    found: dict[str, object] = {}
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if name == f"data/{STORE}":
            with contextlib.closing(sqlite3.connect(path)) as store:
                found[name] = tuple(store.iterdump())
        elif path.is_file() and not name.startswith("data/"):
            found[name] = path.read_bytes()
    return found


KEPT = ["--data-dir", "data"]
FILE = {
    "film": (["film", "given.toml"], [originals.FILES["pattern.toml"]]),
    "score": (["score", "given.csv"], [originals.SHEET, originals.BALLS, originals.SHOTS]),
    "score of an event": (
        ["score", "given.csv", "--event", "event.toml"],
        [originals.SHOTS],
    ),
    "import": (["import", "event.toml", *KEPT], []),
    "take in": (["house", "--take-in", "given.toml", *KEPT], [originals.SHARED_HOUSE]),
    "similar": (["similar", "given.toml", *KEPT], [originals.FILES["pattern.toml"]]),
}


@st.composite
def on_files(draw: st.DrawFn) -> Case:
    """A command on a damaged file."""
    arguments, sound = FILE[draw(st.sampled_from(sorted(FILE)))]
    if sound:
        name = next(word for word in arguments if word.startswith("given"))
        return {"arguments": arguments, "files": {name: draw(damaged_bytes(sound))}}
    name = draw(st.sampled_from(sorted(originals.FILES)))
    return {"arguments": arguments, "files": {name: draw(damaged_bytes([originals.FILES[name]]))}}


@st.composite
def archives(draw: st.DrawFn) -> Case:
    """A damaged archive."""

    told = draw(damaged_documents([sound_archive()]))
    content = draw(damaged_bytes([json.dumps(told)])) if draw(st.booleans()) else None
    whole = json.dumps(told).encode() if content is None else content
    return {"arguments": ["unpack", "given.json", *KEPT], "files": {"given.json": whole}}


WORDS: list[list[str]] = [
    ["path", "event.toml", "--ball", "Slate Weir", "--laydown", "24.5", "--angle", "2.4",
     "--lane", "13", "--speed", "17", "--surface", "2000", "--at", "15,31.5"],
    ["film", "pattern.toml", "--svg", "out/film.svg"],
    ["house", "--search", "words", "--surface", "wood", "--lanes", "12", *KEPT],
    ["house", "Quernstone Lanes", "--share", "out/house.toml", *KEPT],
    ["export", "Samphire Scratch Singles", "--out", "out", *KEPT],
    ["archive", "out/archive.json", *KEPT],
    ["ledger", *KEPT],
    ["season", *KEPT],
    ["carry", "--offset", "2.4", "--angle", "5"],
    ["patterns", "--json"],
    ["similar", "pattern.toml", *KEPT],
    ["conditions", *KEPT],
    ["share", "list", "--account", "home", *KEPT],
    ["share", "add", "Coach", "Samphire Scratch Singles", "--account", "home", *KEPT],
    ["share", "stop", "Coach", "Samphire Scratch Singles", *KEPT],
    ["share", "unlink", "Samphire Scratch Singles", *KEPT],
]  # fmt: skip


@cache
def sound_commands() -> None:
    """Run every command as it is: what it loads and compiles is no work of a case."""
    for arguments in WORDS:
        with contextlib.suppress(InvalidValueError):
            run({"arguments": arguments, "files": {}})


@st.composite
def odd_arguments(draw: st.DrawFn) -> Case:
    """A command with a word of its line another, doubled or gone."""
    arguments = list(draw(st.sampled_from(WORDS)))
    place = draw(st.integers(1, len(arguments) - 1)) if len(arguments) > 1 else 0
    kept = arguments[place] in KEPT or (place and arguments[place - 1] == "--data-dir")
    if not kept:
        way = draw(st.integers(0, 7))
        word = draw(TEXTS.filter(_can_be_said))
        ways = {0: [], 1: [arguments[place]] * 2}
        arguments[place : place + 1] = ways.get(way, [word])
    return {"arguments": arguments, "files": {}}


def _can_be_said(word: str) -> bool:
    """Whether a command line can hold a word; a name of an option that starts something else is
    left out."""
    try:
        os.fsencode(word)
    except UnicodeEncodeError:
        return False
    return "\0" not in word and not word.startswith(("/", "..", "~"))


TARGETS = (
    Target("commands on files", on_files, run, weight=2),
    Target("commands on archives", archives, run, weight=1),
    Target("odd arguments", odd_arguments, run, weight=2, ready=sound_commands),
)
