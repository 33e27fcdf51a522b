"""What the use cases need of a store, as a protocol. Every call is one transaction; everything
belongs to an account, and no call shows one account what another keeps. What an account lets
another read is kept here; `application.sharing` goes by it.

`nextpair.store` keeps it in a database, `nextpair.store.memory` for as long as the process runs;
tests/contracts holds both to the same suite.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol
from uuid import UUID

from nextpair.application.names import plain_name
from nextpair.domain.errors import InvalidValueError, require, require_text
from nextpair.domain.jotting import Jotting, Kept, Receipt
from nextpair.domain.record import LONGEST_NAME, Document, Draft, Kind, Record
from nextpair.domain.sharing import GuestLink, Share


class NotKeptError(InvalidValueError):
    """Nothing of that id is kept here for this account."""

    def __init__(self, what: str, id: UUID) -> None:
        super().__init__(what, str(id), "one that is kept here")


class StaleError(InvalidValueError):
    """Somebody else saved the record since it was read; `current` is what is kept now."""

    def __init__(self, current: Record, revision: int | None) -> None:
        super().__init__("revision", revision, f"{current.revision}, the newest")
        self.current = current


class NeededError(InvalidValueError):
    """Other records need this one; `by` names them."""

    def __init__(self, name: str, by: tuple[str, ...]) -> None:
        super().__init__("record", name, f"one that nothing needs; {', '.join(by)} needs it")
        self.by = by


class StoreFailedError(InvalidValueError):
    """The store itself cannot do what it is asked, whatever that is; `found` is its place."""


class DamagedStoreError(StoreFailedError):
    """What is kept cannot be read any more; says what to put back."""


class FullStoreError(StoreFailedError):
    """There is no room left to keep anything more. What was kept before stays."""


@dataclass(frozen=True, slots=True)
class Account:
    """Somebody whose things are kept. `password_hash` is None where nobody signs in: at home."""

    id: UUID
    name: str
    password_hash: str | None

    def __post_init__(self) -> None:
        require(bool(self.name.strip()), "name", self.name, "a name")
        require_text("name", self.name, 1, LONGEST_NAME)

    @property
    def key(self) -> str:
        """What it is found by, and no other account may have: its name as it may be written
        otherwise."""
        return plain_name(self.name)


@dataclass(frozen=True, slots=True)
class Ticket:
    """What lets somebody in: a session, or a link that works once. Of its secret only the SHA-256
    is kept."""

    digest: str
    account: UUID
    expires_at: datetime
    once: bool
    device: str = ""


@dataclass(frozen=True, slots=True)
class ComputedNote:
    """What is known of a result that took a while, beside the result: what of ("sheet", "read",
    "spares", "pocket"), of which event, by which model and seed. `inputs` is the hash of the
    event's files, `log_seq` the last jotting it knew (None: none was asked)."""

    id: UUID
    event: UUID
    kind: str
    model_version: str
    seed: int
    inputs: str
    log_seq: int | None
    made_at: datetime


@dataclass(frozen=True, slots=True)
class Computed(ComputedNote):
    """A result that took a while, whole."""

    document: Document


@dataclass(frozen=True, slots=True)
class Job:
    """A long job: what for, how far, and how it ended. `state` is "waiting", "running", "done",
    "failed", "cancelled" or "interrupted" (the program stopped under it)."""

    id: UUID
    account: UUID
    kind: str
    event: UUID
    state: str
    label: str = ""
    done: int = 0
    total: int = 0
    why: str = ""
    result: UUID | None = None
    made_at: datetime | None = None


