"""What phones wrote down, taken in and given out."""

from __future__ import annotations

from typing import Annotated, Any
from uuid import UUID

from fastapi import APIRouter, Query
from pydantic import BaseModel, Field

from nextpair.application.sync import MOST_AT_ONCE, log_after, sent_form, take_in
from nextpair.domain.jotting import Receipt
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import LARGEST_WHOLE, Json, Wire

router = APIRouter(tags=["log"])


class Batch(Wire):
    """Jottings as a device sends them; each is judged by itself."""

    jottings: Annotated[list[Any], Field(max_length=MOST_AT_ONCE)]


class ReceiptOut(BaseModel):
    id: UUID
    answer: str
    seq: int | None
    why: str


class Receipts(BaseModel):
    app: str = "nextpair"
    receipts: list[ReceiptOut]


class KeptOut(BaseModel):
    seq: int
    jotting: Json


class LogOut(BaseModel):
    """Part of a log. `next` is what to ask after for what follows."""

    app: str = "nextpair"
    items: list[KeptOut]
    next: int


@router.post("/sync")
def sync(body: Batch, home: Here, account: Visitor) -> Receipts:
    """Keep what a device wrote down, each jotting once; one answer each, in order."""
    return told_receipts(take_in(home.store, account.id, body.jottings))


@router.get("/events/{id}/log")
def log(
    id: UUID,
    home: Here,
    account: Visitor,
    after: Annotated[int, Query(ge=0, le=LARGEST_WHOLE)] = 0,
) -> LogOut:
    """An event's log from there on, up to 500 at a time. The event need not be kept here."""
    found = log_after(home.store, account.id, id, after)
    items = [KeptOut(seq=kept.seq, jotting=sent_form(kept.jotting)) for kept in found]
    return LogOut(items=items, next=found[-1].seq if found else after)


def told_receipts(receipts: tuple[Receipt, ...]) -> Receipts:
    """The answers to a batch."""
    return Receipts(
        receipts=[
            ReceiptOut(id=one.id, answer=one.answer.value, seq=one.seq, why=one.why)
            for one in receipts
        ]
    )
