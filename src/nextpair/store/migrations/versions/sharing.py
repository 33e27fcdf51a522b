"""Who may read what of whom, and links for guests."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"

INSTANT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Two tables more; nothing that is kept is touched."""
    op.create_table(
        "share",
        sa.Column("owner", sa.Uuid(), nullable=False),
        sa.Column("reader", sa.Uuid(), nullable=False),
        sa.Column("event", sa.Uuid(), nullable=False),
        sa.Column("since", INSTANT, nullable=False),
        sa.ForeignKeyConstraint(["owner"], ["account.id"], name="fk_share_owner"),
        sa.ForeignKeyConstraint(["reader"], ["account.id"], name="fk_share_reader"),
        sa.PrimaryKeyConstraint("owner", "reader", "event", name="pk_share"),
    )
    op.create_index("ix_share_reader", "share", ["reader"])
    op.create_table(
        "guest_link",
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("owner", sa.Uuid(), nullable=False),
        sa.Column("event", sa.Uuid(), nullable=False),
        sa.Column("made_at", INSTANT, nullable=False),
        sa.Column("expires_at", INSTANT, nullable=False),
        sa.ForeignKeyConstraint(["owner"], ["account.id"], name="fk_guest_link_owner"),
        sa.PrimaryKeyConstraint("digest", name="pk_guest_link"),
    )
    op.create_index("ix_guest_link_owner", "guest_link", ["owner"])
