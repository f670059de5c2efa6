"""The store: what the page and the commands ask."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path

from sqlalchemy import Engine

from boardwright.core.errors import FieldError
from boardwright.store import conflicts, events, photos, texts, versions
from boardwright.store.conflicts import Conflict
from boardwright.store.engine import make_engine, reading, writing
from boardwright.store.events import Event, Received
from boardwright.store.photos import Photo
from boardwright.store.place import shown, store_url
from boardwright.store.records import (
    Change,
    Listed,
    Pulse,
    Stamp,
    Version,
    digest,
    need_moment,
)
from boardwright.store.saving import Draft, keep
from boardwright.store.schema import bring_up_to_date
from boardwright.store.undo import Steps, steps

_LONGEST_FILE = 255


def open_store(place: str | Path | None = None) -> Store:
    """Return the store at a place; its tables are made if there are none.

    Parameters
    ----------
    place
        A file, or the URL of a database; nothing means a file in the user's data folder.

    Raises
    ------
    StoreError
        There can be no store, or this program cannot read it.
    """
    engine = make_engine(store_url(place))
    try:
        bring_up_to_date(engine)
    except BaseException:
        engine.dispose()
        raise
    return Store(engine)


class Store:
    """Jobs as versions that are added, never changed; safe to share between threads.

    Every method may raise StoreError: the database failed, and nothing of the call was kept.
    """

    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    @property
    def place(self) -> str:
        """Return the file or address, without a password."""
        return shown(self._engine.url)

    def close(self) -> None:
        """Give the connections back."""
        self._engine.dispose()

    def jobs(self) -> tuple[Listed, ...]:
        """Return every job with its last change, the latest changed first."""
        with reading(self._engine) as connection:
            return versions.listed(connection)

    def history(self, job_id: str) -> tuple[Change, ...]:
        """Return every change of a job, oldest first."""
        with reading(self._engine) as connection:
            return versions.history(connection, job_id)

    def steps(self, job_id: str) -> Steps:
        """Return the versions that undo and redo would repeat."""
        with reading(self._engine) as connection:
            return steps(versions.course(connection, job_id))

    def latest(self, job_id: str) -> Version:
        """Return a job as it stands."""
        with reading(self._engine) as connection:
            return versions.latest(connection, job_id)

    def latest_texts(self, job_ids: Sequence[str]) -> Mapping[str, str]:
        """Return the texts of some jobs as they stand; of one that is not there, none."""
        with reading(self._engine) as connection:
            return versions.latest_texts(connection, job_ids)

    def version(self, job_id: str, number: int) -> Version:
        """Return one version of a job."""
        with reading(self._engine) as connection:
            return versions.version(connection, job_id, number)

    def version_at(self, job_id: str, moment: datetime) -> Version:
        """Return the last version that was saved at a moment or before."""
        need_moment("moment", moment)
        with reading(self._engine) as connection:
            return versions.version_at(connection, job_id, moment)

    def pulse(self, job_id: str) -> Pulse:
        """Return the last numbers of a job; when they differ from those one has, there is news."""
        with reading(self._engine) as connection:
            return versions.pulse(connection, job_id)

    def create(self, text: str, stamp: Stamp, *, file: str = "") -> Version:
        """Add a job; ``file`` is the name it goes by in a folder.

        Raises
        ------
        BoardwrightError
            The text is no job, or the store has a job of its id.
        """
        job = texts.read(text)
        if file != Path(file).name or len(file) > _LONGEST_FILE:
            raise FieldError("file", file, "the name of a file, without a folder")
        new = Version(Change(job.id, 1, job.title, stamp, base=0, sent=digest(text)), text)
        with writing(self._engine) as connection:
            if not versions.add_job(connection, job.id, file):
                raise FieldError("id", job.id, "an id that no job of the store has yet")
            versions.add_version(connection, new)
        return new

    def save(
        self, job_id: str, text: str, *, base: int, stamp: Stamp, settles: int | None = None
    ) -> Version | Conflict:
        """Save a job's text against the version that its writer had read.

        When another came between, both changes are merged where they differ in fields. Where they
        do not, the text is set aside and comes back as a conflict: both are kept. A text that
        changes nothing makes no version, so a save may be sent again.

        Raises
        ------
        BoardwrightError
            The text is no job, or another one; or there is no such job or version.
        """
        return keep(self._engine, Draft(job_id, text, stamp, base, settles=settles))

    def restore(self, job_id: str, number: int, *, base: int, stamp: Stamp) -> Version | Conflict:
        """Save a new version that repeats an old one; what came between is merged, as in a save."""
        text = self.version(job_id, number).text
        return keep(self._engine, Draft(job_id, text, stamp, base, restores=number))

    def conflicts(self, job_id: str) -> tuple[Conflict, ...]:
        """Return every conflict of a job that no version has settled."""
        with reading(self._engine) as connection:
            return conflicts.open_conflicts(connection, job_id)

    def add_events(self, job_id: str, sent: Sequence[Event]) -> Received:
        """Add what was done at the board; what was sent before is kept once."""
        with writing(self._engine) as connection:
            versions.lock_job(connection, job_id)
            return events.add(connection, job_id, sent)

    def add_photo(self, job_id: str, photo: Photo, told: Event) -> Received:
        """Keep a photo with the event that says what it shows; both, or neither."""
        with writing(self._engine) as connection:
            versions.lock_job(connection, job_id)
            photos.add(connection, job_id, photo)
            return events.add(connection, job_id, [told])

    def photo(self, job_id: str, sha256: str) -> Photo:
        """Return a photo of a job by the hash of its content."""
        with reading(self._engine) as connection:
            return photos.photo(connection, job_id, sha256)

    def put_away(self) -> frozenset[str]:
        """Return the jobs that were put away and not taken out again; they are kept as all are."""
        with reading(self._engine) as connection:
            return events.put_away(connection)

    def events(self, job_id: str, after: int = 0) -> tuple[Event, ...]:
        """Return a job's events behind a number, in the order they came."""
        with reading(self._engine) as connection:
            versions.latest(connection, job_id)
            return events.after(connection, job_id, after)
