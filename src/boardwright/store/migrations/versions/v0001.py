"""The first tables: jobs, their versions, what was set aside, and events."""

from __future__ import annotations

from datetime import datetime

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "jobs",
        sa.Column("id", sa.String(40), primary_key=True),
        sa.Column("file", sa.String(255), nullable=False),
    )
    _asides()
    _versions()
    _events()


def _asides() -> None:
    op.create_table(
        "asides",
        sa.Column("job_id", sa.String(40), sa.ForeignKey("jobs.id"), primary_key=True),
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("text", sa.Text, nullable=False),
        *_signed(),
        sa.Column("base", sa.Integer, nullable=False),
    )


def _versions() -> None:
    op.create_table(
        "versions",
        sa.Column("job_id", sa.String(40), sa.ForeignKey("jobs.id"), primary_key=True),
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("title", sa.String(80), nullable=False),
        *_signed(),
        sa.Column("base", sa.Integer, nullable=False),
        sa.Column("sent", sa.String(64), nullable=False),
        sa.Column("restores", sa.Integer),
        sa.Column("settles", sa.Integer),
        sa.ForeignKeyConstraint(["job_id", "restores"], ["versions.job_id", "versions.number"]),
        sa.ForeignKeyConstraint(["job_id", "settles"], ["asides.job_id", "asides.number"]),
    )


def _events() -> None:
    op.create_table(
        "events",
        sa.Column("job_id", sa.String(40), sa.ForeignKey("jobs.id"), primary_key=True),
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("id", sa.String(64), nullable=False),
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("subject", sa.String(400), nullable=False),
        sa.Column("value", sa.Text, nullable=False),
        sa.Column("who", sa.String(80), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("device", sa.String(64), nullable=False),
        sa.Column("seen", sa.Integer, nullable=False),
        sa.UniqueConstraint("job_id", "id", name="uq_events_id"),
    )


def _signed() -> tuple[sa.Column[str], sa.Column[str], sa.Column[datetime]]:
    return (
        sa.Column("who", sa.String(80), nullable=False),
        sa.Column("why", sa.String(400), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
    )
