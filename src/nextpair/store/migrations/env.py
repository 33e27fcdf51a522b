"""How Alembic runs the migrations: on the connection it is handed, in its transaction."""

from __future__ import annotations

from alembic import context

from nextpair.store.schema import VERSION_TABLE
from nextpair.store.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,
    version_table=VERSION_TABLE,
)
with context.begin_transaction():
    context.run_migrations()
