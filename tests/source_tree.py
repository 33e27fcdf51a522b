"""The files of the checkout, for tests that read them."""

from __future__ import annotations

import ast
import os
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "src" / "nextpair"
DOCS = ROOT / "docs"

NOT_OURS = frozenset({".git", ".venv", "build", "dist", "__pycache__", "node_modules"})

Function = ast.FunctionDef | ast.AsyncFunctionDef


def all_files() -> list[Path]:
    """Every file that belongs to the checkout: nothing built, installed or cached."""
    found = []
    for folder, below, files in os.walk(ROOT):
        below[:] = [
            name
            for name in below
            if name not in NOT_OURS and not name.endswith(("_cache", ".egg-info"))
        ]
        found += [Path(folder, name) for name in files]
    return sorted(found)


def texts(*folders: str) -> Iterator[tuple[str, str]]:
    """Name and text of every file of the checkout, or of some of its folders, that is text."""
    for path in all_files():
        if folders and path.relative_to(ROOT).parts[0] not in folders:
            continue
        try:
            yield shown(path), path.read_text("utf-8")
        except UnicodeDecodeError:
            continue


def python_files(folder: Path) -> list[Path]:
    """Every Python file below a folder."""
    return sorted(folder.rglob("*.py"))


def shown(path: Path) -> str:
    """A path as a failure message names it."""
    return path.relative_to(ROOT).as_posix()


@cache
def parsed(path: Path) -> ast.Module:
    """The syntax tree of a file."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def functions(path: Path) -> Iterator[Function]:
    """Every function and method of a file, inner ones too."""
    for node in ast.walk(parsed(path)):
        if isinstance(node, Function):
            yield node


def public_functions(path: Path) -> Iterator[Function]:
    """Functions at the top of a module that others may import."""
    for node in parsed(path).body:
        if isinstance(node, Function) and not node.name.startswith("_"):
            yield node
