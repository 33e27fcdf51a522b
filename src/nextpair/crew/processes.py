"""A crew of processes on this machine, a thread each.

Every place has a pool of one: the death of a process is that of the one item that it had, and
nobody else's.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import active_children, get_context
from multiprocessing.process import BaseProcess

from nextpair.application.batch import Finished, Job, State
from nextpair.application.offspring import serve_parent

Work = Callable[[Job], Finished]
"""What a process does with a job; it is found there by its name."""
KILL_S = 5.0


class ProcessCrew:
    """See `nextpair.application.batch.Crew`."""

    def __init__(self, processes: int, work: Work) -> None:
        self._work = work
        self._free = list(range(processes))
        self._pools: dict[int, ProcessPoolExecutor] = {}
        self._processes: dict[int, set[BaseProcess]] = {}
        self._under_way: dict[Future[Finished], tuple[int, int]] = {}
        self.words = "1 process" if processes == 1 else f"{processes} processes"

    def room(self) -> int:
        """Places where nothing is under way."""
        return len(self._free)

    def give(self, number: int, job: Job) -> None:
        """Start a job, in a new process where the place has none."""
        place = self._free.pop()
        if place not in self._pools:
            self._pools[place] = ProcessPoolExecutor(1, get_context("spawn"), _begin)
        before = set(active_children())
        future = self._pools[place].submit(self._work, job)
        self._processes.setdefault(place, set()).update(set(active_children()) - before)
        self._under_way[future] = number, place

    def take(self) -> tuple[int, Finished]:
        """Wait for any job to end."""
        done, _ = wait(self._under_way, return_when=FIRST_COMPLETED)
        future = done.pop()
        number, place = self._under_way.pop(future)
        self._free.append(place)
        try:
            return number, future.result()
        except BrokenProcessPool:
            self._pools.pop(place).shutdown()
            self._processes.pop(place, None)
            return number, Finished(State.LOST)

    def close(self) -> None:
        """End all processes at once."""
        processes = set().union(*self._processes.values())
        if self._under_way:
            for process in processes:
                process.kill()
        for pool in self._pools.values():
            pool.shutdown(cancel_futures=True)
        for process in processes:
            process.join(KILL_S)
        self._pools.clear()
        self._processes.clear()


def _begin() -> None:
    """A core each: read by the compiler when it is loaded."""
    os.environ["NUMBA_NUM_THREADS"] = "1"
    serve_parent()
