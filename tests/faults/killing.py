"""Killing a process at a moment that nobody chose, and hearing what it had said until then."""

from __future__ import annotations

import os
import random
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from multiprocessing import get_context
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any

ROUNDS = int(os.environ.get("NEXTPAIR_FAULT_ROUNDS", "10"))
START_WITHIN_S = 30.0
Doing = Callable[[Path, Connection], None]
_context = get_context("forkserver")
_context.set_forkserver_preload(["faults.doings"])


class Victim:
    """A process that does one thing until it is killed."""

    def __init__(self, doing: Doing, folder: Path) -> None:
        self._line, theirs = _context.Pipe(duplex=False)
        self._process: BaseProcess = _context.Process(
            target=doing, args=(folder, theirs), daemon=True
        )
        self._process.start()
        theirs.close()
        if not self._line.poll(START_WITHIN_S):
            raise RuntimeError("it did not begin")

    def killed_after(self, wait_s: float) -> list[Any]:
        """All that it said before SIGKILL, and what was under way to us."""
        heard: list[Any] = []
        ends_s = time.monotonic() + wait_s
        with suppress(EOFError):
            while (left_s := ends_s - time.monotonic()) > 0:
                if self._line.poll(left_s):
                    heard.append(self._line.recv())
        ended = self._process.exitcode
        self._process.kill()
        self._process.join()
        with suppress(EOFError):
            while True:
                heard.append(self._line.recv())
        if ended is not None:
            raise RuntimeError(f"it ended by itself: {ended}")
        return heard


def moments(most_s: float, seed: int = 7, rounds: int = ROUNDS) -> Iterator[float]:
    """Random waits until the kill."""
    rng = random.Random(seed)
    return (rng.uniform(0.0, most_s) for _ in range(rounds))
