"""Accounts are found by an index, by names whose case and blanks do not matter."""

from __future__ import annotations

from unicodedata import normalize

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"

ACCOUNT = sa.table(
    "account", sa.column("number", sa.BigInteger), sa.column("name"), sa.column("key")
)


def upgrade() -> None:
    """A column more. Of names that differ by case alone the oldest was the one that was found; it
    keeps the key, and the others have none."""
    op.add_column("account", sa.Column("key", sa.Text()))
    connection = op.get_bind()
    oldest_first = sa.select(ACCOUNT.c.number, ACCOUNT.c.name).order_by(ACCOUNT.c.number)
    keys: dict[str, int] = {}
    for number, name in connection.execute(oldest_first).all():
        keys.setdefault(_key(name), number)
    for key, number in keys.items():
        connection.execute(sa.update(ACCOUNT).filter_by(number=number).values(key=key))
    op.create_index("ix_account_key", "account", ["key"], unique=True)


def _key(name: str) -> str:
    """As `nextpair.application.names.plain_name` was when this was written."""
    return " ".join(normalize("NFC", name.casefold()).split())
