"""The folder of job files beside the store: looked at before a page, written after a change."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from threading import Lock

from boardwright.core.errors import FileError
from boardwright.store.folder import SUFFIXES, Row, open_folder, write_folder
from boardwright.store.records import Stamp
from boardwright.store.store import Store

WHO = "the job file"
"""Who changed what was changed in a file: the file does not say."""


class Beside:
    """A folder, or one file of it, kept in step with a store."""

    def __init__(self, store: Store, place: Path, now: Callable[[], datetime]) -> None:
        """Take the files in.

        Raises
        ------
        BoardwrightError
            There is no such folder or file, or the store cannot be used.
        """
        if not place.exists():
            raise FileError(f"{place}: no such folder or job file.")
        self._store = store
        self._now = now
        self._folder = place if place.is_dir() else place.parent
        self._only = "" if place.is_dir() else place.name
        self._lock = Lock()
        self._seen: object = None
        self.unusable: tuple[Row, ...] = ()
        self.look()

    def look(self) -> None:
        """Take in what was changed in the files since the last look."""
        with self._lock:
            now = self._state()
            if now == self._seen:
                return
            stamp = Stamp(WHO, "changed in the file", self._now())
            rows = open_folder(self._store, self._folder, stamp, only=self._only)
            self.unusable = tuple(row for row in rows if not row.job_id)
            self._seen = self._state()

    def write(self, job_id: str) -> None:
        """Write a home as it stands in the store to its file."""
        with self._lock:
            stamp = Stamp(WHO, "written to the file", self._now())
            write_folder(self._store, self._folder, stamp, jobs=(job_id,))
            self._seen = self._state()

    def _state(self) -> object:
        """Return what differs when any job file was touched; it is asked at each page."""
        try:
            with os.scandir(self._folder) as found:
                files = (file for file in found if file.name.endswith(self._only or SUFFIXES))
                return sorted(filter(None, map(_touched, files)))
        except OSError:
            # Whoever opens the folder then says what is wrong with it.
            return None


def _touched(file: os.DirEntry[str]) -> tuple[str, int, int] | None:
    try:
        state = file.stat()
    except OSError:
        # Gone since it was listed: editors write beside a file, and put that in its place.
        return None
    return file.name, state.st_mtime_ns, state.st_size


__all__ = ["Beside"]
