"""The jobs that the page shows: a folder's own listing, read and designed when asked for."""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from threading import Lock
from typing import Generic, TypeVar

from boardwright.catalogue.load import load_catalogue
from boardwright.core.errors import BoardwrightError, FileError
from boardwright.design import Design, design
from boardwright.job.job import Job
from boardwright.job.read import parse_job, read_text
from boardwright.standards.load import load_edition

KEPT = 32
"""How many jobs and designs are kept in memory; the one least lately asked for goes first."""

_SUFFIXES = (".yaml", ".yml")

Made = TypeVar("Made")


class UnknownJob(BoardwrightError):  # noqa: N818 - it is no error of the job's
    """No job of the folder goes by that name."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One file of the listing: its job, or why it cannot be read."""

    id: str
    file: str
    job: Job | None
    errors: tuple[str, ...] = ()


class Jobs:
    """A folder of job files, or one file. Files are read afresh, so that an edit shows at once."""

    def __init__(self, place: Path, own_figures: Path | None = None) -> None:
        """Take a folder or a file, and the user's own figures for the edition of each job.

        Raises
        ------
        FileError
            There is neither.
        """
        if not place.exists():
            raise FileError(f"{place}: no such folder or job file.")
        self.place = place
        self._own_figures = own_figures
        self._catalogue = load_catalogue()
        self._read: _Kept[Job] = _Kept()
        self._designed: _Kept[Design] = _Kept()

    def entries(self) -> tuple[Entry, ...]:
        """Return every job of the listing; one that cannot be read says why."""
        return tuple(self._entry(name, path) for name, path in self._files().items())

    def load(self, job_id: str) -> Job:
        """Return a job of the listing.

        Raises
        ------
        UnknownJob
            The listing has no such name: no other path is ever opened.
        BoardwrightError
            The file cannot be read, or what it says cannot be used.
        """
        path = self._files().get(job_id)
        if path is None:
            raise UnknownJob("No job here goes by that name.")
        text = read_text(path)
        key = hashlib.sha256(f"{path.name}\n{text}".encode()).hexdigest()
        return self._read.get(key, lambda: parse_job(text, path.name))

    def design(self, job_id: str) -> Design:
        """Return the design of a job, worked out once for each content of its file.

        Raises
        ------
        BoardwrightError
            As for :meth:`load`, or the job names what the catalogue or no edition has.
        """
        job = self.load(job_id)
        # Own figures are read afresh, as the job is: an edit shows at once.
        edition = load_edition(job.edition, self._own_figures)
        key = hashlib.sha256(f"{edition.digest}\n{job.model_dump_json()}".encode()).hexdigest()
        return self._designed.get(key, lambda: design(job, self._catalogue, edition))

    def _files(self) -> dict[str, Path]:
        if self.place.is_file():
            return {self.place.stem: self.place}
        found: dict[str, Path] = {}
        for path in sorted(self.place.iterdir()):
            if path.suffix in _SUFFIXES and path.is_file():
                # semi.yaml and semi.yml are two jobs: the second keeps its whole name.
                found[path.name if path.stem in found else path.stem] = path
        return found

    def _entry(self, name: str, path: Path) -> Entry:
        try:
            return Entry(name, path.name, self.load(name))
        except BoardwrightError as error:
            return Entry(name, path.name, None, tuple(str(error).splitlines()))


class _Kept(Generic[Made]):
    """What was made, by key. Each key is made once, even when two pages ask at the same moment."""

    def __init__(self) -> None:
        self._made: OrderedDict[str, Made] = OrderedDict()
        self._making: dict[str, Lock] = {}
        self._lock = Lock()

    def get(self, key: str, make: Callable[[], Made]) -> Made:
        with self._lock:
            making = self._making.setdefault(key, Lock())
        with making:
            with self._lock:
                if key in self._made:
                    self._made.move_to_end(key)
                    return self._made[key]
            made = make()
            with self._lock:
                self._made[key] = made
                while len(self._made) > KEPT:
                    gone, _ = self._made.popitem(last=False)
                    self._making.pop(gone, None)
            return made
