"""Records of every kind: listed, saved, checked, put away and taken back."""

from __future__ import annotations

from uuid import UUID

from fastapi import APIRouter

from nextpair.application.keeping import (
    add_record,
    delete_record,
    record_of,
    restore_record,
    save_record,
)
from nextpair.application.typical_values import typical_values
from nextpair.domain.errors import InputRefusedError, InvalidValueError
from nextpair.domain.record import Kind
from nextpair.web.errors import problems_of
from nextpair.web.visitor import Here, Visitor
from nextpair.web.wire import (
    Checked,
    DocumentIn,
    ProblemOut,
    RecordList,
    RecordMade,
    RecordOut,
    SaveIn,
    made_record,
    told_record,
)

router = APIRouter(prefix="/records/{kind}", tags=["records"])


@router.get("")
def records(kind: Kind, home: Here, account: Visitor, deleted: bool = False) -> RecordList:
    """All of a kind by name; with `deleted`, those that were put away."""
    found = home.store.records(account.id, kind, deleted)
    return RecordList(items=[told_record(record) for record in found])


@router.post("", status_code=201)
def add(kind: Kind, body: DocumentIn, home: Here, account: Visitor) -> RecordMade:
    """A new record, with the values that would be guessed for it."""
    record, guessed = add_record(home.store, home.papers, account.id, kind, body.document)
    return made_record(record, guessed)


@router.post("/check")
def check(kind: Kind, body: DocumentIn, home: Here, _account: Visitor) -> Checked:
    """What is wrong with a document, while it is written."""
    told = typical_values(kind, body.document)
    try:
        guessed = list(home.papers.check(kind, body.document))
    except (InputRefusedError, InvalidValueError) as refused:
        problems = [ProblemOut(**problem) for problem in problems_of(refused)]
        return Checked(problems=problems, guessed=[], typical=told)
    return Checked(problems=[], guessed=guessed, typical=told)


@router.get("/{id}")
def record(kind: Kind, id: UUID, home: Here, account: Visitor) -> RecordOut:
    """One record, put away or not."""
    return told_record(record_of(home.store, account.id, kind, id))


@router.put("/{id}")
def save(kind: Kind, id: UUID, body: SaveIn, home: Here, account: Visitor) -> RecordOut:
    """A record as it is now; `revision` is the one it was read at."""
    saved = save_record(
        home.store, home.papers, account.id, kind, id, body.document, body.revision
    )
    return told_record(saved)


@router.delete("/{id}")
def delete(kind: Kind, id: UUID, home: Here, account: Visitor) -> RecordOut:
    """Put a record away; it can be taken back."""
    return told_record(delete_record(home.store, account.id, kind, id))


@router.post("/{id}/restore")
def restore(kind: Kind, id: UUID, home: Here, account: Visitor) -> RecordOut:
    """Take a record back."""
    return told_record(restore_record(home.store, account.id, kind, id))


@router.get("/{id}/revisions")
def revisions(kind: Kind, id: UUID, home: Here, account: Visitor) -> RecordList:
    """Every version of a record, newest first."""
    record_of(home.store, account.id, kind, id)
    found = home.store.revisions(account.id, id)
    return RecordList(items=[told_record(record) for record in found])
