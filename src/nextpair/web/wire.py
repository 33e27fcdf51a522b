"""What is sent and answered, as schemas. A number is never taken for a yes, nor text for a number
(pydantic's own way is to turn one into the other)."""

from __future__ import annotations

import math
from datetime import datetime
from typing import Annotated, Any
from uuid import UUID

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field

from nextpair.application.nesting import ALLOWED, is_shallow
from nextpair.application.store import Account, Job, Ticket
from nextpair.domain.record import Kind, Record

LARGEST_WHOLE = 2**53


def as_number(value: object) -> object:
    """Refuse what only looks like a number."""
    if isinstance(value, bool | str | bytes):
        raise ValueError("a number")
    return value


def _finite(value: float) -> float:
    if not math.isfinite(value):
        raise ValueError("a finite number")
    return value


def _yes_or_no(value: object) -> object:
    if not isinstance(value, bool):
        raise ValueError("true or false")
    return value


# The limits come before the check: in the other order they fall out of the schema.
Count = Annotated[int, Field(ge=0, le=LARGEST_WHOLE), BeforeValidator(as_number)]
Quantity = Annotated[float, AfterValidator(_finite), BeforeValidator(as_number)]
YesOrNo = Annotated[bool, BeforeValidator(_yes_or_no)]
Text = Annotated[str, Field(max_length=200)]
Json = dict[str, Any]


def _shallow(value: object) -> object:
    if not is_shallow(value):
        raise ValueError(ALLOWED)
    return value


JsonIn = Annotated[Json, BeforeValidator(_shallow)]
"""A document as it is sent."""


class Wire(BaseModel):
    """One thing that is sent; keys that it does not know are refused."""

    model_config = ConfigDict(extra="forbid")


class ProblemOut(BaseModel):
    file: str
    place: str
    found: str
    allowed: str
    words: str


class Problems(BaseModel):
    """What is wrong with a request; `current` is what is kept, where that is newer."""

    problems: list[ProblemOut]
    current: RecordOut | None = None


class AccountOut(BaseModel):
    id: UUID
    name: str


class Status(BaseModel):
    """What a page must know before anything else."""

    app: str = "nextpair"
    version: str
    model_version: str
    needs_sign_in: bool
    account: AccountOut | None
    warm: bool
    secure: bool
    home: bool


class RecordOut(BaseModel):
    id: UUID
    kind: Kind
    name: str
    revision: int
    saved_at: datetime
    deleted: bool
    document: Json
    links: list[UUID]


class RecordMade(RecordOut):
    guessed: list[str]


class RecordList(BaseModel):
    items: list[RecordOut]


class DocumentIn(Wire):
    document: JsonIn


class SaveIn(Wire):
    document: JsonIn
    revision: Count


class Checked(BaseModel):
    """What is wrong with a document, what would be guessed for it, and what stands for keys left
    out, by their path."""

    problems: list[ProblemOut]
    guessed: list[str]
    typical: Json


def told_record(record: Record) -> RecordOut:
    """A record as it is answered."""
    return RecordOut(**_record_fields(record))


def made_record(record: Record, guessed: tuple[str, ...]) -> RecordMade:
    """A record that was just made, with what would be guessed for it."""
    return RecordMade(**_record_fields(record), guessed=list(guessed))


def _record_fields(record: Record) -> dict[str, Any]:
    return {
        "id": record.id,
        "kind": record.kind,
        "name": record.name,
        "revision": record.revision,
        "saved_at": record.saved_at,
        "deleted": record.deleted,
        "document": dict(record.document),
        "links": sorted(record.links, key=str),
    }


class SignInIn(Wire):
    name: Text
    password: Text


class SignedIn(BaseModel):
    account: AccountOut


class LinkOut(BaseModel):
    """A link that lets one device in, once: as text, and as a picture for a camera."""

    url: str
    expires_at: datetime
    qr_svg: str


class TicketOut(BaseModel):
    digest: str
    device: str
    expires_at: datetime


class TicketList(BaseModel):
    items: list[TicketOut]


class PasswordIn(Wire):
    old: Text
    new: Text


def told_account(account: Account) -> AccountOut:
    """An account as it is answered: never what is kept of its password."""
    return AccountOut(id=account.id, name=account.name)


def told_ticket(ticket: Ticket) -> TicketOut:
    """A session as its owner sees it."""
    return TicketOut(digest=ticket.digest, device=ticket.device, expires_at=ticket.expires_at)


class JobIn(Wire):
    kind: Annotated[str, Field(pattern="^(sheet|spares|read|pocket|debrief)$")]
    seed: Annotated[int, Field(ge=0, lt=2**32), BeforeValidator(as_number)] | None = None
    with_log: YesOrNo = False


class JobOut(BaseModel):
    id: UUID
    kind: str
    event: UUID
    state: str
    label: str
    done: int
    total: int
    why: str
    result: UUID | None
    made_at: datetime | None


class JobList(BaseModel):
    items: list[JobOut]


def told_job(job: Job) -> JobOut:
    """A job as it is answered."""
    return JobOut.model_validate(job, from_attributes=True)


class Envelope(BaseModel):
    """A kept result: when, by which model and seed, up to which jotting; `stale` where the event
    or the model is another one now. The result stands beside these under its kind's name."""

    model_config = ConfigDict(extra="allow")

    id: UUID
    made_at: datetime
    model_version: str
    seed: int
    stale: bool
    log_seq: int | None


class LibraryPattern(BaseModel):
    """A pattern that comes with the program; an event names it as its `name` says."""

    name: str
    document: Json
    length_ft: float
    volume_ml: float
    ratio: float
    description: str


class Library(BaseModel):
    items: list[LibraryPattern]
