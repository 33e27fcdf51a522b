"""The version of the model: a short hash of everything that decides a number.

It is stamped on every sheet. The hash of the part that is compiled names the folder of compiled
code, because the compiler's own cache does not see edits in other files: with a new hash it starts
from an empty folder. Standard library only, so that both are known before the compiler is loaded.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path

COMPILED_PACKAGES = ("domain", "scoring", "physics", "kernel", "carry")
"""Kernel and carry, and the packages below that their compiled code takes constants from."""
MODEL_PACKAGES = (*COMPILED_PACKAGES, "planning", "application")
"""All that stands between an event and the numbers of its sheet."""
HASH_DIGITS = 12


@cache
def model_version() -> str:
    """The hash of the installed model, twelve hexadecimal digits."""
    return version_of(Path(__file__).parents[1], MODEL_PACKAGES)


@cache
def compiled_version() -> str:
    """The hash of the part of it that compiled code is made from."""
    return version_of(Path(__file__).parents[1], COMPILED_PACKAGES)


def version_of(package_root: Path, packages: Sequence[str]) -> str:
    """The hash of some packages under a package's folder: names and contents of their files."""
    digest = hashlib.sha256()
    for path in _files(package_root, packages):
        name = path.relative_to(package_root).as_posix().encode()
        content = path.read_bytes()
        digest.update(b"%d %s %d " % (len(name), name, len(content)))
        digest.update(content)
    return digest.hexdigest()[:HASH_DIGITS]


def _files(package_root: Path, packages: Sequence[str]) -> Iterator[Path]:
    for package in packages:
        for path in sorted((package_root / package).rglob("*")):
            if path.is_file() and "__pycache__" not in path.parts:
                yield path
