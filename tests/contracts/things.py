"""Things to keep: made-up records and jottings, each new."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import count
from uuid import UUID, uuid4

from nextpair.application.store import Account, Computed, Job, Store
from nextpair.domain.jotting import Jotting, JottingKind
from nextpair.domain.record import Draft, Kind

NOON = datetime(2026, 11, 28, 12, tzinfo=UTC)
_numbers = count(1)


def account(store: Store, name: str | None = None) -> UUID:
    """Somebody new in the store."""
    id = uuid4()
    store.add_account(Account(id, name or f"Bowler {next(_numbers)}", None))
    return id


def draft(kind: Kind = Kind.PATTERN, name: str = "Long Tide", *needs: UUID, **document) -> Draft:
    """A record nobody has kept yet."""
    return Draft(uuid4(), kind, name, document or {"name": name}, frozenset(needs))


def shot(event: UUID, device_seq: int = 1, **changes) -> Jotting:
    """A shot that was just written down."""
    fields = {
        "id": uuid4(),
        "event": event,
        "device": "phone",
        "device_seq": device_seq,
        "kind": JottingKind.SHOT,
        "payload": {"game": 1, "frame": 1, "delivery": 1, "lane": 7, "ball": "Ember"},
        "client_time": "2026-11-28T12:00:00Z",
    }
    return Jotting(**{**fields, **changes})


def result(event: UUID, minutes: int = 0, kind: str = "sheet", **document) -> Computed:
    """A result made so many minutes after noon."""
    made_at = NOON + timedelta(minutes=minutes)
    return Computed(uuid4(), event, kind, "m1", 7, "f00d", None, made_at, document)


def job(account: UUID, state: str = "waiting") -> Job:
    """A job about some event."""
    return Job(uuid4(), account, "sheet", uuid4(), state, made_at=NOON)
