"""Long jobs: ordered, watched, stopped."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from typing import Annotated
from uuid import UUID

from fastapi import APIRouter, Depends, Query
from fastapi.sse import EventSourceResponse, ServerSentEvent

from nextpair.application.at_hand import AtHand
from nextpair.application.jobs import ACTIVE, Order, is_stale
from nextpair.application.packing_at_home import NOTHING_KEPT, packed_by
from nextpair.application.store import Account, Job
from nextpair.domain.record import Document
from nextpair.web.errors import BESIDE_A_STREAM
from nextpair.web.home import Home
from nextpair.web.routes.results import Result
from nextpair.web.visitor import HEAVY, Here, Visitor
from nextpair.web.wire import JobIn, JobList, JobOut, told_job

router = APIRouter(tags=["jobs"])
FROM_LOG = (Result.READ, Result.DEBRIEF)
"""What can be computed from a log alone."""
GIVEN: dict[str, tuple[Result, ...]] = {
    Result.POCKET: (Result.SHEET, Result.SPARES),
    Result.DEBRIEF: (Result.SHEET,),
}
"""What is made of other results, and of which."""
LOOK_EVERY_S = 0.15
"""How often a stream looks whether a job has moved: it looks at what is in memory."""


@router.post("/events/{id}/jobs", status_code=202, dependencies=[HEAVY])
def order(id: UUID, body: JobIn, home: Here, account: Visitor) -> JobOut:
    """Have something of an event computed. What is ordered and not done yet is ordered once."""
    at_hand = home.events.at_hand(account.id, id)
    event = home.events.event(account.id, at_hand)
    log = home.store.log(account.id, id) if body.with_log or body.kind in FROM_LOG else None
    seed = home.program.settings.seed if body.seed is None else body.seed
    given = _given(home, account, at_hand, body.kind, seed) if body.kind in GIVEN else {}
    packed = NOTHING_KEPT
    if body.kind == Result.POCKET:
        packed = packed_by(home.store, home.papers, account.id, event)
    ordered = Order(body.kind, id, at_hand.bundle, seed, log, given, packed)
    return told_job(home.jobs.submit(account, ordered))


@router.get("/jobs")
def jobs(home: Here, account: Visitor, active: Annotated[bool, Query()] = False) -> JobList:
    """Jobs, oldest first; with `active`, those that are not over."""
    return JobList(items=[told_job(job) for job in home.jobs.jobs(account, active)])


@router.get("/jobs/{id}")
def job(id: UUID, home: Here, account: Visitor) -> JobOut:
    """One job as it stands."""
    return told_job(home.jobs.job(account, id))


@router.delete("/jobs/{id}")
def cancel(id: UUID, home: Here, account: Visitor) -> JobOut:
    """Stop a job; one that is over stays as it ended."""
    return told_job(home.jobs.cancel(account, id))


def _given(
    home: Home, account: Account, at_hand: AtHand, kind: str, seed: int
) -> dict[str, Document]:
    """The results that one of a kind can be made of: those of the event as it is now. The sheet of
    a debrief is one that was planned before any shot."""
    event = at_hand.record.id
    newest = {made.value: home.store.computed(account.id, event, made) for made in GIVEN[kind]}
    return {
        made: one.document
        for made, one in newest.items()
        if one is not None
        and one.seed == seed
        and not is_stale(one, at_hand.inputs)
        and (kind != Result.DEBRIEF or one.log_seq is None)
    }


def own_job(id: UUID, home: Here, account: Visitor) -> tuple[Account, Job]:
    """A job and whose it is. Raises NotKeptError before a stream begins."""
    return account, home.jobs.job(account, id)


@router.get("/jobs/{id}/progress", response_class=EventSourceResponse, responses=BESIDE_A_STREAM)
async def progress(
    home: Here, owned: Annotated[tuple[Account, Job], Depends(own_job)]
) -> AsyncIterator[ServerSentEvent]:
    """A job as it moves on, until it is over: events named `job`, each the whole of it."""
    account, job = owned
    yield _told(job)
    while job.state in ACTIVE and not home.is_stopping():
        await asyncio.sleep(LOOK_EVERY_S)
        now = await _look(home, account, job)
        if now != job:
            job = now
            yield _told(job)


async def _look(home: Home, account: Account, job: Job) -> Job:
    """The job now: from memory while it goes on, from the store once it is over."""
    moving = home.jobs.moving(job.id)
    if moving is not None:
        return moving
    return await asyncio.to_thread(home.jobs.job, account, job.id)


def _told(job: Job) -> ServerSentEvent:
    return ServerSentEvent(event="job", data=told_job(job))
