"""The first tables."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

INSTANT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """The first tables."""
    _accounts()
    _records()
    _log()
    _results()


def _counted() -> sa.Column[Any]:
    whole = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
    return sa.Column("number", whole, nullable=False)


def _uuids(*names: str) -> list[sa.Column[Any]]:
    return [sa.Column(name, sa.Uuid(), nullable=False) for name in names]


def _texts(*names: str) -> list[sa.Column[Any]]:
    return [sa.Column(name, sa.Text(), nullable=False) for name in names]


def _wholes(*names: str) -> list[sa.Column[Any]]:
    return [sa.Column(name, sa.BigInteger(), nullable=False) for name in names]


def _of_account(table: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(["account"], ["account.id"], name=f"fk_{table}_account")


def _of_record(table: str, column: str = "id", **more: Any) -> sa.ForeignKeyConstraint:
    name = f"fk_{table}_account_{column}"
    return sa.ForeignKeyConstraint(
        ["account", column], ["record.account", "record.id"], name=name, **more
    )


def _accounts() -> None:
    op.create_table(
        "account",
        _counted(),
        *_uuids("id"),
        *_texts("name"),
        sa.Column("password_hash", sa.Text()),
        sa.PrimaryKeyConstraint("number", name="pk_account"),
        sa.UniqueConstraint("id", name="uq_account_id"),
        sa.UniqueConstraint("name", name="uq_account_name"),
    )
    op.create_table(
        "ticket",
        *_texts("digest"),
        *_uuids("account"),
        sa.Column("expires_at", INSTANT, nullable=False),
        sa.Column("once", sa.Boolean(), nullable=False),
        *_texts("device"),
        _of_account("ticket"),
        sa.PrimaryKeyConstraint("digest", name="pk_ticket"),
    )
    op.create_index("ix_ticket_account", "ticket", ["account"])


def _records() -> None:
    op.create_table(
        "record",
        *_uuids("account", "id"),
        *_texts("kind"),
        sa.Column("newest", sa.Integer(), nullable=False),
        _of_account("record"),
        sa.PrimaryKeyConstraint("account", "id", name="pk_record"),
    )
    op.create_table(
        "revision",
        *_uuids("account", "id"),
        sa.Column("revision", sa.Integer(), nullable=False),
        *_texts("name"),
        sa.Column("document", sa.JSON(), nullable=False),
        sa.Column("links", sa.JSON(), nullable=False),
        sa.Column("saved_at", INSTANT, nullable=False),
        sa.Column("deleted", sa.Boolean(), nullable=False),
        _of_record("revision"),
        sa.PrimaryKeyConstraint("account", "id", "revision", name="pk_revision"),
    )
    op.create_table(
        "link",
        *_uuids("account", "id", "needs"),
        _of_record("link"),
        _of_record("link", "needs", deferrable=True, initially="DEFERRED"),
        sa.PrimaryKeyConstraint("account", "id", "needs", name="pk_link"),
    )
    op.create_index("ix_link_account_needs", "link", ["account", "needs"])


def _log() -> None:
    op.create_table(
        "jotting",
        *_uuids("account", "event"),
        sa.Column("seq", sa.Integer(), autoincrement=False, nullable=False),
        *_uuids("id"),
        *_texts("device"),
        *_wholes("device_seq"),
        *_texts("kind"),
        sa.Column("payload", sa.JSON(), nullable=False),
        sa.Column("supersedes", sa.Uuid()),
        sa.Column("schema_version", sa.Integer(), nullable=False),
        *_texts("client_time", "digest"),
        _of_account("jotting"),
        sa.PrimaryKeyConstraint("account", "event", "seq", name="pk_jotting"),
        sa.UniqueConstraint("account", "id", name="uq_jotting_account_id"),
    )


def _results() -> None:
    op.create_table(
        "result",
        *_uuids("account", "id", "event"),
        *_texts("kind", "model_version"),
        *_wholes("seed"),
        *_texts("inputs"),
        sa.Column("log_seq", sa.Integer()),
        sa.Column("made_at", INSTANT, nullable=False),
        sa.Column("document", sa.JSON(), nullable=False),
        _of_account("result"),
        sa.PrimaryKeyConstraint("account", "id", name="pk_result"),
    )
    newest = ["account", "event", "kind", "made_at"]
    op.create_index("ix_result_account_event_kind_made_at", "result", newest)
    op.create_table(
        "job",
        _counted(),
        *_uuids("account", "id"),
        *_texts("kind"),
        *_uuids("event"),
        *_texts("state", "label"),
        *_wholes("done", "total"),
        *_texts("why"),
        sa.Column("result", sa.Uuid()),
        sa.Column("made_at", INSTANT),
        _of_account("job"),
        sa.PrimaryKeyConstraint("number", name="pk_job"),
        sa.UniqueConstraint("account", "id", name="uq_job_account_id"),
    )
    op.create_index("ix_job_state", "job", ["state"])
