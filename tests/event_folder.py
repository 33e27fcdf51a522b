"""A copy of the bundled event that a test may spoil."""

from __future__ import annotations

import shutil
from pathlib import Path

from nextpair.domain.errors import InputRefusedError, Problem
from nextpair.files import load_event
from source_tree import PACKAGE

DEMO = PACKAGE / "demo"


def copy_of_demo(folder: Path) -> Path:
    """The bundled event in a folder of its own; returns that folder."""
    return shutil.copytree(DEMO, folder / "event")


def change(folder: Path, file: str, before: str, after: str) -> None:
    """Write `after` where the file says `before` for the first time."""
    path = folder / file
    text = path.read_text("utf-8")
    assert before in text, f"{file} does not say {before!r}"
    path.write_text(text.replace(before, after, 1), "utf-8")


def problems_of(folder: Path) -> list[Problem]:
    """What is wrong with the event of a folder; every problem is one short line."""
    try:
        load_event(folder / "event.toml")
    except InputRefusedError as refused:
        problems = list(refused.problems)
    else:
        return []
    assert problems
    for problem in problems:
        assert len(str(problem).splitlines()) == 1
        assert all((problem.file, problem.place, problem.found, problem.allowed))
    return problems
