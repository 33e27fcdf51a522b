"""Long jobs: written down, worked off one after another, watched, and stopped.

The hands that do the work are given from outside; whatever becomes of them, a job ends in a state
that says so.
"""

from __future__ import annotations

import hashlib
import logging
import queue
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from threading import Condition, Thread
from time import monotonic
from typing import Any, Protocol
from uuid import UUID, uuid4

from nextpair.application.bundle import EventBundle
from nextpair.application.clock import now_utc
from nextpair.application.model_version import model_version
from nextpair.application.packing_at_home import NOTHING_KEPT, PackedBy
from nextpair.application.ports import Progress
from nextpair.application.store import Account, Computed, ComputedNote, Job, Store
from nextpair.domain.errors import NextpairError, require
from nextpair.domain.jotting import Kept, canonical_json
from nextpair.domain.record import Document

WAITING, RUNNING, DONE = "waiting", "running", "done"
FAILED, CANCELLED, INTERRUPTED = "failed", "cancelled", "interrupted"
ACTIVE = (WAITING, RUNNING)
EVERY_STATE = (*ACTIVE, DONE, FAILED, CANCELLED, INTERRUPTED)
POCKET, DEBRIEF = "pocket", "debrief"
BY_FORMAT = (POCKET, DEBRIEF)
"""Kinds of result that say how the event is decided."""
FORMAT_KEYS = ("counting", "handicap", "stage")
"""Of an event's document: how it is decided."""
HOUSE_WORDS = (
    "notes", "private_notes", "ball_return", "ceiling", "photos", "lane_machine",
)  # fmt: skip
"""Of a house's document: words that decide no number."""
MOST_WAITING = 20
"""Of one account."""
WRITTEN_EVERY_S = 2.0
"""How often a running job's progress is written down; whoever watches sees every step."""
STOP_S, TRY_AGAIN_S = 5.0, 0.2


CLOCK_SLACK, MOMENT = timedelta(hours=1), timedelta(microseconds=1)
"""How far ahead what is kept may be dated and still be believed."""

log = logging.getLogger("nextpair.jobs")


class StoppedError(NextpairError):
    """The hands were stopped, or died, before the work was done."""


class FailedError(NextpairError):
    """The work cannot be done; says why in one line."""


@dataclass(frozen=True, slots=True)
class Order:
    """What is to be computed, as plain data: of which event, from which log (None: from none),
    of results that are kept already what the work goes on from, and by what is kept a packing list
    is made."""

    kind: str
    event: UUID
    bundle: EventBundle
    seed: int
    log: tuple[Kept, ...] | None = None
    given: Mapping[str, Document] = field(default_factory=dict)
    packed: PackedBy = NOTHING_KEPT

    @property
    def log_seq(self) -> int | None:
        """The last jotting that it knows."""
        return None if self.log is None else max((kept.seq for kept in self.log), default=0)


Results = Mapping[str, Document]
"""What was computed, by kind: what was ordered, and what had to be made for it."""


class Hands(Protocol):
    """Does the work of one order at a time."""

    def work(self, order: Order, progress: Progress) -> Results:
        """The results. Raises FailedError where it cannot be done, StoppedError where it was not
        finished."""

    def stop(self) -> None:
        """Stop what is under way at once."""

    def close(self) -> None:
        """Let go of everything, once nothing is under way."""


def inputs_of(bundle: EventBundle, kind: str) -> str:
    """The hash of everything that a kind of result comes from: not what the event costs and pays
    or how it is decided, not what is noted of the house in words, and not what the bowler takes
    care of or likes to be shown. Only a pocket and a debrief say how it is decided, and of its
    money how many enter, go on and are paid."""
    content: dict[str, Any] = {
        "event": _without(bundle.event, "money", *FORMAT_KEYS),
        "house": _house_numbers(bundle.house),
        "patterns": [bundle.left_pattern, bundle.right_pattern],
        "bowler": _without(bundle.bowler, "care", "side_pots", "home_currency"),
        "locker": bundle.locker,
        "squad": bundle.squad,
        "earlier": [[squad.terms, squad.rows] for squad in bundle.earlier],
    }
    if kind in BY_FORMAT:
        money = bundle.event.get("money") or {}
        content["format"] = {key: bundle.event.get(key) for key in FORMAT_KEYS}
        content["places"] = [
            money.get("entries"),
            money.get("cut_to"),
            len(money.get("prizes") or ()),
        ]
    return hashlib.sha256(canonical_json(content).encode()).hexdigest()