class Store(Protocol):
    """Everything that is kept. Raises NotKeptError for an id that this account does not have."""

    # records
    def records(
        self, account: UUID, kind: Kind | None = None, deleted: bool = False
    ) -> tuple[Record, ...]:
        """Records of a kind by name; with `deleted`, those that were deleted instead."""

    def record(self, account: UUID, id: UUID) -> Record:
        """One record, deleted or not."""

    def revisions(self, account: UUID, id: UUID) -> tuple[Record, ...]:
        """Every version of a record, newest first."""

    def save(self, account: UUID, draft: Draft, revision: int | None) -> Record:
        """Keep a record: `revision` is the one it was read at, None for a new one. Saving what is
        kept already, the same, changes nothing. Raises StaleError; NotKeptError for a link to
        nothing."""

    def save_all(self, account: UUID, drafts: Sequence[Draft]) -> tuple[Record, ...]:
        """Keep records whatever their revision, all or none; they may link to one another."""

    def delete(self, account: UUID, id: UUID) -> Record:
        """Put a record away; it can come back. Raises NeededError."""

    def restore(self, account: UUID, id: UUID) -> Record:
        """Take a deleted record back, and deleted records that it needs with it."""

    def every_revision(self, account: UUID) -> tuple[Record, ...]:
        """Every version of every record, each record's oldest first: what an archive holds."""

    def changes(self, account: UUID) -> int:
        """How many versions of records are kept: it grows with every change of one."""

    def merge_revisions(self, account: UUID, versions: Sequence[Record]) -> int:
        """Take in versions from elsewhere, each record's oldest first; returns how many were not
        here. Of two histories of a record both are kept, and the version saved last counts."""

    # the log
    def append(self, account: UUID, jottings: Sequence[Jotting]) -> tuple[Receipt, ...]:
        """Add jottings to their events' logs, each once; one answer each, in order. The event
        need not be kept here: nothing that was written down is turned away for that."""

    def log(
        self, account: UUID, event: UUID, after: int = 0, most: int | None = None
    ) -> tuple[Kept, ...]:
        """Jottings of an event from the one after `after` on, in the order they came in."""

    def logged_events(self, account: UUID) -> tuple[UUID, ...]:
        """Events that have a log, kept or not."""

    # results
    def keep_computed(self, account: UUID, computed: Computed) -> None:
        """Keep a result; the newest few of a kind and event stay."""

    def computed(self, account: UUID, event: UUID, kind: str) -> Computed | None:
        """The newest result of a kind for an event."""

    def computed_notes(self, account: UUID, event: UUID) -> tuple[ComputedNote, ...]:
        """Of the newest result of each kind for an event, what is known beside it: a result may
        be large."""

    def computed_by_id(self, account: UUID, id: UUID) -> Computed:
        """One result."""

    # jobs
    def keep_job(self, job: Job) -> None:
        """Write a job down, new or as it stands now."""

    def job(self, account: UUID, id: UUID) -> Job:
        """One job."""

    def jobs(self, account: UUID | None, states: Sequence[str]) -> tuple[Job, ...]:
        """Jobs in these states, oldest first; of every account where it is None."""

    # accounts
    def add_account(self, account: Account) -> None:
        """Raises InvalidValueError for a name that is taken."""

    def account(self, id: UUID) -> Account:
        """One account."""

    def account_of_key(self, key: str) -> Account | None:
        """The account of a name, by its `plain_name`; None where there is none."""

    def accounts(self, among: Collection[UUID] | None = None) -> tuple[Account, ...]:
        """Everybody, or those of these ids that are there; first one first."""

    def change_password(self, account: UUID, password_hash: str | None) -> None:
        """Another password; every ticket of the account ends with the old one."""

    def keep_ticket(self, ticket: Ticket) -> None:
        """Let somebody in until it expires."""

    def ticket(self, digest: str, now: datetime) -> Ticket | None:
        """The ticket of that digest, if it has not expired; one that works once is gone then."""

    def drop_ticket(self, digest: str) -> None:
        """End a session; nothing happens if there is none."""

    def tickets(self, account: UUID, now: datetime) -> tuple[Ticket, ...]:
        """Whoever is let in now."""

    # sharing
    def keep_share(self, share: Share) -> Share:
        """Let somebody read; what is shared already stays as it is, and is returned. Ends when
        its event is deleted. Raises NotKeptError where the owner keeps no such event, or there is
        no such reader."""

    def drop_share(self, account: UUID, reader: UUID, event: UUID | None) -> bool:
        """Let somebody read no more; returns whether that was shared."""

    def shares(self, account: UUID, reader: UUID | None = None) -> tuple[Share, ...]:
        """What an account shares, with everybody or with one reader; oldest first."""

    def shared_with(self, account: UUID, owner: UUID | None = None) -> tuple[Share, ...]:
        """What others share with an account, or one of them does; oldest first."""

    def keep_guest_link(self, link: GuestLink) -> None:
        """Let guests in until it expires, or its event is deleted; links of the account that have
        expired by then are gone. Raises NotKeptError where the owner keeps no such event."""

    def guest_link(self, digest: str, now: datetime) -> GuestLink | None:
        """The link of that digest, if it has not expired."""

    def guest_links(self, account: UUID, now: datetime) -> tuple[GuestLink, ...]:
        """An account's links that have not expired, oldest first."""

    def drop_guest_link(self, account: UUID, digest: str) -> bool:
        """End a link; returns whether it was there."""

    # the whole
    def close(self) -> None:
        """Let go of files and connections."""
