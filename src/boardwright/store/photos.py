"""Photos by their content: kept once, added and never changed, told of by an event."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from sqlalchemy import Connection, func, insert, select

from boardwright.core.errors import FieldError
from boardwright.store.errors import UnknownJob
from boardwright.store.tables import photos

KIND = "photo"
"""Kind of the events that say what a photo shows."""
MOST_OF_A_JOB = 500


@dataclass(frozen=True, slots=True)
class Photo:
    """One photo; ``kind`` is its media type, as image/jpeg."""

    kind: str
    content: bytes

    @property
    def sha256(self) -> str:
        """Return the name that its content gives it."""
        return hashlib.sha256(self.content).hexdigest()


def add(connection: Connection, job_id: str, new: Photo) -> bool:
    """Keep a photo, and say whether it is new; the job must be locked.

    Raises
    ------
    FieldError
        The job has too many.
    """
    own = photos.c.job_id == job_id
    if connection.execute(select(photos.c.kind).where(own, photos.c.sha256 == new.sha256)).first():
        return False
    there = connection.execute(select(func.count()).where(own)).scalar() or 0
    if there >= MOST_OF_A_JOB:
        raise FieldError("photo", there, f"at most {MOST_OF_A_JOB} photos of a home")
    row = {"job_id": job_id, "sha256": new.sha256, "kind": new.kind, "content": new.content}
    connection.execute(insert(photos).values(row))
    return True


def photo(connection: Connection, job_id: str, sha256: str) -> Photo:
    """Return a photo of a job.

    Raises
    ------
    UnknownJob
        The job has no such photo.
    """
    query = select(photos).where(photos.c.job_id == job_id, photos.c.sha256 == sha256)
    row = connection.execute(query).first()
    if row is None:
        raise UnknownJob(f"{job_id}: there is no such photo.")
    return Photo(row.kind, bytes(row.content))


__all__ = ["KIND", "Photo", "add", "photo"]
