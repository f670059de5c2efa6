"""Photos, by the hash of their content."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "photos",
        sa.Column("job_id", sa.String(40), sa.ForeignKey("jobs.id"), primary_key=True),
        sa.Column("sha256", sa.String(64), primary_key=True),
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
    )
