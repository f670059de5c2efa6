"""The homes that the page shows and changes: versions in the store, beside a folder of files."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.load import load_catalogue
from boardwright.core.errors import BoardwrightError
from boardwright.design import Design, Told, design
from boardwright.job.edit import Edit, edited
from boardwright.job.job import Job
from boardwright.job.read import parse_job
from boardwright.standards.edition import Edition
from boardwright.standards.load import load_edition
from boardwright.store.conflicts import Conflict
from boardwright.store.records import Stamp, Version
from boardwright.store.store import Store
from boardwright.web.homes.folder import Beside
from boardwright.web.working.kept import Kept
from boardwright.web.working.work import Work, Works


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the listing: a home with its last change, or a file that cannot be used."""

    id: str
    title: str
    file: str
    changed: datetime | None = None
    conflicts: int = 0
    errors: tuple[str, ...] = ()


class Jobs:
    """Every home of a store. With a folder, its files are read afresh and written after a change.

    Designs are worked out once for each content, edition and own figures.
    """

    def __init__(
        self,
        store: Store,
        folder: Path | None = None,
        own_figures: Path | None = None,
        *,
        now: Callable[[], datetime] = lambda: datetime.now(UTC),
    ) -> None:
        """Take a store, and the folder (or one file) that stands beside it.

        Raises
        ------
        BoardwrightError
            There is no such folder or file, or the store cannot be used.
        """
        self.store = store
        self.now = now
        self.works = Works()
        self._own_figures = own_figures
        self._catalogue = load_catalogue()
        self._read: Kept[Job] = Kept()
        self._designed: Kept[Design] = Kept()
        self._beside = Beside(store, folder, now) if folder else None

    def entries(self) -> tuple[Entry, ...]:
        """Return every home, the latest changed first, and every file that says no home."""
        self._look_beside()
        homes = tuple(
            Entry(home.id, home.title, home.file, home.changed, home.open_conflicts)
            for home in self.store.jobs()
        )
        bad = self._beside.unusable if self._beside else ()
        return homes + tuple(
            Entry(row.file, row.file, row.file, errors=tuple(row.outcome.splitlines()))
            for row in bad
        )

    def version(self, job_id: str, number: int | None = None) -> Version:
        """Return a home's text as it stands, or as it stood under a number.

        Raises
        ------
        UnknownJob
            The store has no such home or version.
        """
        self._look_beside()
        if number is None:
            self._need_usable(job_id)
            return self.store.latest(job_id)
        return self.store.version(job_id, number)

    def load(self, job_id: str, number: int | None = None) -> Job:
        """Return a home as it stands, or as it stood.

        Raises
        ------
        BoardwrightError
            The store has no such home or version.
        """
        text = self.version(job_id, number).text
        return self._read.get(_key(job_id, text), lambda: parse_job(text, job_id))

    def edition(self, job: Job) -> Edition:
        """Return the edition that a job follows, with own figures read afresh.

        Raises
        ------
        BoardwrightError
            There is no such edition.
        """
        return load_edition(job.edition, self._own_figures)

    def design(self, job_id: str, number: int | None = None) -> Design:
        """Return the design of a home as it stands, or as it stood.

        Raises
        ------
        BoardwrightError
            As for :meth:`load`, or the job names what the catalogue or no edition has.
        """
        return self.designed(self.load(job_id, number))

    def designed(self, job: Job, told: Told = lambda _words, _fraction: None) -> Design:
        """Return the design of a job, worked out once for each content.

        Raises
        ------
        BoardwrightError
            The job names what the catalogue or no edition has.
        """
        # Own figures are read afresh, as files are: an edit shows at once.
        edition = load_edition(job.edition, self._own_figures)
        key = _key(edition.digest, job.model_dump_json())
        return self._designed.get(key, lambda: design(job, self._catalogue, edition, told=told))

    def begin_design(self, job_id: str, edits: Sequence[Edit] = ()) -> Work:
        """Begin to work out a home as it stands, or with fields set and nothing saved.

        Raises
        ------
        BoardwrightError
            The store has no such home, or the edits make no job.
        """
        job = self.variant(job_id, edits) if edits else self.load(job_id)
        name = _key(job.model_dump_json())[:16]
        return self.works.begin(name, lambda told: self.designed(job, told))

    @property
    def catalogue(self) -> Catalogue:
        """Return the devices, enclosures and appliances that homes are designed with."""
        return self._catalogue

    def own_figures_text(self) -> str:
        """Return the own figures as they stand, so that what rests on them can be told apart."""
        if self._own_figures is None or not self._own_figures.is_file():
            return ""
        return self._own_figures.read_text(encoding="utf-8", errors="replace")

    def variant(self, job_id: str, edits: Sequence[Edit], number: int | None = None) -> Job:
        """Return a home with fields set, and nothing saved.

        Raises
        ------
        BoardwrightError
            The store has no such home, or the edits make no job.
        """
        return parse_job(edited(self.version(job_id, number).text, edits, job_id), job_id)

    def create(self, text: str, stamp: Stamp) -> Version:
        """Add a home.

        Raises
        ------
        BoardwrightError
            The text is no job, there is no edition of that name, or there is a home of its id.
        """
        self._need_edition(parse_job(text, "job"))
        kept = self.store.create(text, stamp)
        self._write_beside(kept.change.job_id)
        return kept

    def change(
        self, job_id: str, edits: Sequence[Edit], *, base: int, stamp: Stamp
    ) -> Version | Conflict:
        """Set fields of a home against the version that their writer had seen.

        Raises
        ------
        BoardwrightError
            There is no such home or version, or the edits make no job.
        """
        return self.save(
            job_id, edited(self.version(job_id, base).text, edits, job_id), base=base, stamp=stamp
        )

    def save(
        self, job_id: str, text: str, *, base: int, stamp: Stamp, settles: int | None = None
    ) -> Version | Conflict:
        """Save a home's whole text against the version that its writer had seen.

        Raises
        ------
        BoardwrightError
            The text is no job, or there is no such home, version or edition.
        """
        self._need_edition(parse_job(text, job_id))
        kept = self.store.save(job_id, text, base=base, stamp=stamp, settles=settles)
        self._write_beside(job_id)
        return kept

    def restore(self, job_id: str, number: int, *, base: int, stamp: Stamp) -> Version | Conflict:
        """Repeat an old version as a new one.

        Raises
        ------
        BoardwrightError
            There is no such home or version.
        """
        kept = self.store.restore(job_id, number, base=base, stamp=stamp)
        self._write_beside(job_id)
        return kept

    def _need_edition(self, job: Job) -> None:
        """Refuse a home that no page could show afterwards, the one to mend it included."""
        load_edition(job.edition)

    def _look_beside(self) -> None:
        if self._beside:
            self._beside.look()

    def _need_usable(self, job_id: str) -> None:
        """Refuse a file that says no home by what is wrong in it, not by its absence."""
        for row in self._beside.unusable if self._beside else ():
            if job_id in (row.file, Path(row.file).stem):
                raise BoardwrightError(row.outcome)

    def _write_beside(self, job_id: str) -> None:
        if self._beside:
            self._beside.write(job_id)


def _key(*parts: str) -> str:
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


__all__ = ["Entry", "Jobs"]
