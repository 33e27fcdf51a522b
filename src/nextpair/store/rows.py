"""Between rows of the tables and the things they keep."""

from __future__ import annotations

from dataclasses import fields
from typing import Any, TypeVar
from uuid import UUID

from sqlalchemy import Row

from nextpair.application.store import Account, Computed, ComputedNote, Job, Ticket
from nextpair.domain.jotting import Jotting, JottingKind, Kept
from nextpair.domain.record import Kind, Record
from nextpair.domain.sharing import NIL, GuestLink, Share

Columns = dict[str, Any]
Thing = TypeVar("Thing", Account, Computed, ComputedNote, GuestLink, Job, Ticket)


def record_of(row: Row[Any]) -> Record:
    """A version of a record."""
    return Record(
        row.id,
        Kind(row.kind),
        row.name,
        row.document,
        frozenset(UUID(link) for link in row.links),
        row.revision,
        row.saved_at,
        row.deleted,
    )


def revision_columns(account: UUID, version: Record) -> Columns:
    """The row of a version of a record."""
    return {
        "account": account,
        "id": version.id,
        "revision": version.revision,
        "name": version.name,
        "document": version.document,
        "links": sorted(str(link) for link in version.links),
        "saved_at": version.saved_at,
        "deleted": version.deleted,
    }


def kept_of(row: Row[Any]) -> Kept:
    """A jotting in its log."""
    jotting = Jotting(
        row.id,
        row.event,
        row.device,
        row.device_seq,
        JottingKind(row.kind),
        row.payload,
        row.supersedes,
        row.schema_version,
        row.client_time,
    )
    return Kept(row.seq, jotting)


def jotting_columns(account: UUID, kept: Kept, digest: str) -> Columns:
    """The row of a jotting."""
    jotting = kept.jotting
    own = {"account": account, "seq": kept.seq, "digest": digest}
    return columns(jotting) | own | {"kind": jotting.kind.value}


def share_of(row: Row[Any]) -> Share:
    """What an account shares; the nil UUID stands for all of its events."""
    return Share(row.owner, row.reader, None if row.event == NIL else row.event, row.since)


def share_columns(share: Share) -> Columns:
    """The row of what is shared."""
    return columns(share) | {"event": share.event or NIL}


def columns(one: Account | Computed | GuestLink | Job | Jotting | Share | Ticket) -> Columns:
    """A row that has a column for each field."""
    return {field.name: getattr(one, field.name) for field in fields(one)}


def thing_of(kind: type[Thing], row: Row[Any]) -> Thing:
    """What such a row keeps."""
    return kind(**{field.name: getattr(row, field.name) for field in fields(kind)})
