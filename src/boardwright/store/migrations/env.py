"""How alembic walks the steps: inside the transaction that the store has opened."""

from __future__ import annotations

from alembic import context

from boardwright.store.schema import VERSION_TABLE
from boardwright.store.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    version_table=VERSION_TABLE,
    # SQLite changes a column only by making the table anew.
    render_as_batch=True,
)
context.run_migrations()
