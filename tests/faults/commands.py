"""One command as a process of its own, on the store of a folder."""

from __future__ import annotations

import resource
import subprocess
from functools import partial
from pathlib import Path

from browser.running import environment, program
from faults.doings import STORE


def command(
    folder: Path, *words: str, largest_file_bytes: int | None = None
) -> subprocess.CompletedProcess[str]:
    """What a command said and how it ended; with a limit, no file of its can grow past it."""
    limited = None
    if largest_file_bytes is not None:
        limit = (largest_file_bytes, largest_file_bytes)
        limited = partial(resource.setrlimit, resource.RLIMIT_FSIZE, limit)
    return subprocess.run(
        [*program(), *words],
        env=environment(folder / STORE),
        capture_output=True,
        text=True,
        cwd=folder,
        timeout=120,
        preexec_fn=limited,
    )


def begun(folder: Path, *words: str) -> subprocess.Popen[bytes]:
    """A command that runs, for whoever kills it."""
    return subprocess.Popen(
        [*program(), *words],
        env=environment(folder / STORE),
        cwd=folder,
        stdout=subprocess.DEVNULL,
    )
