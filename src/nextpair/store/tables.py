"""The tables. Everything hangs on an account; ids are an account's own, so two accounts may keep
copies of the same things.

A change here needs a migration (migrations/versions): a test compares the two.
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from sqlalchemy import (
    JSON,
    BigInteger,
    Boolean,
    Column,
    DateTime,
    Dialect,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    Integer,
    MetaData,
    Table,
    Text,
    TypeDecorator,
    UniqueConstraint,
    Uuid,
)

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)


class Instant(TypeDecorator[datetime]):
    """A time with its zone, kept in UTC also by databases that know no zones."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        moved = value.astimezone(UTC)
        return moved.replace(tzinfo=None) if dialect.name == "sqlite" else moved

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if dialect.name == "sqlite" else value.astimezone(UTC)


def _counted() -> Column[int]:
    """Rows in the order in which they came."""
    return Column("number", BigInteger().with_variant(Integer, "sqlite"), primary_key=True)


def _owner(**more: Any) -> Column[Any]:
    return Column("account", Uuid, ForeignKey("account.id"), nullable=False, **more)


account = Table(
    "account",
    metadata,
    _counted(),
    Column("id", Uuid, nullable=False, unique=True),
    Column("name", Text, nullable=False, unique=True),
    Column("key", Text),
    Column("password_hash", Text),
    Index(None, "key", unique=True),
)
"""`key` is the name as `plain_name` has it: none where an older program kept two accounts whose
names differ by case alone, and this is the younger one."""

record = Table(
    "record",
    metadata,
    _owner(primary_key=True),
    Column("id", Uuid, primary_key=True),
    Column("kind", Text, nullable=False),
    Column("newest", Integer, nullable=False),
)

revision = Table(
    "revision",
    metadata,
    Column("account", Uuid, primary_key=True),
    Column("id", Uuid, primary_key=True),
    Column("revision", Integer, primary_key=True),
    Column("name", Text, nullable=False),
    Column("document", JSON, nullable=False),
    Column("links", JSON, nullable=False),
    Column("saved_at", Instant, nullable=False),
    Column("deleted", Boolean, nullable=False),
    ForeignKeyConstraint(["account", "id"], ["record.account", "record.id"]),
)

link = Table(
    "link",
    metadata,
    Column("account", Uuid, primary_key=True),
    Column("id", Uuid, primary_key=True),
    Column("needs", Uuid, primary_key=True),
    ForeignKeyConstraint(["account", "id"], ["record.account", "record.id"]),
    ForeignKeyConstraint(
        ["account", "needs"],
        ["record.account", "record.id"],
        deferrable=True,
        initially="DEFERRED",
    ),
    Index(None, "account", "needs"),
)
"""What the newest version of each record needs."""

jotting = Table(
    "jotting",
    metadata,
    _owner(primary_key=True),
    Column("event", Uuid, primary_key=True),
    Column("seq", Integer, primary_key=True, autoincrement=False),
    Column("id", Uuid, nullable=False),
    Column("device", Text, nullable=False),
    Column("device_seq", BigInteger, nullable=False),
    Column("kind", Text, nullable=False),
    Column("payload", JSON, nullable=False),
    Column("supersedes", Uuid),
    Column("schema_version", Integer, nullable=False),
    Column("client_time", Text, nullable=False),
    Column("digest", Text, nullable=False),
    UniqueConstraint("account", "id"),
)

result = Table(
    "result",
    metadata,
    _owner(primary_key=True),
    Column("id", Uuid, primary_key=True),
    Column("event", Uuid, nullable=False),
    Column("kind", Text, nullable=False),
    Column("model_version", Text, nullable=False),
    Column("seed", BigInteger, nullable=False),
    Column("inputs", Text, nullable=False),
    Column("log_seq", Integer),
    Column("made_at", Instant, nullable=False),
    Column("document", JSON, nullable=False),
    Index(None, "account", "event", "kind", "made_at"),
)

job = Table(
    "job",
    metadata,
    _counted(),
    _owner(),
    Column("id", Uuid, nullable=False),
    Column("kind", Text, nullable=False),
    Column("event", Uuid, nullable=False),
    Column("state", Text, nullable=False),
    Column("label", Text, nullable=False),
    Column("done", BigInteger, nullable=False),
    Column("total", BigInteger, nullable=False),
    Column("why", Text, nullable=False),
    Column("result", Uuid),
    Column("made_at", Instant),
    UniqueConstraint("account", "id"),
    Index(None, "state"),
)

ticket = Table(
    "ticket",
    metadata,
    Column("digest", Text, primary_key=True),
    _owner(index=True),
    Column("expires_at", Instant, nullable=False),
    Column("once", Boolean, nullable=False),
    Column("device", Text, nullable=False),
)

share = Table(
    "share",
    metadata,
    Column("owner", Uuid, ForeignKey("account.id"), primary_key=True),
    Column("reader", Uuid, ForeignKey("account.id"), primary_key=True, index=True),
    Column("event", Uuid, primary_key=True),
    Column("since", Instant, nullable=False),
)
"""Who may read what of whom; the event is the nil UUID where it is all of them."""

guest_link = Table(
    "guest_link",
    metadata,
    Column("digest", Text, primary_key=True),
    Column("owner", Uuid, ForeignKey("account.id"), nullable=False, index=True),
    Column("event", Uuid, nullable=False),
    Column("made_at", Instant, nullable=False),
    Column("expires_at", Instant, nullable=False),
)
