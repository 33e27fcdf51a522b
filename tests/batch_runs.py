"""Batches as processes of their own: what they left, and whether anything of them still runs."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

NEXTPAIR = [sys.executable, "-c", "from nextpair.cli.main import run; run()"]
LONGEST_S = 240.0
GONE_S = 10.0
"""Longest that a worker outlives who started it; two seconds where the machine is idle."""


def command(*words: object) -> list[str]:
    """A command line of the program."""
    return [*NEXTPAIR, *map(str, words)]


def run(*words: object) -> subprocess.CompletedProcess[str]:
    """What a command said and how it ended."""
    return subprocess.run(
        command(*words), capture_output=True, text=True, timeout=LONGEST_S, check=False
    )


def sheets(out: Path) -> dict[str, bytes]:
    """Every file of every sheet."""
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in out.glob("*/*")}


def done_in(out: Path) -> int:
    """Sheets that the manifest tells of."""
    manifest = out / "batch.jsonl"
    return manifest.read_bytes().count(b'"done"') if manifest.exists() else 0


def until(true: Callable[[], object], longest_s: float = LONGEST_S) -> None:
    """Wait for something to be so."""
    ends_s = time.monotonic() + longest_s
    while not true():
        assert time.monotonic() < ends_s, "waited too long"
        time.sleep(0.02)


def offspring(pid: int | None) -> list[int]:
    """Processes that a process started and that still run."""
    try:
        told = Path(f"/proc/{pid}/task/{pid}/children").read_text("ascii")
    except OSError:
        return []
    return [int(child) for child in told.split()]


def until_gone(pids: list[int]) -> None:
    """Wait for processes to end that nobody ends."""
    assert pids
    until(lambda: not any(map(_is_alive, pids)), GONE_S)


def _is_alive(pid: int) -> bool:
    try:
        state = Path(f"/proc/{pid}/stat").read_text("ascii").rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"
