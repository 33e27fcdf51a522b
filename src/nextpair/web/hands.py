"""The process that computes: started when it is first needed, stopped at any time, replaced when
it is gone.

It is a process of its own so that a job can be stopped for good and the server stays quick: one
core less than there are, and behind everything else in the queue for it. It ends with the server,
however that ends.
"""

from __future__ import annotations

import logging
import os
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from multiprocessing import get_context
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from threading import Lock
from time import monotonic
from typing import Any

from nextpair.application.jobs import FailedError, Order, Results, StoppedError
from nextpair.application.offspring import serve_parent
from nextpair.application.ports import Progress
from nextpair.application.settings import Settings
from nextpair.bootstrap import Program, start_log
from nextpair.domain.errors import NextpairError

Fulfil = Callable[[Program, Order, Progress], Results]
"""What the process does with an order; it is found there by its name."""
NICENESS = 10
TOLD_EVERY_S = 0.1
KILL_S = 5.0
log = logging.getLogger("nextpair.web")

GONE = "the process that computes ended; try again"


def fulfilled(program: Program, order: Order, progress: Progress) -> Results:
    """What an order asks for. All that computes is loaded by the process that does it."""
    from nextpair.web.orders import fulfil

    return fulfil(program, order, progress)


class Hands:
    """One process that works off orders, from the side of who gives them."""

    def __init__(self, settings: Settings, fulfil: Fulfil = fulfilled) -> None:
        self._settings = replace(settings, threads=settings.threads or threads_left())
        self._fulfil = fulfil
        self._lock = Lock()
        self._process: BaseProcess | None = None
        self._line: Connection | None = None

    def work(self, order: Order, progress: Progress) -> Results:
        """The results of an order; see `nextpair.application.jobs.Hands`."""
        try:
            line = self._open_line()
            line.send(order)
            while True:
                said, *content = line.recv()
                if said == "progress":
                    progress(*content)
                elif said == "failed":
                    raise FailedError(content[0])
                else:
                    results: Results = content[0]
                    return results
        except (EOFError, OSError) as gone:
            # Its line may break a moment before it is seen to be gone: the next order must not
            # go to it.
            self.stop()
            raise StoppedError(GONE) from gone
        except FailedError:
            raise
        except BaseException:
            # It still computes, and what it says next is no answer to the next order.
            self.stop()
            raise

    def stop(self) -> None:
        """End the process; the next order starts another one."""
        with self._lock:
            if self._process is not None:
                self._process.kill()
                self._process.join(KILL_S)

    def close(self) -> None:
        """End the process for good, once nothing is under way."""
        self.stop()
        with self._lock:
            if self._line is not None:
                self._line.close()

    @property
    def process_id(self) -> int | None:
        """The process that computes now."""
        process = self._process
        return None if process is None else process.pid

    def _open_line(self) -> Connection:
        with self._lock:
            if self._process is not None and self._line is not None and self._process.is_alive():
                return self._line
            if self._line is not None:
                self._line.close()
            ours, theirs = get_context("spawn").Pipe()
            self._process = get_context("spawn").Process(
                target=work_off,
                args=(theirs, self._settings, self._fulfil),
                name="nextpair hands",
                daemon=True,
            )
            self._process.start()
            theirs.close()
            self._line = ours
            return ours


def threads_left() -> int:
    """Threads that may compute, so that one core is left for the server."""
    return max(1, (os.cpu_count() or 2) - 1)


def work_off(line: Connection, settings: Settings, fulfil: Fulfil) -> None:
    """What the process does: one order after another, until nobody is there to order."""
    serve_parent()
    if hasattr(os, "nice"):
        os.nice(NICENESS)
    start_log(settings, "the process that computes")
    program = Program(settings)
    while True:
        try:
            order: Order = line.recv()
        except (EOFError, OSError):
            return
        line.send(_done(partial(fulfil, program, order, _Telling(line))))


def _done(work: Callable[[], Results]) -> tuple[str, Any]:
    try:
        return "done", work()
    except NextpairError as refused:
        return "failed", str(refused).splitlines()[0]
    except Exception as fault:
        log.error("a fault of ours in an order", extra={"fault": fault})
        return "failed", f"a fault of ours: {type(fault).__name__}"


class _Telling:
    """Sends progress on, at most ten times a second but for a new label and the last step."""

    def __init__(self, line: Connection) -> None:
        self._line = line
        self._label = ""
        self._told_s = 0.0

    def __call__(self, label: str, done: int, total: int, /) -> None:
        now_s = monotonic()
        if label == self._label and done < total and now_s - self._told_s < TOLD_EVERY_S:
            return
        self._label, self._told_s = label, now_s
        self._line.send(("progress", label, done, total))
