"""The diary of an event: for who wrote it, and for nobody else."""

from __future__ import annotations

from typing import Annotated
from uuid import UUID

from fastapi import APIRouter
from pydantic import BaseModel, Field

from nextpair.application.diary import (
    LONGEST_TEXT,
    PROMPTS,
    DiaryEntry,
    diary_of,
    take_back,
    write_entry,
)
from nextpair.application.keeping import record_of
from nextpair.application.store import Account
from nextpair.domain.record import Kind
from nextpair.web.home import Home
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import Text, Wire

router = APIRouter(prefix="/events/{id}/diary", tags=["diary"])
EntryText = Annotated[str, Field(max_length=LONGEST_TEXT)]


class EntryIn(Wire):
    """What is written under a prompt; with `replaces`, that entry written anew."""

    prompt: Text
    text: EntryText
    replaces: UUID | None = None


class EntryOut(BaseModel):
    id: UUID
    prompt: str
    text: str
    written_at: str


class PromptOut(BaseModel):
    key: str
    words: str


class DiaryOut(BaseModel):
    """What is asked, and what stands there, in the order in which it was first written."""

    prompts: list[PromptOut]
    entries: list[EntryOut]


@router.get("")
def diary(id: UUID, home: Here, account: Visitor) -> DiaryOut:
    """The diary, written on the phone or here."""
    _kept(home, account, id)
    return DiaryOut(
        prompts=[PromptOut(key=key, words=words) for key, words in PROMPTS.items()],
        entries=[_told(entry) for entry in diary_of(home.store.log(account.id, id))],
    )


@router.post("", status_code=201)
def write(id: UUID, body: EntryIn, home: Here, account: Visitor) -> EntryOut:
    """Write an entry, or one anew."""
    _kept(home, account, id)
    return _told(write_entry(home.store, account.id, id, body.prompt, body.text, body.replaces))


@router.delete("/{entry}", status_code=204)
def remove(id: UUID, entry: UUID, home: Here, account: Visitor) -> None:
    """Take an entry out of the diary."""
    _kept(home, account, id)
    take_back(home.store, account.id, id, entry)


def _kept(home: Home, account: Account, event: UUID) -> None:
    record_of(home.store, account.id, Kind.EVENT, event)


def _told(entry: DiaryEntry) -> EntryOut:
    return EntryOut.model_validate(entry, from_attributes=True)
