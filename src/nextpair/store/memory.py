"""A store that lasts as long as the process: for tests, and for a look at the demo."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, fields, replace
from datetime import datetime
from threading import RLock
from typing import TypeVar
from uuid import UUID

from nextpair.application.clock import now_utc
from nextpair.application.store import (
    Account,
    Computed,
    ComputedNote,
    Job,
    NotKeptError,
    Ticket,
)
from nextpair.domain.errors import require
from nextpair.domain.jotting import Jotting, Kept, Receipt
from nextpair.domain.record import Draft, Kind, Record
from nextpair.domain.sharing import NIL, GuestLink, Share
from nextpair.store import shelf as shelves
from nextpair.store.documents import as_kept
from nextpair.store.keeping import BELIEVED_AHEAD, RESULTS_KEPT
from nextpair.store.logbook import Mark, enter
from nextpair.store.shelf import by_name

T = TypeVar("T")
Thing = TypeVar("Thing", Record, Computed)


@dataclass(slots=True)
class _Belongings:
    """Everything of one account."""

    records: dict[UUID, list[Record]] = field(default_factory=dict)
    logs: dict[UUID, list[Kept]] = field(default_factory=dict)
    marks: dict[UUID, Mark] = field(default_factory=dict)
    results: dict[UUID, Computed] = field(default_factory=dict)


class _MemoryShelf:
    """An account's records and what a change adds to them, which counts once it is kept."""

    def __init__(self, records: dict[UUID, list[Record]]) -> None:
        self._records = records
        self._added: dict[UUID, list[Record]] = {}

    def newest(self, id: UUID) -> Record | None:
        versions = self.versions(id)
        return versions[-1] if versions else None

    def versions(self, id: UUID) -> Sequence[Record]:
        return [*self._records.get(id, ()), *self._added.get(id, ())]

    def put(self, version: Record) -> None:
        self._added.setdefault(version.id, []).append(_own(version))

    def needing(self, id: UUID) -> Sequence[Record]:
        newest = [self.versions(id)[-1] for id in {**self._records, **self._added}]
        return by_name(one for one in newest if id in one.links and not one.deleted)

    def keep(self) -> set[UUID]:
        """Make what was added count; returns what was deleted on the way."""
        for id, versions in self._added.items():
            self._records.setdefault(id, []).extend(versions)
        return {one.id for versions in self._added.values() for one in versions if one.deleted}


