"""What an event taught: its debrief, and what is decided on its findings."""

from __future__ import annotations

from typing import Annotated
from uuid import UUID

from fastapi import APIRouter
from pydantic import BaseModel, Field

from nextpair.application.jobs import DEBRIEF
from nextpair.application.keeping import record_of
from nextpair.application.lessons import decide, lessons_of_event, put_to_rest, taught_for
from nextpair.application.store import Account, Computed, NotKeptError
from nextpair.application.summary import tells_more
from nextpair.domain.debrief import Debrief
from nextpair.domain.errors import InputRefusedError, InvalidValueError
from nextpair.domain.lesson import Lesson
from nextpair.domain.record import Kind
from nextpair.files.results import result_of
from nextpair.reports.debrief_json import debrief_document
from nextpair.reports.sheet_json import plain
from nextpair.web.home import Home
from nextpair.web.routes.results import envelope
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import Envelope, Json, Wire, YesOrNo

router = APIRouter(prefix="/events/{id}", tags=["debrief"])
Key = Annotated[str, Field(min_length=1, max_length=200)]


class DecisionIn(Wire):
    """A finding of the debrief by its key, and whether it is accepted."""

    key: Key
    accepted: YesOrNo


class RestIn(Wire):
    """An accepted finding by its key, and whether it is learned: then no sheet shows it."""

    key: Key
    done: YesOrNo = True


class TaughtOut(BaseModel):
    """A lesson, and the event that taught it."""

    event_id: UUID
    lesson: Json


class LessonsOut(BaseModel):
    """What was decided on the event's own findings; and what other events taught that applies to
    it, as its sheet shows it."""

    decided: list[Json]
    applying: list[TaughtOut]


class DebriefOut(Envelope):
    """A debrief as `nextpair debrief --json --money` tells it."""

    debrief: Json


@router.get("/debrief")
def debrief(id: UUID, home: Here, account: Visitor) -> DebriefOut:
    """The newest debrief, with the event's money as it stands now. It is stale once the event is
    another one, or shots or scores came in or were corrected."""
    at_hand = home.events.at_hand(account.id, id)
    computed = _newest(home, account, id)
    about = envelope(computed, at_hand.inputs_of(DEBRIEF))
    later = tells_more(home.store.log(account.id, id), computed.log_seq or 0)
    try:
        money = home.program.money(home.events.event(account.id, at_hand))
    except InputRefusedError:
        money = None
    found = result_of(Debrief, computed.document)
    told = debrief_document(found, lessons_of_event(home.store, account.id, id), money)
    return DebriefOut(**about.model_dump() | {"stale": about.stale or later}, debrief=told)


@router.get("/lessons")
def lessons(id: UUID, home: Here, account: Visitor) -> LessonsOut:
    """What the event taught, and what is to be thought of at it."""
    at_hand = home.events.at_hand(account.id, id)
    try:
        event = home.events.event(account.id, at_hand)
        applying = taught_for(home.store, account.id, event)
    except InputRefusedError:
        applying = ()
    return LessonsOut(
        decided=[plain(lesson) for lesson in lessons_of_event(home.store, account.id, id)],
        applying=[
            TaughtOut(event_id=taught.event, lesson=plain(taught.lesson)) for taught in applying
        ],
    )


@router.post("/lessons")
def accept_or_drop(id: UUID, body: DecisionIn, home: Here, account: Visitor) -> Json:
    """Accept a finding of the newest debrief, or drop it; a later decision counts."""
    record_of(home.store, account.id, Kind.EVENT, id)
    found = result_of(Debrief, _newest(home, account, id).document)
    findings = {finding.key: finding for finding in found.findings}
    if body.key not in findings:
        allowed = ", ".join(findings) or "a finding, of which there is none"
        raise InvalidValueError("key", body.key, allowed)
    return _told(decide(home.store, account.id, id, findings[body.key], body.accepted))


@router.post("/lessons/rest")
def rest(id: UUID, body: RestIn, home: Here, account: Visitor) -> Json:
    """Put an accepted finding to rest, or take it up again."""
    record_of(home.store, account.id, Kind.EVENT, id)
    return _told(put_to_rest(home.store, account.id, id, body.key, body.done))


def _newest(home: Home, account: Account, event: UUID) -> Computed:
    computed = home.store.computed(account.id, event, DEBRIEF)
    if computed is None:
        raise NotKeptError(DEBRIEF, event)
    return computed


def _told(lesson: Lesson) -> Json:
    told: Json = plain(lesson)
    return told
