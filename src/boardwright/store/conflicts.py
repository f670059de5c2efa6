"""Texts that could not be merged: set aside, kept, and shown until a later version settles them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, func, insert, select

from boardwright.store.errors import UnknownJob
from boardwright.store.merge import Clash
from boardwright.store.records import Stamp, Version
from boardwright.store.tables import asides, versions
from boardwright.store.texts import Joined, join
from boardwright.store.versions import latest, stamp_row, version


@dataclass(frozen=True, slots=True)
class Aside:
    """A text that was to be saved, and could not."""

    job_id: str
    number: int
    text: str
    stamp: Stamp
    base: int


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two texts of one job, both kept; a save that ``settles`` the aside's number ends it.

    ``theirs`` stands; ``mine`` was set aside. Without a clash of fields, ``reason`` says what else
    keeps them apart.
    """

    mine: Aside
    base: Version
    theirs: Version
    clashes: tuple[Clash, ...]
    reason: str


def set_aside(connection: Connection, new: Aside) -> Aside:
    """Keep a text that could not be merged; the same text sent again is kept once."""
    for known in open_asides(connection, new.job_id):
        if (known.base, known.text) == (new.base, new.text):
            return known
    row = {
        "job_id": new.job_id,
        "number": new.number,
        "text": new.text,
        **stamp_row(new.stamp),
        "base": new.base,
    }
    connection.execute(insert(asides).values(row))
    return new


def next_aside(connection: Connection, job_id: str) -> int:
    """Return the number that the next text set aside will have."""
    query = select(func.max(asides.c.number)).where(asides.c.job_id == job_id)
    return (connection.execute(query).scalar() or 0) + 1


def open_asides(connection: Connection, job_id: str) -> tuple[Aside, ...]:
    """Return what was set aside and not settled since, oldest first."""
    settled = select(versions.c.settles).where(
        versions.c.job_id == job_id, versions.c.settles.is_not(None)
    )
    query = (
        select(asides)
        .where(asides.c.job_id == job_id, asides.c.number.not_in(settled))
        .order_by(asides.c.number)
    )
    return tuple(_aside(row) for row in connection.execute(query))


def open_conflicts(connection: Connection, job_id: str) -> tuple[Conflict, ...]:
    """Return every conflict of a job that is not settled, against the job as it stands.

    Raises
    ------
    UnknownJob
        There is no such job.
    """
    theirs = latest(connection, job_id)
    found: list[Conflict] = []
    for mine in open_asides(connection, job_id):
        base = version(connection, job_id, mine.base)
        found.append(conflict(mine, base, theirs, join(job_id, base.text, mine.text, theirs.text)))
    return tuple(found)


def conflict(mine: Aside, base: Version, theirs: Version, joined: Joined) -> Conflict:
    """Return what keeps two texts apart."""
    reason = joined.reason or "They no longer clash: save the text that was set aside again."
    return Conflict(mine, base, theirs, joined.clashes, reason)


def need_open(connection: Connection, job_id: str, number: int | None) -> None:
    """Refuse to settle what is not open.

    Raises
    ------
    UnknownJob
        No text of that number waits.
    """
    waiting = [aside.number for aside in open_asides(connection, job_id)]
    if number is not None and number not in waiting:
        raise UnknownJob(f"{job_id}: no text set aside under number {number} waits.")


def _aside(row: Row[Any]) -> Aside:
    return Aside(row.job_id, row.number, row.text, Stamp(row.who, row.why, row.at), row.base)
