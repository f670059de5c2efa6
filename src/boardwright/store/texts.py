"""Two writers' texts of one job brought together, with the comments of both."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from boardwright.core.errors import BoardwrightError, FieldError, FileError
from boardwright.job.job import Job
from boardwright.job.read import parse_job
from boardwright.job.write import job_text
from boardwright.store.merge import Clash, merge

KEPT = 32
"""How many jobs are kept read: a save asks for the same few texts again and again."""


@dataclass(frozen=True, slots=True)
class Joined:
    """The text that came of two, or why none did."""

    text: str = ""
    clashes: tuple[Clash, ...] = ()
    reason: str = ""

    @property
    def clean(self) -> bool:
        """Say whether the text may be kept."""
        return not self.reason


def read(text: str, job_id: str = "") -> Job:
    """Return the job of a text that is to be kept; of the given id, if there is one already.

    Raises
    ------
    BoardwrightError
        The text is no job, or another one.
    """
    job = _parsed(text, job_id or "job")
    if job_id and job.id != job_id:
        remedy = "An id is given once: save this as a job of its own."
        raise FieldError("id", job.id, job_id, remedy=remedy)
    return job


def join(job_id: str, base: str, mine: str, theirs: str) -> Joined:
    """Return the text of a job that has the changes of both since the base.

    Raises
    ------
    BoardwrightError
        One of the three is no job.
    """
    if mine in (base, theirs):
        return Joined(theirs)
    if theirs == base:
        return Joined(mine)
    before, ours, others = (read(text, job_id) for text in (base, mine, theirs))
    merged = merge(_said(before), _said(ours), _said(others))
    if merged.clashes:
        paths = ", ".join(clash.path for clash in merged.clashes)
        return Joined(clashes=merged.clashes, reason=f"Both changed {paths}.")
    try:
        job = Job.model_validate(merged.value)
    except ValueError as error:
        return Joined(reason=f"Both changes together make no job: {_first_line(error)}.")
    return _written(job, base, (mine, ours), (theirs, others))


def _written(job: Job, base: str, mine: tuple[str, Job], theirs: tuple[str, Job]) -> Joined:
    """Write the job into the text of the side that changed more than fields.

    Where one side's text is the base with its fields changed, all its comments are the base's;
    so the other side's text has every comment that there is.
    """
    for plain_side, rich_side in ((mine, theirs), (theirs, mine)):
        if _rewritten(plain_side[1], base) == plain_side[0]:
            text = _rewritten(job, rich_side[0])
            if text is not None:
                return Joined(text)
    return Joined(reason="Both changed the file's comments or order.")


def _rewritten(job: Job, text: str) -> str | None:
    try:
        return job_text(job, text)
    except BoardwrightError:
        # Some lines cannot be changed in place; then the side's text counts as its own words.
        return None


def _said(job: Job) -> dict[str, Any]:
    """Return what the job says beyond the defaults, so that an absent field is an absent key."""
    said = job.model_dump(exclude_defaults=True)
    return {**said, "schema_version": job.schema_version}


@lru_cache(maxsize=KEPT)
def _parsed(text: str, name: str) -> Job:
    try:
        text.encode()
    except UnicodeEncodeError:
        raise FileError(f"{name}: found signs that no file can hold, expected a text.") from None
    return parse_job(text, name)


def _first_line(error: ValueError) -> str:
    from pydantic import ValidationError

    if isinstance(error, ValidationError):
        return str(error.errors()[0]["msg"]).rstrip(".")
    return str(error).splitlines()[0].rstrip(".")
