"""A folder of job files taken into the store, and written back with its comments kept."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from pathlib import Path

from boardwright.core.errors import BoardwrightError, FileError
from boardwright.job.read import parse_job, read_text
from boardwright.job.write import write_whole
from boardwright.store.conflicts import Conflict
from boardwright.store.events import Event
from boardwright.store.records import Stamp, Version
from boardwright.store.store import Store

SUFFIXES = (".yaml", ".yml")
KIND = "file"
"""Kind of the events that say which version a file held when it and the store last agreed."""


@dataclass(frozen=True, slots=True)
class Row:
    """What became of one file: ``job_id`` is empty where it holds no job."""

    file: str
    job_id: str
    outcome: str
    conflict: Conflict | None = None


def open_folder(store: Store, folder: Path, stamp: Stamp, *, only: str = "") -> tuple[Row, ...]:
    """Take in every job file of a folder: new jobs, and what was changed in known ones.

    ``only`` names the one file that counts.

    A file whose change is merged with others' gets the merged text at once. One that cannot be
    read, or clashes, is left as it is and says why.

    Raises
    ------
    BoardwrightError
        There is no such folder, or the store cannot be used.
    """
    sync = _Sync(store, folder, stamp)
    seen: dict[str, str] = {}
    return tuple(sync.taken_in(path, seen) for path in sync.paths() if only in ("", path.name))


def write_folder(
    store: Store, folder: Path, stamp: Stamp, *, jobs: Collection[str] | None = None
) -> tuple[Row, ...]:
    """Write every job as it stands to its file; a file with changes of its own is left.

    ``jobs`` are the ids of those that count; without them all do.

    Raises
    ------
    BoardwrightError
        There is no such folder, a file cannot be written, or the store cannot be used.
    """
    sync = _Sync(store, folder, stamp)
    names: set[str] = set()
    return tuple(
        sync.given_out(job.id, job.file, names)
        for job in reversed(store.jobs())
        if jobs is None or job.id in jobs
    )


class _Sync:
    """One folder against the store."""

    def __init__(self, store: Store, folder: Path, stamp: Stamp) -> None:
        if not folder.is_dir():
            raise FileError(f"{folder}: no such folder.")
        self._store = store
        self._folder = folder.resolve()
        self._stamp = stamp
        self._known = {job.id for job in store.jobs()}
        digest = hashlib.sha256(str(self._folder).encode()).hexdigest()
        self._device = f"folder-{digest[:16]}"

    def paths(self) -> Iterator[Path]:
        """Return the job files, by name."""
        found = (path for path in sorted(self._folder.iterdir()) if path.suffix in SUFFIXES)
        return (path for path in found if path.is_file() and not path.name.startswith("."))

    def taken_in(self, path: Path, seen: dict[str, str]) -> Row:
        """Take one file in; ``seen`` has the file of each id so far."""
        try:
            text = read_text(path)
            job_id = parse_job(text, path.name).id
        except BoardwrightError as error:
            return Row(path.name, "", str(error))
        if job_id in seen:
            return Row(path.name, job_id, f"left: its id stands in {seen[job_id]} too")
        seen[job_id] = path.name
        if job_id not in self._known:
            self._known.add(job_id)
            self._agree(path.name, self._store.create(text, self._stamp, file=path.name))
            return Row(path.name, job_id, "new")
        return self._changed(path, job_id, text)

    def given_out(self, job_id: str, file: str, names: set[str]) -> Row:
        """Write one job; ``names`` are the files written so far."""
        known = self._agreed(job_id)
        name = known[0] if known else file or f"{job_id}.yaml"
        name = f"{job_id}.yaml" if name in names else name
        names.add(name)
        latest = self._store.latest(job_id)
        path = self._folder / name
        text = read_text(path) if path.exists() else ""
        if text == latest.text:
            self._agree(name, latest)
            return Row(name, job_id, "same")
        if text and (known is None or text != self._store.version(job_id, known[1]).text):
            return Row(name, job_id, "left: the file has changes of its own. Open the folder first")
        write_whole(path, latest.text.encode())
        self._agree(name, latest)
        return Row(name, job_id, "written")

    def _changed(self, path: Path, job_id: str, text: str) -> Row:
        known = self._agreed(job_id)
        # A file that was never seen here is taken for a change of the first version.
        base = known[1] if known else 1
        kept = self._store.save(job_id, text, base=base, stamp=self._stamp)
        if isinstance(kept, Conflict):
            return Row(path.name, job_id, f"conflict, both kept: {kept.reason}", kept)
        if kept.text == text:
            changed = known is None or kept.number != known[1]
            self._agree(path.name, kept)
            return Row(path.name, job_id, "saved" if changed else "same")
        if read_text(path) == text:
            write_whole(path, kept.text.encode())
            self._agree(path.name, kept)
        return Row(path.name, job_id, "merged")

    def _agreed(self, job_id: str) -> tuple[str, int] | None:
        """Return the file and version that last agreed in this folder."""
        found = [
            (event.subject, int(event.value["version"]))
            for event in self._store.events(job_id)
            if event.kind == KIND and event.device == self._device
        ]
        return found[-1] if found else None

    def _agree(self, name: str, version: Version) -> None:
        if self._agreed(version.change.job_id) == (name, version.number):
            return
        digest = hashlib.sha256(name.encode()).hexdigest()
        event = Event(
            id=f"{self._device}-{version.number}-{digest[:8]}",
            kind=KIND,
            subject=name,
            value={"version": version.number},
            who=self._stamp.who,
            at=self._stamp.at,
            device=self._device,
        )
        self._store.add_events(version.change.job_id, [event])
