"""Versions of jobs in the tables: asked for and added, one connection at a time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Connection, Row, Select, and_, func, insert, select
from sqlalchemy.exc import IntegrityError

from boardwright.store.errors import UnknownJob
from boardwright.store.records import Change, Listed, Pulse, Stamp, Version
from boardwright.store.tables import asides, events, jobs, versions

_LINE = [column for column in versions.c if column.name != "text"]


def listed(connection: Connection) -> tuple[Listed, ...]:
    """Return every job with its last change, the latest changed first."""
    inner = versions.alias()
    last = select(func.max(inner.c.number)).where(inner.c.job_id == jobs.c.id).scalar_subquery()
    settled = select(inner.c.settles).where(
        inner.c.job_id == jobs.c.id, inner.c.settles.is_not(None)
    )
    waiting = (
        select(func.count())
        .where(asides.c.job_id == jobs.c.id, asides.c.number.not_in(settled))
        .scalar_subquery()
    )
    query = (
        select(jobs.c.id, jobs.c.file, versions.c.title, versions.c.number, versions.c.at, waiting)
        .select_from(jobs)
        .join(versions, (versions.c.job_id == jobs.c.id) & (versions.c.number == last))
        .order_by(versions.c.at.desc(), jobs.c.id)
    )
    return tuple(Listed(*row) for row in connection.execute(query))


def latest_texts(connection: Connection, job_ids: Sequence[str]) -> Mapping[str, str]:
    """Return the texts of some jobs as they stand, in one query; of one that is not there none."""
    last = (
        select(versions.c.job_id, func.max(versions.c.number).label("number"))
        .where(versions.c.job_id.in_(job_ids))
        .group_by(versions.c.job_id)
        .subquery()
    )
    query = select(versions.c.job_id, versions.c.text).join(
        last, (versions.c.job_id == last.c.job_id) & (versions.c.number == last.c.number)
    )
    return {row.job_id: row.text for row in connection.execute(query)}


def history(connection: Connection, job_id: str) -> tuple[Change, ...]:
    """Return every change of a job, oldest first.

    Raises
    ------
    UnknownJob
        There is no such job.
    """
    query = select(*_LINE).where(versions.c.job_id == job_id).order_by(versions.c.number)
    found = tuple(change_of(row) for row in connection.execute(query))
    if not found:
        raise unknown(job_id)
    return found


def course(connection: Connection, job_id: str) -> list[tuple[int, int | None]]:
    """Return the number of each version, oldest first, and that of the one it repeats.

    That is all that undo asks, and a job may have thousands.

    Raises
    ------
    UnknownJob
        There is no such job.
    """
    columns = select(versions.c.number, versions.c.restores)
    query = columns.where(versions.c.job_id == job_id).order_by(versions.c.number)
    found = [(row.number, row.restores) for row in connection.execute(query)]
    if not found:
        raise unknown(job_id)
    return found


def latest(connection: Connection, job_id: str) -> Version:
    """Return a job as it stands.

    Raises
    ------
    UnknownJob
        There is no such job.
    """
    found = _last(connection, versions.c.job_id == job_id)
    if found is None:
        raise unknown(job_id)
    return found


def version(connection: Connection, job_id: str, number: int) -> Version:
    """Return one version of a job.

    Raises
    ------
    UnknownJob
        There is no such job or version.
    """
    found = _last(connection, (versions.c.job_id == job_id) & (versions.c.number == number))
    if found is None:
        last = latest(connection, job_id).number
        raise UnknownJob(f"{job_id}: found version {number}, expected one from 1 to {last}.")
    return found


def version_at(connection: Connection, job_id: str, moment: datetime) -> Version:
    """Return the last version that was saved at a moment or before.

    Raises
    ------
    UnknownJob
        There is no such job, or it was not there yet.
    """
    found = _last(connection, (versions.c.job_id == job_id) & (versions.c.at <= moment))
    if found is None:
        latest(connection, job_id)
        raise UnknownJob(f"{job_id}: there was no version yet at {moment.isoformat()}.")
    return found


def sent_before(connection: Connection, change: Change) -> Version | None:
    """Return the version that a change has become already, if only its confirmation was lost."""
    return _last(
        connection,
        and_(
            versions.c.job_id == change.job_id,
            versions.c.number > change.base,
            versions.c.base == change.base,
            versions.c.sent == change.sent,
            versions.c.who == change.stamp.who,
            versions.c.why == change.stamp.why,
            versions.c.at == change.stamp.at,
            versions.c.restores.is_not_distinct_from(change.restores),
            versions.c.settles.is_not_distinct_from(change.settles),
        ),
    )


def pulse(connection: Connection, job_id: str) -> Pulse:
    """Return the last numbers of a job, in one query.

    Raises
    ------
    UnknownJob
        There is no such job.
    """
    tops = [
        select(func.max(table.c.number)).where(table.c.job_id == job_id).scalar_subquery()
        for table in (versions, events, asides)
    ]
    top, event, aside = connection.execute(select(*tops)).one()
    if top is None:
        raise unknown(job_id)
    return Pulse(top, event or 0, aside or 0)


def add_job(connection: Connection, job_id: str, file: str) -> bool:
    """Add a job; say no where there is one of that id."""
    if connection.execute(select(jobs.c.id).where(jobs.c.id == job_id)).first():
        return False
    try:
        connection.execute(insert(jobs).values(id=job_id, file=file))
    except IntegrityError:
        # Another program was quicker, between the question and this.
        return False
    return True


def lock_job(connection: Connection, job_id: str) -> None:
    """Let no other connection add to a job before this transaction ends.

    Raises
    ------
    UnknownJob
        There is no such job.
    """
    # SQLite has one writer at a time anyway, and knows no such lock.
    query = select(jobs.c.id).where(jobs.c.id == job_id).with_for_update()
    if connection.execute(query).first() is None:
        raise unknown(job_id)


def add_version(connection: Connection, new: Version) -> None:
    """Add a version; its number must be the next."""
    change = new.change
    row: Mapping[str, Any] = {
        "job_id": change.job_id,
        "number": change.number,
        "text": new.text,
        "title": change.title,
        **stamp_row(change.stamp),
        "base": change.base,
        "sent": change.sent,
        "restores": change.restores,
        "settles": change.settles,
    }
    connection.execute(insert(versions).values(row))


def change_of(row: Row[Any]) -> Change:
    """Return the line of the history that a row holds."""
    return Change(
        job_id=row.job_id,
        number=row.number,
        title=row.title,
        stamp=Stamp(row.who, row.why, row.at),
        base=row.base,
        sent=row.sent,
        restores=row.restores,
        settles=row.settles,
    )


def stamp_row(stamp: Stamp) -> Mapping[str, Any]:
    """Return the columns of a stamp."""
    return {"who": stamp.who, "why": stamp.why, "at": stamp.at}


def unknown(job_id: str) -> UnknownJob:
    """Return the error for a job that is not there."""
    return UnknownJob(f"{job_id}: the store has no job of that id.")


def _last(connection: Connection, which: ColumnElement[bool]) -> Version | None:
    query: Select[Any] = select(versions).where(which).order_by(versions.c.number.desc()).limit(1)
    row = connection.execute(query).first()
    return Version(change_of(row), row.text) if row else None
