"""A crew on a Dask cluster, by the address of its scheduler.

The cluster runs what it is sent, and we run what it sends back: an address is as trusted as this
machine. Never more than two jobs a worker are with it, so that its memory holds a few however many
there are.
"""

from __future__ import annotations

import logging
import re
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from importlib import import_module
from queue import Empty, SimpleQueue
from time import monotonic
from typing import Any

from nextpair.application.batch import CrewGoneError, Finished, Job, State
from nextpair.application.model_version import model_version
from nextpair.crew.kept_memory import kept_memory
from nextpair.domain.errors import InvalidValueError, require

ANSWER_S = 10.0
"""Longest wait for a scheduler to answer."""
LOOKED_EVERY_S = 1.0
JOBS_A_WORKER = 2
"""One under way and one that waits, so that no worker does."""
LONGEST_SILENCE_S = 60.0
"""Longest wait for a scheduler that answered before, and for a result that is there."""
LONGEST_ALONE_S = 600.0
"""Longest wait for a worker where all went away: machines that begin anew take minutes."""
OPTION = "--cluster"
ANSWERS = "the address of a Dask scheduler that answers, such as tcp://127.0.0.1:8786"
_ADDRESS = re.compile(r"((tcp|tls)://)?[^\s/:]+:\d{1,5}|((tcp|tls)://)?\[[0-9a-fA-F:.]+\]:\d{1,5}")
"""Told before Dask sees it: given anything else it waits, and then complains at length."""
LOST = "a worker of the cluster died of it, again and again"

Work = Callable[[Job], Finished]
"""What a worker does with a job; it is found there by its name."""


class DaskCrew:
    """See `nextpair.application.batch.Crew`. Raises InvalidValueError where Dask is not installed,
    nobody answers, there are no workers, or they have another model."""

    def __init__(
        self,
        address: str,
        work: Work,
        answer_s: float = ANSWER_S,
        silence_s: float = LONGEST_SILENCE_S,
        alone_s: float = LONGEST_ALONE_S,
    ) -> None:
        self._work = work
        self._address = address
        self._silence_s, self._alone_s = silence_s, alone_s
        self._ended: SimpleQueue[Any] = SimpleQueue()
        self._under_way: dict[str, tuple[int, Any]] = {}
        self._given = 0
        self._workers = 0
        self._looked_s = -LOOKED_EVERY_S
        self._peopled_s = monotonic()
        self._dask = _library()
        with ExitStack() as begun:
            begun.enter_context(_unheard())
            self._client = _connected(self._dask, address, answer_s)
            begun.callback(self._leave)
            self._require_our_model(answer_s)
            count = self._count_workers()
            self._end = begun.pop_all().close
        self.words = f"Dask, {count} worker{'' if count == 1 else 's'}"

    def room(self) -> int:
        """Two jobs a worker, as many workers as there are now, less those that are with it."""
        return max(1, JOBS_A_WORKER * self._count_workers()) - len(self._under_way)

    def give(self, number: int, job: Job) -> None:
        """Send a job to the cluster. Raises CrewGoneError."""
        self._given += 1
        key = f"nextpair-sheet-{self._client.id}-{self._given}"
        try:
            future = self._client.submit(_done, self._work, job, key=key, pure=False)
        except Exception as error:
            raise self._gone() from error
        self._under_way[key] = number, future
        future.add_done_callback(self._ended.put)

    def take(self) -> tuple[int, Finished]:
        """Wait for any job to end. Raises CrewGoneError."""
        future = None
        while future is None:
            with suppress(Empty):
                future = self._ended.get(timeout=LOOKED_EVERY_S)
            self._count_workers()
        number, _ = self._under_way.pop(future.key)
        return number, self._result(future)

    def close(self) -> None:
        """Call off whatever is under way, and leave the cluster."""
        self._end()

    def _leave(self) -> None:
        with suppress(Exception):
            self._client.cancel([future for _, future in self._under_way.values()], force=True)
        self._under_way.clear()
        with suppress(Exception):
            self._client.close(timeout=ANSWER_S)

    def _result(self, future: Any) -> Finished:
        try:
            result: Finished = future.result(timeout=self._silence_s)
        except self._dask.KilledWorker:
            return Finished(State.LOST, why=(LOST,), tried_again=True)
        except Exception as error:
            if future.status == "error":
                return Finished(State.FAULT, why=(f"{type(error).__name__}: {error}",))
            if self._client.status != "running" or future.status in ("cancelled", "lost"):
                raise self._gone() from error
            return Finished(State.LOST)  # the worker that held it died of another one
        finally:
            with suppress(Exception):
                future.release()
        return result

    def _count_workers(self) -> int:
        """Workers there are, asked for once a second. Raises CrewGoneError where nobody says, or
        nobody came for long."""
        now_s = monotonic()
        if now_s - self._looked_s >= LOOKED_EVERY_S:
            try:
                self._workers = len(self._client.nthreads(callback_timeout=self._silence_s))
            except Exception as error:
                raise self._gone() from error
            self._looked_s = now_s
            if self._workers:
                self._peopled_s = now_s
        if self._client.status != "running":
            raise self._gone()
        if now_s - self._peopled_s > self._alone_s:
            raise CrewGoneError(f"the cluster at {self._address} has had no workers for too long")
        return self._workers

    def _require_our_model(self, answer_s: float) -> None:
        with suppress(TimeoutError):  # workers may be starting, too; without any it is refused
            self._client.wait_for_workers(1, timeout=answer_s)
        theirs = self._client.run(model_version, on_error="return")
        if any(isinstance(answer, ImportError) for answer in theirs.values()):
            allowed = "a cluster whose workers have the same nextpair installed"
            raise InvalidValueError(OPTION, self._address, allowed)
        require(bool(theirs), OPTION, f"{self._address} (no workers)", "a cluster with workers")
        # A worker that went away meanwhile answers with an error; each sheet says its model, too.
        told = {answer for answer in theirs.values() if isinstance(answer, str)}
        others = sorted(told - {model_version()})
        found = f"{self._address} (workers of the model {', '.join(others)})"
        require(not others, OPTION, found, f"a cluster of the model {model_version()}")

    def _gone(self) -> CrewGoneError:
        return CrewGoneError(f"the cluster at {self._address} does not answer any more")


def _done(work: Work, job: Job) -> Finished:
    """What a worker is sent; it is found there by its name."""
    with kept_memory():
        return work(job)


@contextmanager
def _unheard() -> Iterator[None]:
    """Keep to itself what Dask logs, under any name, such as traces where a cluster goes away."""
    before = logging.root.manager.disable
    logging.disable(logging.CRITICAL)
    try:
        yield
    finally:
        logging.disable(before)


def _library() -> Any:
    try:
        return import_module("distributed")
    except ImportError as missing:
        allowed = "Dask installed beside nextpair: pip install 'nextpair[batch]'"
        raise InvalidValueError(OPTION, "no Dask here", allowed) from missing


def _connected(dask: Any, address: str, answer_s: float) -> Any:
    require(_ADDRESS.fullmatch(address) is not None, OPTION, address, ANSWERS)
    try:
        return dask.Client(address, timeout=answer_s, set_as_default=False, name="nextpair")
    except (OSError, ValueError, TypeError, ImportError, RuntimeError) as error:
        raise InvalidValueError(OPTION, address, ANSWERS) from error
