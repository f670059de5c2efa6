"""A job saved: in an existing file only what changed is written, and never half a file."""

from __future__ import annotations

import os
import tempfile
from importlib.resources import files
from pathlib import Path
from typing import Any

from boardwright.core.errors import FileError
from boardwright.job.emit import pair
from boardwright.job.job import Job
from boardwright.job.patch import Change, patched
from boardwright.job.read import job_of, parse_job, read_text
from boardwright.job.tree import grow

# Defaults are left out of a new file, but not these: they say how the rest is to be read.
ALWAYS = ("schema_version", "edition")


def save_job(job: Job, path: Path) -> None:
    """Write the job to its file; an existing job file keeps its comments, order and quotes.

    Raises
    ------
    BoardwrightError
        The file cannot be written, or holds something other than a job. It is then as before.
    """
    path = path.resolve()
    text = read_text(path) if path.exists() else ""
    new = job_text(job, text, path.name)
    if new != text:
        write_whole(path, new.encode())


def job_text(job: Job, text: str = "", name: str = "job") -> str:
    """Return the text that says the job; of the text it follows, comments and order are kept.

    Raises
    ------
    BoardwrightError
        The text before is no job, or its lines cannot be changed in place.
    """
    return _changed(text, job, name) if text.strip() else _fresh(job)


def starter() -> str:
    """Return a job file to start from, with every field explained."""
    return files("boardwright.job").joinpath("starter.yaml").read_text(encoding="utf-8")


def write_whole(path: Path, content: bytes) -> None:
    """Write a file so that at any moment it holds the old content or the new.

    Raises
    ------
    FileError
        It could not be written; the old content is still there.
    """
    part = ""
    try:
        mode = path.stat().st_mode & 0o777 if path.exists() else 0o644
        handle, part = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(part).chmod(mode)
        Path(part).replace(path)
    except OSError as error:
        if part:
            Path(part).unlink(missing_ok=True)
        reason = error.strerror or error
        raise FileError(f"{path}: cannot be written: {reason}. Nothing was changed.") from None


def _changed(text: str, job: Job, name: str) -> str:
    tree = grow(text, name)
    old = job_of(tree, name)
    if old == job:
        return text
    new = patched(text, tree, Change(old.model_dump(), job.model_dump(), _lean(job)))
    if parse_job(new, name) != job:
        raise FileError(f"{name}: its lines cannot be changed in place. Save under another name.")
    return new


def _fresh(job: Job) -> str:
    lines: list[str] = []
    for key, value in _lean(job).items():
        if isinstance(value, dict | list | tuple):
            lines.append("")
        lines += pair(key, value, 0)
    return "\n".join([*lines, ""])


def _lean(job: Job) -> dict[str, Any]:
    """Return what a file must say: what differs from the defaults, in the model's order."""
    given = job.model_dump(exclude_defaults=True)
    forced = {key: getattr(job, key) for key in ALWAYS}
    return {
        key: given.get(key, forced.get(key))
        for key in type(job).model_fields
        if key in given or key in forced
    }
