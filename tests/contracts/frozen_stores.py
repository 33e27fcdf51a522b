"""Stores as programs of earlier schemas left them, and what those programs read out of them.

`tools/frozen_store.py` writes them, before a migration is added; nobody edits them afterwards.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import make_url

from contracts.frozen_files import thaw_sqlite, unpacked
from nextpair.application.archive import archive_of
from nextpair.application.store import Store
from nextpair.domain.jotting import canonical_json

FROZEN = Path(__file__).parent / "frozen"
LONG_AGO = datetime(2000, 1, 1, tzinfo=UTC)
"""Before any ticket of a frozen store ends."""


def frozen_schemas() -> list[str]:
    """The schemas of which a store is frozen, first one first."""
    return sorted({path.name.split("_")[0] for path in FROZEN.glob("*.xz")})


def text_of(schema: str, ending: str) -> str:
    """One frozen file."""
    return unpacked(FROZEN / f"{schema}_{ending}").decode()


def thaw_into_file(schema: str, path: Path) -> None:
    """An SQLite store of that schema."""
    thaw_sqlite(FROZEN / f"{schema}_sqlite.sql.xz", path)


def thaw_into_server(schema: str, url: str) -> None:
    """A PostgreSQL store of that schema, in an empty database."""
    import psycopg

    lines = text_of(schema, "postgresql.sql.xz").splitlines(keepends=True)
    # A backslash begins what only the server's own terminal understands.
    words = "".join(line for line in lines if not line.startswith("\\"))
    plain = make_url(url).set(drivername="postgresql").render_as_string(hide_password=False)
    with psycopg.connect(plain, autocommit=True) as connection:
        connection.execute(words.encode())


def told_of(store: Store) -> Any:
    """Everything that a store holds, as a program reads it: JSON."""
    accounts = sorted(store.accounts(), key=lambda one: str(one.id))
    told = {
        "accounts": [asdict(account) for account in accounts],
        "archives": [archive_of(store, account.id) for account in accounts],
        "logs": [
            [[kept.seq, kept.jotting.digest] for kept in store.log(account.id, event)]
            for account in accounts
            for event in sorted(store.logged_events(account.id))
        ],
        "results": [
            _hashed(asdict(store.computed_by_id(account.id, note.id)))
            for account in accounts
            for event in sorted({job.event for job in store.jobs(account.id, STATES)})
            for note in store.computed_notes(account.id, event)
        ],
        "jobs": [asdict(job) for job in store.jobs(None, STATES)],
        "tickets": [
            asdict(ticket) for one in accounts for ticket in store.tickets(one.id, LONG_AGO)
        ],
        "shares": [asdict(share) for one in accounts for share in store.shares(one.id)],
        "guest_links": [
            asdict(link) for one in accounts for link in store.guest_links(one.id, LONG_AGO)
        ],
    }
    return json.loads(json.dumps(told, default=_plain))


def _hashed(result: dict[str, Any]) -> dict[str, Any]:
    """A result with its long document by its hash."""
    document = canonical_json(result["document"]).encode()
    return result | {"document": hashlib.sha256(document).hexdigest()}


STATES = ("waiting", "running", "done", "failed", "cancelled", "interrupted")


def _plain(value: Any) -> str:
    return value.astimezone(UTC).isoformat() if isinstance(value, datetime) else str(value)
