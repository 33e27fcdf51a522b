"""The rules of keeping records, whatever they are kept in: every change is a new version, and what
a kept record needs is kept.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Protocol
from uuid import UUID

from nextpair.application.store import NeededError, NotKeptError, StaleError
from nextpair.domain.errors import require
from nextpair.domain.record import Draft, Kind, Record


class Shelf(Protocol):
    """One account's records within one transaction."""

    def newest(self, id: UUID) -> Record | None:
        """A record as it is now."""

    def versions(self, id: UUID) -> Sequence[Record]:
        """All versions of a record, oldest first."""

    def put(self, version: Record) -> None:
        """Add a version; it is the newest then."""

    def needing(self, id: UUID) -> Sequence[Record]:
        """The records, not deleted, that need this one, by name."""


def save(shelf: Shelf, draft: Draft, revision: int | None, now: datetime) -> Record:
    """Keep a draft that was read at this revision; see `Store.save`."""
    current = shelf.newest(draft.id)
    if current is None and revision is not None:
        raise NotKeptError("record", draft.id)
    if current is not None and _says(current, draft):
        return current
    if current is not None and current.revision != revision:
        raise StaleError(current, revision)
    return _put_all(shelf, [draft], now)[0]


def save_all(shelf: Shelf, drafts: Sequence[Draft], now: datetime) -> tuple[Record, ...]:
    """Keep drafts over whatever is there; see `Store.save_all`."""
    return _put_all(shelf, drafts, now)


def delete(shelf: Shelf, id: UUID, now: datetime) -> Record:
    """Put a record away; see `Store.delete`."""
    current = kept(shelf, id)
    if current.deleted:
        return current
    if needing := shelf.needing(id):
        raise NeededError(current.name, tuple(record.name for record in needing))
    return _put(shelf, current, deleted=True, now=now)


def restore(shelf: Shelf, id: UUID, now: datetime) -> Record:
    """Take a record back with what it needs; see `Store.restore`."""
    current = kept(shelf, id)
    if not current.deleted:
        return current
    back = _put(shelf, current, deleted=False, now=now)
    for link in sorted(back.links):
        restore(shelf, link, now)
    return back


def merge(shelf: Shelf, versions: Iterable[Record], now: datetime) -> int:
    """Take in versions from elsewhere; see `Store.merge_revisions`."""
    histories: dict[UUID, list[Record]] = {}
    for version in versions:
        histories.setdefault(version.id, []).append(version)
    added = sum(_merge_one(shelf, id, others) for id, others in histories.items())
    for id in histories:
        _mend(shelf, id, now)
    return added


def kept(shelf: Shelf, id: UUID) -> Record:
    """A record as it is now. Raises NotKeptError."""
    current = shelf.newest(id)
    if current is None:
        raise NotKeptError("record", id)
    return current


def require_event(shelf: Shelf, id: UUID) -> None:
    """Refuse to share what is no event that is kept. Raises NotKeptError."""
    current = shelf.newest(id)
    if current is None or current.deleted or current.kind is not Kind.EVENT:
        raise NotKeptError("event", id)


def _merge_one(shelf: Shelf, id: UUID, others: Sequence[Record]) -> int:
    here = shelf.versions(id)
    known = {_identity(version) for version in here}
    missing = [version for version in others if _identity(version) not in known]
    last = here[-1] if here else None
    for version in missing:
        require(last is None or last.kind is version.kind, "kind", version.kind, "as kept here")
        _add(shelf, version)
    if last is not None and missing and last.saved_at > missing[-1].saved_at:
        _add(shelf, last)
    return len(missing)


def _mend(shelf: Shelf, id: UUID, now: datetime) -> None:
    """Take back what was deleted in one history and is needed in the other."""
    current = kept(shelf, id)
    needed = [kept(shelf, link) for link in sorted(current.links)]
    if not current.deleted:
        for record in needed:
            restore(shelf, record.id, now)
    elif shelf.needing(id):
        restore(shelf, id, now)


def _identity(version: Record) -> tuple[str, bool, datetime]:
    return (version.digest, version.deleted, version.saved_at)


def _put_all(shelf: Shelf, drafts: Sequence[Draft], now: datetime) -> tuple[Record, ...]:
    put = tuple(_saved(shelf, draft, now) for draft in drafts)
    for record in put:
        _require_links(shelf, record)
    return put


def _saved(shelf: Shelf, draft: Draft, now: datetime) -> Record:
    current = shelf.newest(draft.id)
    if current is not None:
        require(current.kind is draft.kind, "kind", draft.kind.value, current.kind.value)
        if _says(current, draft):
            return current
    version = Record(draft.id, draft.kind, draft.name, draft.document, draft.links, 1, now)
    return _add(shelf, version)


def _says(current: Record, draft: Draft) -> bool:
    return not current.deleted and current.digest == draft.digest


def _put(shelf: Shelf, current: Record, *, deleted: bool, now: datetime) -> Record:
    return _add(shelf, replace(current, deleted=deleted, saved_at=now))


def _add(shelf: Shelf, version: Record) -> Record:
    """Number a version after the newest one, and add it."""
    current = shelf.newest(version.id)
    numbered = replace(version, revision=current.revision + 1 if current else 1)
    shelf.put(numbered)
    return numbered


def _require_links(shelf: Shelf, record: Record) -> None:
    for link in sorted(record.links):
        needed = kept(shelf, link)
        if needed.deleted:
            raise NotKeptError(f"{needed.kind.value} {needed.name}, which is deleted", link)


def by_name(records: Iterable[Record]) -> tuple[Record, ...]:
    """Records in the order in which they are listed."""
    return tuple(sorted(records, key=lambda record: (record.name, record.id)))