class MemoryStore:
    """Everything in dictionaries, one caller at a time; see `nextpair.application.store.Store`."""

    def __init__(self, clock: Callable[[], datetime] = now_utc) -> None:
        self._clock = clock
        self._lock = RLock()
        self._accounts: dict[UUID, Account] = {}
        self._belongings: dict[UUID, _Belongings] = {}
        self._tickets: dict[str, Ticket] = {}
        self._jobs: dict[tuple[UUID, UUID], Job] = {}
        self._shares: dict[tuple[UUID, UUID, UUID | None], Share] = {}
        self._links: dict[str, GuestLink] = {}

    # records
    def records(
        self, account: UUID, kind: Kind | None = None, deleted: bool = False
    ) -> tuple[Record, ...]:
        with self._lock:
            newest = [versions[-1] for versions in self._of(account).records.values()]
            return by_name(
                _own(one) for one in newest if one.deleted is deleted and kind in (None, one.kind)
            )

    def record(self, account: UUID, id: UUID) -> Record:
        return self.revisions(account, id)[0]

    def revisions(self, account: UUID, id: UUID) -> tuple[Record, ...]:
        with self._lock:
            versions = self._of(account).records.get(id)
            if versions is None:
                raise NotKeptError("record", id)
            return _each(_own, versions[::-1])

    def save(self, account: UUID, draft: Draft, revision: int | None) -> Record:
        with self._shelf(account) as shelf:
            return _own(shelves.save(shelf, draft, revision, self._clock()))

    def save_all(self, account: UUID, drafts: Sequence[Draft]) -> tuple[Record, ...]:
        with self._shelf(account) as shelf:
            return _each(_own, shelves.save_all(shelf, drafts, self._clock()))

    def delete(self, account: UUID, id: UUID) -> Record:
        with self._shelf(account) as shelf:
            return _own(shelves.delete(shelf, id, self._clock()))

    def restore(self, account: UUID, id: UUID) -> Record:
        with self._shelf(account) as shelf:
            return _own(shelves.restore(shelf, id, self._clock()))

    def every_revision(self, account: UUID) -> tuple[Record, ...]:
        with self._lock:
            histories = sorted(self._of(account).records.items())
            return _each(_own, (one for _, versions in histories for one in versions))

    def changes(self, account: UUID) -> int:
        with self._lock:
            return sum(map(len, self._of(account).records.values()))

    def merge_revisions(self, account: UUID, versions: Sequence[Record]) -> int:
        with self._shelf(account) as shelf:
            return shelves.merge(shelf, versions, self._clock())

    # the log
    def append(self, account: UUID, jottings: Sequence[Jotting]) -> tuple[Receipt, ...]:
        with self._lock:
            own = self._own(account)
            last_seq = {event: log[-1].seq for event, log in own.logs.items()}
            entry = enter(_each(_own_payload, jottings), own.marks, last_seq)
            for kept, digest in entry.added:
                own.logs.setdefault(kept.jotting.event, []).append(kept)
                own.marks[kept.jotting.id] = Mark(digest, kept.seq)
            return tuple(entry.receipts)

    def log(
        self, account: UUID, event: UUID, after: int = 0, most: int | None = None
    ) -> tuple[Kept, ...]:
        with self._lock:
            found = [kept for kept in self._of(account).logs.get(event, ()) if kept.seq > after]
            return tuple(Kept(kept.seq, _own_payload(kept.jotting)) for kept in found[:most])

    def logged_events(self, account: UUID) -> tuple[UUID, ...]:
        with self._lock:
            return tuple(sorted(self._of(account).logs))

    # results
    def keep_computed(self, account: UUID, computed: Computed) -> None:
        with self._lock:
            results = self._own(account).results
            for one in self._newest_first(account, computed.event, computed.kind):
                if one.made_at > computed.made_at + BELIEVED_AHEAD:
                    del results[one.id]
            results[computed.id] = _own(computed)
            for old in self._newest_first(account, computed.event, computed.kind)[RESULTS_KEPT:]:
                del results[old.id]

    def computed(self, account: UUID, event: UUID, kind: str) -> Computed | None:
        with self._lock:
            found = self._newest_first(account, event, kind)
            return _own(found[0]) if found else None

    def computed_notes(self, account: UUID, event: UUID) -> tuple[ComputedNote, ...]:
        with self._lock:
            kinds = {one.kind for one in self._of(account).results.values() if one.event == event}
            newest = [self._newest_first(account, event, kind)[0] for kind in kinds]
        return tuple(
            ComputedNote(*(getattr(one, field.name) for field in fields(ComputedNote)))
            for one in sorted(newest, key=lambda one: (one.made_at, one.id), reverse=True)
        )

    def computed_by_id(self, account: UUID, id: UUID) -> Computed:
        found = self._of(account).results.get(id)
        if found is None:
            raise NotKeptError("result", id)
        return _own(found)

    # jobs
    def keep_job(self, job: Job) -> None:
        with self._lock:
            self._own(job.account)
            self._jobs[(job.account, job.id)] = job

    def job(self, account: UUID, id: UUID) -> Job:
        found = self._jobs.get((account, id))
        if found is None:
            raise NotKeptError("job", id)
        return found

    def jobs(self, account: UUID | None, states: Sequence[str]) -> tuple[Job, ...]:
        with self._lock:
            return tuple(
                job
                for job in self._jobs.values()
                if job.state in states and account in (None, job.account)
            )

    # accounts
    def add_account(self, account: Account) -> None:
        with self._lock:
            taken = self.account_of_key(account.key) is not None
            require(not taken, "name", account.name, "a name that is not taken")
            require(account.id not in self._accounts, "id", str(account.id), "one of its own")
            self._accounts[account.id] = account
            self._belongings[account.id] = _Belongings()

    def account(self, id: UUID) -> Account:
        with self._lock:
            if id not in self._accounts:
                raise NotKeptError("account", id)
            return self._accounts[id]

    def account_of_key(self, key: str) -> Account | None:
        with self._lock:
            return next((one for one in self._accounts.values() if one.key == key), None)

    def accounts(self, among: Collection[UUID] | None = None) -> tuple[Account, ...]:
        with self._lock:
            accounts = tuple(self._accounts.values())
            return tuple(one for one in accounts if among is None or one.id in among)

    def change_password(self, account: UUID, password_hash: str | None) -> None:
        with self._lock:
            self._own(account)
            self._accounts[account] = replace(self._accounts[account], password_hash=password_hash)
            for ticket in [one for one in self._tickets.values() if one.account == account]:
                del self._tickets[ticket.digest]

    def keep_ticket(self, ticket: Ticket) -> None:
        with self._lock:
            self._own(ticket.account)
            self._tickets[ticket.digest] = ticket

    def ticket(self, digest: str, now: datetime) -> Ticket | None:
        with self._lock:
            found = self._tickets.get(digest)
            if found is None or (gone := found.expires_at <= now) or found.once:
                self._tickets.pop(digest, None)
            return None if found is None or gone else found

    def drop_ticket(self, digest: str) -> None:
        with self._lock:
            self._tickets.pop(digest, None)

    def tickets(self, account: UUID, now: datetime) -> tuple[Ticket, ...]:
        with self._lock:
            own = [one for one in self._tickets.values() if one.account == account]
            return tuple(
                sorted((one for one in own if one.expires_at > now), key=lambda one: one.digest)
            )

    # sharing
    def keep_share(self, share: Share) -> Share:
        with self._lock:
            shelf = _MemoryShelf(self._own(share.owner).records)
            if share.event is not None:
                shelves.require_event(shelf, share.event)
            self._own(share.reader)
            return self._shares.setdefault((share.owner, share.reader, share.event), share)

    def drop_share(self, account: UUID, reader: UUID, event: UUID | None) -> bool:
        with self._lock:
            return self._shares.pop((account, reader, event), None) is not None

    def shares(self, account: UUID, reader: UUID | None = None) -> tuple[Share, ...]:
        with self._lock:
            found = [one for one in self._shares.values() if one.owner == account]
        return _oldest_first(one for one in found if reader in (None, one.reader))

    def shared_with(self, account: UUID, owner: UUID | None = None) -> tuple[Share, ...]:
        with self._lock:
            found = [one for one in self._shares.values() if one.reader == account]
        return _oldest_first(one for one in found if owner in (None, one.owner))

    def keep_guest_link(self, link: GuestLink) -> None:
        with self._lock:
            shelves.require_event(_MemoryShelf(self._own(link.owner).records), link.event)
            self._end_links(link.owner, lambda one: one.expires_at <= link.made_at)
            self._links[link.digest] = link

    def guest_link(self, digest: str, now: datetime) -> GuestLink | None:
        found = self._links.get(digest)
        return found if found is not None and found.expires_at > now else None

    def guest_links(self, account: UUID, now: datetime) -> tuple[GuestLink, ...]:
        with self._lock:
            own = [one for one in self._links.values() if one.owner == account]
        lasting = [one for one in own if one.expires_at > now]
        return tuple(sorted(lasting, key=lambda one: (one.made_at, one.digest)))

    def drop_guest_link(self, account: UUID, digest: str) -> bool:
        with self._lock:
            found = self._links.get(digest)
            own = found is not None and found.owner == account
            if own:
                del self._links[digest]
            return own

    # the whole
    def close(self) -> None:
        """Nothing to let go of."""

    def _of(self, account: UUID) -> _Belongings:
        """What an account has, to look at: nothing for one that is not here."""
        return self._belongings.get(account, _Belongings())

    def _own(self, account: UUID) -> _Belongings:
        """What an account has, to change. Raises NotKeptError."""
        if account not in self._belongings:
            raise NotKeptError("account", account)
        return self._belongings[account]

    @contextmanager
    def _shelf(self, account: UUID) -> Iterator[_MemoryShelf]:
        """An account's records to change: all of the changes count, or none."""
        with self._lock:
            shelf = _MemoryShelf(self._own(account).records)
            yield shelf
            if gone := shelf.keep():
                self._end_links(account, lambda link: link.event in gone)
                for key in [one for one in self._shares if one[0] == account and one[2] in gone]:
                    del self._shares[key]

    def _end_links(self, account: UUID, which: Callable[[GuestLink], bool]) -> None:
        ended = [one for one in self._links.values() if one.owner == account and which(one)]
        for link in ended:
            del self._links[link.digest]

    def _newest_first(self, account: UUID, event: UUID, kind: str) -> list[Computed]:
        return sorted(
            (
                result
                for result in self._of(account).results.values()
                if result.event == event and result.kind == kind
            ),
            key=lambda result: (result.made_at, result.id),
            reverse=True,
        )


def _oldest_first(shares: Iterable[Share]) -> tuple[Share, ...]:
    return tuple(
        sorted(shares, key=lambda one: (one.since, one.owner, one.reader, one.event or NIL))
    )


def _own(thing: Thing) -> Thing:
    """A copy whose document nobody else holds, as a database would give it."""
    return replace(thing, document=as_kept(thing.document))


def _own_payload(jotting: Jotting) -> Jotting:
    return replace(jotting, payload=as_kept(jotting.payload))


def _each(own: Callable[[T], T], things: Iterable[T]) -> tuple[T, ...]:
    return tuple(own(thing) for thing in things)
