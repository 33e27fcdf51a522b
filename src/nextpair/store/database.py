"""A store in a database, SQLite's or PostgreSQL's; see `nextpair.application.store.Store`.

Who writes holds the lock of the account until it commits: SQLite's one write lock, or in
PostgreSQL the account's row. So an account's writers come one after the other, and the numbers of
its logs become visible in their order: a reader that asks for what came after a number misses
nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager, nullcontext
from dataclasses import fields
from datetime import datetime
from threading import Lock
from typing import Any
from uuid import UUID

from sqlalchemy import Connection, Delete, Engine, Select, delete, func, insert, select, update
from sqlalchemy.exc import IntegrityError

from nextpair.application.clock import now_utc
from nextpair.application.store import (
    Account,
    Computed,
    ComputedNote,
    Job,
    NotKeptError,
    Ticket,
)
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.jotting import Jotting, Kept, Receipt
from nextpair.domain.record import Draft, Kind, Record
from nextpair.domain.sharing import NIL, GuestLink, Share
from nextpair.store import shelf as shelves
from nextpair.store import tables
from nextpair.store.engine import writing
from nextpair.store.keeping import BELIEVED_AHEAD, RESULTS_KEPT
from nextpair.store.logbook import Mark, enter
from nextpair.store.rows import (
    columns,
    jotting_columns,
    kept_of,
    record_of,
    share_columns,
    share_of,
    thing_of,
)
from nextpair.store.sql_shelf import SqlShelf, newest_of, versions_of

IDS_AT_ONCE = 500
"""Ids in one question: databases allow some ten thousand."""


class DatabaseStore:
    """Everything in tables. `engine` is the store's own from here on."""

    def __init__(self, engine: Engine, clock: Callable[[], datetime] = now_utc) -> None:
        self._engine = engine
        self._writing = writing(engine)
        self._turn = Lock() if engine.dialect.name == "sqlite" else nullcontext()
        self._clock = clock

    # records
    def records(
        self, account: UUID, kind: Kind | None = None, deleted: bool = False
    ) -> tuple[Record, ...]:
        asked = newest_of(account).where(tables.revision.c.deleted == deleted)
        if kind is not None:
            asked = asked.where(tables.record.c.kind == kind.value)
        return shelves.by_name(record_of(row) for row in self._rows(asked))

    def record(self, account: UUID, id: UUID) -> Record:
        rows = self._rows(newest_of(account).where(tables.record.c.id == id))
        if not rows:
            raise NotKeptError("record", id)
        return record_of(rows[0])

    def revisions(self, account: UUID, id: UUID) -> tuple[Record, ...]:
        asked = versions_of(account).where(tables.record.c.id == id)
        rows = self._rows(asked.order_by(tables.revision.c.revision.desc()))
        if not rows:
            raise NotKeptError("record", id)
        return tuple(record_of(row) for row in rows)

    def save(self, account: UUID, draft: Draft, revision: int | None) -> Record:
        with self._shelf(account) as shelf:
            return shelves.save(shelf, draft, revision, self._clock())

    def save_all(self, account: UUID, drafts: Sequence[Draft]) -> tuple[Record, ...]:
        with self._shelf(account) as shelf:
            return shelves.save_all(shelf, drafts, self._clock())

    def delete(self, account: UUID, id: UUID) -> Record:
        with self._shelf(account) as shelf:
            return shelves.delete(shelf, id, self._clock())

    def restore(self, account: UUID, id: UUID) -> Record:
        with self._shelf(account) as shelf:
            return shelves.restore(shelf, id, self._clock())

    def every_revision(self, account: UUID) -> tuple[Record, ...]:
        order = (tables.revision.c.id, tables.revision.c.revision)
        return tuple(record_of(row) for row in self._rows(versions_of(account).order_by(*order)))

    def changes(self, account: UUID) -> int:
        asked = select(func.count()).select_from(tables.revision).filter_by(account=account)
        return int(self._rows(asked)[0][0])

    def merge_revisions(self, account: UUID, versions: Sequence[Record]) -> int:
        with self._shelf(account) as shelf:
            return shelves.merge(shelf, versions, self._clock())

    # the log
    def append(self, account: UUID, jottings: Sequence[Jotting]) -> tuple[Receipt, ...]:
        with self._locked(account) as connection:
            known = _marks(connection, account, [jotting.id for jotting in jottings])
            last_seq = {
                event: _last_seq(connection, account, event)
                for event in {jotting.event for jotting in jottings}
            }
            entry = enter(jottings, known, last_seq)
            if entry.added:
                rows = [jotting_columns(account, kept, digest) for kept, digest in entry.added]
                connection.execute(insert(tables.jotting), rows)
            return tuple(entry.receipts)

    def log(
        self, account: UUID, event: UUID, after: int = 0, most: int | None = None
    ) -> tuple[Kept, ...]:
        log = tables.jotting
        asked = select(log).filter_by(account=account, event=event).where(log.c.seq > after)
        return tuple(kept_of(row) for row in self._rows(asked.order_by(log.c.seq).limit(most)))

    def logged_events(self, account: UUID) -> tuple[UUID, ...]:
        event = tables.jotting.c.event
        asked = select(event).filter_by(account=account).distinct().order_by(event)
        return tuple(row.event for row in self._rows(asked))

    # results
    def keep_computed(self, account: UUID, computed: Computed) -> None:
        results = tables.result
        of_kind = {"event": computed.event, "kind": computed.kind}
        with self._locked(account) as connection:
            connection.execute(delete(results).filter_by(account=account, id=computed.id))
            ahead = results.c.made_at > computed.made_at + BELIEVED_AHEAD
            connection.execute(delete(results).filter_by(account=account, **of_kind).where(ahead))
            connection.execute(insert(results), {"account": account, **columns(computed)})
            older = _newest_first(
                select(results.c.id).filter_by(account=account, **of_kind)
            ).offset(RESULTS_KEPT)
            gone = [row.id for row in connection.execute(older)]
            if gone:
                old = delete(results).filter_by(account=account).where(results.c.id.in_(gone))
                connection.execute(old)

    def computed(self, account: UUID, event: UUID, kind: str) -> Computed | None:
        asked = select(tables.result).filter_by(account=account, event=event, kind=kind)
        rows = self._rows(_newest_first(asked).limit(1))
        return thing_of(Computed, rows[0]) if rows else None

    def computed_notes(self, account: UUID, event: UUID) -> tuple[ComputedNote, ...]:
        noted = [tables.result.c[field.name] for field in fields(ComputedNote)]
        asked = _newest_first(select(*noted).filter_by(account=account, event=event))
        newest: dict[str, ComputedNote] = {}
        for row in self._rows(asked):
            newest.setdefault(row.kind, thing_of(ComputedNote, row))
        return tuple(newest.values())

    def computed_by_id(self, account: UUID, id: UUID) -> Computed:
        rows = self._rows(select(tables.result).filter_by(account=account, id=id))
        if not rows:
            raise NotKeptError("result", id)
        return thing_of(Computed, rows[0])

    # jobs
    def keep_job(self, job: Job) -> None:
        with self._locked(job.account) as connection:
            own = {"account": job.account, "id": job.id}
            known = update(tables.job).filter_by(**own).values(columns(job))
            if not connection.execute(known).rowcount:
                connection.execute(insert(tables.job), columns(job))

    def job(self, account: UUID, id: UUID) -> Job:
        rows = self._rows(select(tables.job).filter_by(account=account, id=id))
        if not rows:
            raise NotKeptError("job", id)
        return thing_of(Job, rows[0])

    def jobs(self, account: UUID | None, states: Sequence[str]) -> tuple[Job, ...]:
        asked = select(tables.job).where(tables.job.c.state.in_(states))
        if account is not None:
            asked = asked.filter_by(account=account)
        return tuple(thing_of(Job, row) for row in self._rows(asked.order_by(tables.job.c.number)))

    # accounts
    def add_account(self, account: Account) -> None:
        try:
            with self._write() as connection:
                row = {**columns(account), "key": account.key}
                connection.execute(insert(tables.account), row)
        except IntegrityError as error:
            raise InvalidValueError("name", account.name, "a name that is not taken") from error

    def account(self, id: UUID) -> Account:
        rows = self._rows(select(tables.account).filter_by(id=id))
        if not rows:
            raise NotKeptError("account", id)
        return thing_of(Account, rows[0])

    def account_of_key(self, key: str) -> Account | None:
        rows = self._rows(select(tables.account).filter_by(key=key))
        return thing_of(Account, rows[0]) if rows else None

    def accounts(self, among: Collection[UUID] | None = None) -> tuple[Account, ...]:
        account = tables.account
        asked = select(account).order_by(account.c.number)
        if among is None:
            return tuple(thing_of(Account, row) for row in self._rows(asked))
        rows = [
            row
            for ids in _at_once(tuple(among))
            for row in self._rows(asked.where(account.c.id.in_(ids)))
        ]
        return tuple(thing_of(Account, row) for row in sorted(rows, key=lambda one: one.number))

    def change_password(self, account: UUID, password_hash: str | None) -> None:
        with self._locked(account) as connection:
            changed = update(tables.account).filter_by(id=account)
            connection.execute(changed.values(password_hash=password_hash))
            connection.execute(delete(tables.ticket).filter_by(account=account))

    def keep_ticket(self, ticket: Ticket) -> None:
        with self._locked(ticket.account) as connection:
            connection.execute(delete(tables.ticket).filter_by(digest=ticket.digest))
            connection.execute(insert(tables.ticket), columns(ticket))

    def ticket(self, digest: str, now: datetime) -> Ticket | None:
        rows = self._rows(select(tables.ticket).filter_by(digest=digest))
        found = thing_of(Ticket, rows[0]) if rows else None
        if found is None or (found.expires_at > now and not found.once):
            return found
        # Of several who come with a link that works once, the one whose delete finds it gets in.
        return found if self._end(digest) and found.expires_at > now else None

    def drop_ticket(self, digest: str) -> None:
        self._end(digest)

    def tickets(self, account: UUID, now: datetime) -> tuple[Ticket, ...]:
        asked = select(tables.ticket).filter_by(account=account)
        asked = asked.where(tables.ticket.c.expires_at > now).order_by(tables.ticket.c.digest)
        return tuple(thing_of(Ticket, row) for row in self._rows(asked))

    # sharing
    def keep_share(self, share: Share) -> Share:
        row = share_columns(share)
        known = select(tables.share).filter_by(
            owner=share.owner, reader=share.reader, event=row["event"]
        )
        there = select(tables.account.c.id).filter_by(id=share.reader)
        with self._locked(share.owner) as connection:
            if share.event is not None:
                shelves.require_event(SqlShelf(connection, share.owner), share.event)
            if connection.execute(there).first() is None:
                raise NotKeptError("account", share.reader)
            if (found := connection.execute(known).first()) is not None:
                return share_of(found)
            connection.execute(insert(tables.share), row)
        return share

    def drop_share(self, account: UUID, reader: UUID, event: UUID | None) -> bool:
        one = delete(tables.share).filter_by(owner=account, reader=reader, event=event or NIL)
        return self._gone(one)

    def shares(self, account: UUID, reader: UUID | None = None) -> tuple[Share, ...]:
        asked = select(tables.share).filter_by(owner=account)
        return self._shares(asked if reader is None else asked.filter_by(reader=reader))

    def shared_with(self, account: UUID, owner: UUID | None = None) -> tuple[Share, ...]:
        asked = select(tables.share).filter_by(reader=account)
        return self._shares(asked if owner is None else asked.filter_by(owner=owner))

    def keep_guest_link(self, link: GuestLink) -> None:
        links = tables.guest_link
        with self._locked(link.owner) as connection:
            shelves.require_event(SqlShelf(connection, link.owner), link.event)
            own = delete(links).filter_by(owner=link.owner)
            connection.execute(own.where(links.c.expires_at <= link.made_at))
            connection.execute(insert(links), columns(link))

    def guest_link(self, digest: str, now: datetime) -> GuestLink | None:
        links = tables.guest_link
        rows = self._rows(select(links).filter_by(digest=digest).where(links.c.expires_at > now))
        return thing_of(GuestLink, rows[0]) if rows else None

    def guest_links(self, account: UUID, now: datetime) -> tuple[GuestLink, ...]:
        links = tables.guest_link
        asked = select(links).filter_by(owner=account).where(links.c.expires_at > now)
        rows = self._rows(asked.order_by(links.c.made_at, links.c.digest))
        return tuple(thing_of(GuestLink, row) for row in rows)

    def drop_guest_link(self, account: UUID, digest: str) -> bool:
        return self._gone(delete(tables.guest_link).filter_by(owner=account, digest=digest))

    # the whole
    def close(self) -> None:
        self._engine.dispose()

    def _rows(self, asked: Select[Any]) -> Sequence[Any]:
        with self._engine.connect() as connection:
            return connection.execute(asked).all()

    def _shares(self, asked: Select[Any]) -> tuple[Share, ...]:
        shares = tables.share.c
        order = (shares.since, shares.owner, shares.reader, shares.event)
        return tuple(share_of(row) for row in self._rows(asked.order_by(*order)))

    def _end(self, digest: str) -> bool:
        """Delete a ticket; whether it was there."""
        return self._gone(delete(tables.ticket).filter_by(digest=digest))

    def _gone(self, one: Delete) -> bool:
        """Delete one row; whether it was there."""
        with self._write() as connection:
            return connection.execute(one).rowcount == 1

    @contextmanager
    def _write(self) -> Iterator[Connection]:
        """A transaction that writes. Threads take turns for SQLite's one lock here: those that
        wait at the file ask again now and then, and the unlucky one for seconds."""
        with self._turn, self._writing.begin() as connection:
            yield connection

    @contextmanager
    def _locked(self, account: UUID) -> Iterator[Connection]:
        """A transaction that writes what is this account's. Raises NotKeptError."""
        mine = select(tables.account.c.id).filter_by(id=account)
        with self._write() as connection:
            if connection.execute(mine.with_for_update(key_share=True)).first() is None:
                raise NotKeptError("account", account)
            yield connection

    @contextmanager
    def _shelf(self, account: UUID) -> Iterator[SqlShelf]:
        with self._locked(account) as connection:
            yield SqlShelf(connection, account)


def _newest_first(asked: Select[Any]) -> Select[Any]:
    return asked.order_by(tables.result.c.made_at.desc(), tables.result.c.id.desc())


def _last_seq(connection: Connection, account: UUID, event: UUID) -> int:
    highest = select(func.max(tables.jotting.c.seq)).filter_by(account=account, event=event)
    return connection.execute(highest).scalar() or 0


def _marks(connection: Connection, account: UUID, ids: Sequence[UUID]) -> dict[UUID, Mark]:
    log = tables.jotting
    found: dict[UUID, Mark] = {}
    marks = select(log.c.id, log.c.digest, log.c.seq).filter_by(account=account)
    for some in _at_once(ids):
        asked = marks.where(log.c.id.in_(some))
        found |= {row.id: Mark(row.digest, row.seq) for row in connection.execute(asked)}
    return found


def _at_once(ids: Sequence[UUID]) -> Iterator[Sequence[UUID]]:
    """All of them, so many that one question can name them."""
    return (ids[start : start + IDS_AT_ONCE] for start in range(0, len(ids), IDS_AT_ONCE))
