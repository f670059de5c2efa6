"""The store's tables. Rows are added, never changed: see guards.py."""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import (
    Column,
    DateTime,
    Dialect,
    ForeignKey,
    ForeignKeyConstraint,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    TypeDecorator,
    UniqueConstraint,
)


class Moment(TypeDecorator[datetime]):
    """A moment with its time zone; kept as UTC, for SQLite knows no zones."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Return the moment as the database keeps it."""
        if value is None:
            return None
        moment = value.astimezone(UTC)
        return moment.replace(tzinfo=None) if dialect.name == "sqlite" else moment

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Return the moment in UTC."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if dialect.name == "sqlite" else value.astimezone(UTC)


metadata = MetaData()

jobs = Table(
    "jobs",
    metadata,
    Column("id", String(40), primary_key=True),
    Column("file", String(255), nullable=False),
)

versions = Table(
    "versions",
    metadata,
    Column("job_id", ForeignKey("jobs.id"), primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("text", Text, nullable=False),
    Column("title", String(80), nullable=False),
    Column("who", String(80), nullable=False),
    Column("why", String(400), nullable=False),
    Column("at", Moment, nullable=False),
    Column("base", Integer, nullable=False),
    Column("sent", String(64), nullable=False),
    Column("restores", Integer, nullable=True),
    Column("settles", Integer, nullable=True),
    ForeignKeyConstraint(["job_id", "restores"], ["versions.job_id", "versions.number"]),
    ForeignKeyConstraint(["job_id", "settles"], ["asides.job_id", "asides.number"]),
)

asides = Table(
    "asides",
    metadata,
    Column("job_id", ForeignKey("jobs.id"), primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("text", Text, nullable=False),
    Column("who", String(80), nullable=False),
    Column("why", String(400), nullable=False),
    Column("at", Moment, nullable=False),
    Column("base", Integer, nullable=False),
)

events = Table(
    "events",
    metadata,
    Column("job_id", ForeignKey("jobs.id"), primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("id", String(64), nullable=False),
    Column("kind", String(40), nullable=False),
    Column("subject", String(400), nullable=False),
    Column("value", Text, nullable=False),
    Column("who", String(80), nullable=False),
    Column("at", Moment, nullable=False),
    Column("device", String(64), nullable=False),
    Column("seen", Integer, nullable=False),
    UniqueConstraint("job_id", "id", name="uq_events_id"),
)

photos = Table(
    "photos",
    metadata,
    Column("job_id", ForeignKey("jobs.id"), primary_key=True),
    Column("sha256", String(64), primary_key=True),
    Column("kind", String(40), nullable=False),
    Column("content", LargeBinary, nullable=False),
)
