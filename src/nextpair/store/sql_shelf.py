"""One account's records in a database, within a transaction that holds the account's lock."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any
from uuid import UUID

from sqlalchemy import Connection, Select, and_, delete, insert, select, update

from nextpair.domain.record import Record
from nextpair.store.rows import record_of, revision_columns
from nextpair.store.shelf import by_name
from nextpair.store.tables import guest_link, link, record, revision, share

_SAME = and_(record.c.account == revision.c.account, record.c.id == revision.c.id)


def versions_of(account: UUID) -> Select[Any]:
    """Every version of an account's records."""
    return (
        select(record.c.kind, revision)
        .join_from(revision, record, _SAME)
        .where(record.c.account == account)
    )


def newest_of(account: UUID) -> Select[Any]:
    """An account's records as they are now."""
    return versions_of(account).where(record.c.newest == revision.c.revision)


class SqlShelf:
    """See `nextpair.store.shelf.Shelf`."""

    def __init__(self, connection: Connection, account: UUID) -> None:
        self._connection = connection
        self._account = account

    def newest(self, id: UUID) -> Record | None:
        row = self._connection.execute(newest_of(self._account).where(record.c.id == id)).first()
        return record_of(row) if row else None

    def versions(self, id: UUID) -> Sequence[Record]:
        asked = versions_of(self._account).where(record.c.id == id).order_by(revision.c.revision)
        return [record_of(row) for row in self._connection.execute(asked)]

    def put(self, version: Record) -> None:
        own = {"account": self._account, "id": version.id}
        if version.revision == 1:
            new = {**own, "kind": version.kind.value, "newest": 1}
            self._connection.execute(insert(record), new)
        else:
            newer = update(record).filter_by(**own).values(newest=version.revision)
            self._connection.execute(newer)
        self._connection.execute(insert(revision), revision_columns(self._account, version))
        self._connection.execute(delete(link).filter_by(**own))
        if version.deleted:
            for shared in (share, guest_link):
                gone = delete(shared).filter_by(owner=self._account, event=version.id)
                self._connection.execute(gone)
        elif version.links:
            needs = [{**own, "needs": needed} for needed in version.links]
            self._connection.execute(insert(link), needs)

    def needing(self, id: UUID) -> Sequence[Record]:
        asked = (
            newest_of(self._account)
            .join(link, and_(link.c.account == record.c.account, link.c.id == record.c.id))
            .where(link.c.needs == id)
        )
        return by_name(record_of(row) for row in self._connection.execute(asked))