def is_stale(computed: ComputedNote, inputs: str) -> bool:
    """Whether a result is of other inputs, or of another model."""
    return computed.inputs != inputs or computed.model_version != model_version()


def _house_numbers(house: Document) -> Document:
    """A house without what is noted of it and of its lanes in words."""
    numbers = dict(_without(house, *HOUSE_WORDS))
    lanes = [_without(lane, "notes") for lane in house.get("lane") or ()]
    if "lane" in numbers:
        numbers["lane"] = [lane for lane in lanes if set(lane) != {"number"}]
    return numbers if numbers.get("lane") else _without(numbers, "lane")


def _without(document: Document, *keys: str) -> Document:
    return {name: value for name, value in document.items() if name not in keys}


class Jobs:
    """The jobs of one running program."""

    def __init__(self, store: Store, hands: Hands, now: Callable[[], datetime] = now_utc) -> None:
        self._store = store
        self._hands = hands
        self._now = now
        self._changed = Condition()
        self._active: dict[UUID, Job] = {}
        self._orders: dict[UUID, Order] = {}
        self._stopping: dict[UUID, str] = {}
        self._unwritten: dict[UUID, Job] = {}
        """Jobs that are over, of which the store could not be told."""
        self._queue: queue.SimpleQueue[UUID | None] = queue.SimpleQueue()
        self._thread = Thread(target=self._work_off, name="jobs", daemon=True)

    def open(self) -> None:
        """Begin. What an earlier run of the program left unfinished is marked so."""
        for job in self._store.jobs(None, ACTIVE):
            self._store.keep_job(replace(job, state=INTERRUPTED, why="the program stopped"))
        self._thread.start()

    def close(self) -> None:
        """Stop: what is under way or waits is interrupted."""
        with self._changed:
            running = [id for id, job in self._active.items() if job.state == RUNNING]
            for id in self._active:
                self._stopping.setdefault(id, INTERRUPTED)
        self._queue.put(None)
        for id in running:
            self._stop(id)
        if self._thread.is_alive():
            self._thread.join(STOP_S)
        self._hands.close()

    def submit(self, account: Account, order: Order) -> Job:
        """Write a job down and let it wait for its turn. The same order twice is one job."""
        with self._changed:
            for id, waiting in self._orders.items():
                if self._active[id].account == account.id and _same(waiting, order):
                    return self._active[id]
            mine = sum(job.account == account.id for job in self._active.values())
            require(mine < MOST_WAITING, "jobs", mine, f"up to {MOST_WAITING} at a time")
            job = Job(uuid4(), account.id, order.kind, order.event, WAITING, made_at=self._now())
            self._store.keep_job(job)
            self._active[job.id], self._orders[job.id] = job, order
            self._changed.notify_all()
        self._queue.put(job.id)
        return job

    def job(self, account: Account, id: UUID) -> Job:
        """One job as it stands. Raises NotKeptError."""
        with self._changed:
            active = self._active.get(id)
        active = active or self._unwritten.get(id)
        if active is not None and active.account == account.id:
            return active
        return self._store.job(account.id, id)

    def moving(self, id: UUID) -> Job | None:
        """A job that is not over, without asking the store."""
        return self._active.get(id)

    def jobs(self, account: Account, active: bool) -> tuple[Job, ...]:
        """An account's jobs, oldest first; with `active` those that are not over."""
        kept = self._store.jobs(account.id, ACTIVE if active else EVERY_STATE)
        with self._changed:
            told = [self._active.get(job.id, self._unwritten.get(job.id, job)) for job in kept]
        return tuple(job for job in told if not active or job.state in ACTIVE)

    def cancel(self, account: Account, id: UUID) -> Job:
        """Stop a job; one that is over stays as it ended."""
        self.job(account, id)
        with self._changed:
            active = self._active.get(id)
            if active is None:
                return self._store.job(account.id, id)
            self._stopping[id] = CANCELLED
            if active.state == WAITING:
                self._end(id, CANCELLED, "")
        self._stop(id)
        return self.job(account, id)

    def _stop(self, id: UUID) -> None:
        """Stop the hands until the job is over: they may just be taking it up."""
        give_up_s = monotonic() + STOP_S
        with self._changed:
            while id in self._active and monotonic() < give_up_s:
                self._hands.stop()
                self._changed.wait(TRY_AGAIN_S)

    def _work_off(self) -> None:
        while (id := self._queue.get()) is not None:
            with self._changed:
                if id not in self._active:
                    continue
                order = self._orders[id]
                if id in self._stopping:
                    self._end(id, self._stopping[id], "")
                    continue
                self._note(id, state=RUNNING, label="starting")
            self._work(id, order)
        with self._changed:
            for id in tuple(self._active):
                self._end(id, INTERRUPTED, "the program stopped")

    def _work(self, id: UUID, order: Order) -> None:
        state, why, result = FAILED, "", None
        written_s = monotonic()

        def progress(label: str, done: int, total: int, /) -> None:
            nonlocal written_s
            write = monotonic() - written_s > WRITTEN_EVERY_S
            written_s = monotonic() if write else written_s
            with self._changed:
                if id in self._stopping:
                    raise StoppedError
                self._note(id, write, label=label, done=done, total=total)

        try:
            result = self._keep(self._active[id].account, order, self._hands.work(order, progress))
            state = DONE
        except StoppedError as stopped:
            state = self._stopping.get(id, FAILED)
            why = "" if state == CANCELLED else str(stopped)
        except NextpairError as failed:
            why = str(failed)
        except Exception as fault:
            why = f"a fault of ours: {type(fault).__name__}"
        with self._changed:
            self._end(id, state, why, result)

    def _keep(self, account: UUID, order: Order, results: Results) -> UUID:
        """Keep what was computed; returns the id of what was ordered."""
        made_at = self._made_at(account, order.event, frozenset(results))
        ids = {kind: uuid4() for kind in results}
        for kind, document in results.items():
            self._store.keep_computed(
                account,
                Computed(
                    ids[kind],
                    order.event,
                    kind,
                    model_version(),
                    order.seed,
                    inputs_of(order.bundle, kind),
                    order.log_seq,
                    made_at,
                    document,
                ),
            )
        return ids[order.kind]

    def _made_at(self, account: UUID, event: UUID, kinds: frozenset[str]) -> datetime:
        """Now, but after what it takes the place of: a clock may have been set back a little."""
        now = self._now()
        notes = self._store.computed_notes(account, event)
        before = [note.made_at for note in notes if note.kind in kinds]
        near = [then for then in before if now <= then <= now + CLOCK_SLACK]
        return max(near) + MOMENT if near else now

    def _end(self, id: UUID, state: str, why: str, result: UUID | None = None) -> None:
        self._note(id, state=state, why=why, result=result)
        del self._active[id], self._orders[id]
        self._stopping.pop(id, None)
        self._changed.notify_all()

    def _note(self, id: UUID, write: bool = True, **changes: object) -> None:
        job = self._active[id] = replace(self._active[id], **changes)  # type: ignore[arg-type]
        if not write:
            return
        try:
            self._store.keep_job(job)
        except Exception as failed:
            # Whoever works off must go on. How a job ended is known while the program runs; the
            # next run marks it.
            log.error("how a job stands is not written down: %s", type(failed).__name__)
            if job.state not in ACTIVE:
                self._unwritten[id] = job


def _same(one: Order, other: Order) -> bool:
    return (one.kind, one.event, one.seed, one.log_seq, one.packed) == (
        other.kind,
        other.event,
        other.seed,
        other.log_seq,
        other.packed,
    ) and inputs_of(one.bundle, one.kind) == inputs_of(other.bundle, other.kind)
