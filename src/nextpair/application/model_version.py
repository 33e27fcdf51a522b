"""The version of the model: a short hash of everything that decides a number.

It is stamped on every sheet and names the folder of compiled code, because the compiler's own
cache does not see edits in other files: with a new hash it starts from an empty folder.
Standard library only, so that it is known before the compiler is loaded.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

MODEL_PACKAGES = ("domain", "physics", "kernel", "carry")
"""The kernel, the packages below it that compiled code takes constants from, and carry."""
HASH_DIGITS = 12


@cache
def model_version() -> str:
    """The hash of the installed model, twelve hexadecimal digits."""
    return version_of(Path(__file__).parents[1])


def version_of(package_root: Path) -> str:
    """The hash of the model found under a package's folder: names and contents of its files."""
    digest = hashlib.sha256()
    for path in _model_files(package_root):
        name = path.relative_to(package_root).as_posix().encode()
        content = path.read_bytes()
        digest.update(b"%d %s %d " % (len(name), name, len(content)))
        digest.update(content)
    return digest.hexdigest()[:HASH_DIGITS]


def _model_files(package_root: Path) -> Iterator[Path]:
    for package in MODEL_PACKAGES:
        for path in sorted((package_root / package).rglob("*")):
            if path.is_file() and "__pycache__" not in path.parts:
                yield path
