"""Records kept, checked, put away and taken back."""

from __future__ import annotations

from collections.abc import Iterator
from uuid import UUID, uuid4

from nextpair.application.bundle import Papers
from nextpair.application.store import NotKeptError, Store
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.record import Document, Draft, Kind, Record

LIBRARY_MARK = "library:"
"""How the pattern of an event begins where it is one of the library."""
LINKED = {
    "house": Kind.HOUSE,
    "pattern": Kind.PATTERN,
    "left_pattern": Kind.PATTERN,
    "right_pattern": Kind.PATTERN,
    "bowler": Kind.BOWLER,
    "squad": Kind.SQUAD,
}
"""Keys that hold the id of another record, and of which kind that is."""


def record_of(store: Store, account: UUID, kind: Kind, id: UUID) -> Record:
    """One record of a kind. Raises NotKeptError, also where the id is of another kind."""
    record = store.record(account, id)
    if record.kind is not kind:
        raise NotKeptError(kind.value, id)
    return record


def add_record(
    store: Store, papers: Papers, account: UUID, kind: Kind, document: Document
) -> tuple[Record, tuple[str, ...]]:
    """A new record, and which values would be guessed for it. Raises InputRefusedError."""
    guessed = papers.check(kind, document)
    draft = _draft(store, account, kind, uuid4(), document)
    return store.save(account, draft, None), guessed


def save_record(
    store: Store,
    papers: Papers,
    account: UUID,
    kind: Kind,
    id: UUID,
    document: Document,
    revision: int,
) -> Record:
    """A record as it is now, changed since that revision. Raises InputRefusedError, StaleError."""
    record_of(store, account, kind, id)
    papers.check(kind, document)
    return store.save(account, _draft(store, account, kind, id, document), revision)


def delete_record(store: Store, account: UUID, kind: Kind, id: UUID) -> Record:
    """Put a record away. Raises NeededError where another one needs it."""
    record_of(store, account, kind, id)
    return store.delete(account, id)


def restore_record(store: Store, account: UUID, kind: Kind, id: UUID) -> Record:
    """Take a record back, with what it needs."""
    record_of(store, account, kind, id)
    return store.restore(account, id)


def links_of(kind: Kind, document: Document) -> frozenset[UUID]:
    """The records that a document names. Raises InvalidValueError for what is no id."""
    return frozenset(id for id, _ in _named(kind, document))


def _named(kind: Kind, document: Document) -> Iterator[tuple[UUID, Kind]]:
    """The records that a document names, each with the kind that it must be of."""
    if kind is Kind.BALL:
        yield from _linked(document, ("bowler",))
    if kind is Kind.EVENT:
        yield from _linked(document, tuple(LINKED))
        for table in document.get("earlier_squad") or ():
            yield from _linked(table, ("squad",))


def _linked(document: Document, keys: tuple[str, ...]) -> Iterator[tuple[UUID, Kind]]:
    for key in keys:
        value = document.get(key)
        if value is None or (LINKED[key] is Kind.PATTERN and str(value).startswith(LIBRARY_MARK)):
            continue
        try:
            yield UUID(value), LINKED[key]
        except (AttributeError, TypeError, ValueError):
            raise InvalidValueError(key, value, f"the id of a {LINKED[key]}") from None


def _draft(store: Store, account: UUID, kind: Kind, id: UUID, document: Document) -> Draft:
    for linked, expected in _named(kind, document):
        record_of(store, account, expected, linked)
    name = str(document.get("name") or "")
    return Draft(id, kind, name, document, links_of(kind, document))
