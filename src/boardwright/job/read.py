"""A job file read: every error names file, line and field."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from pydantic import ValidationError

from boardwright.core.errors import FieldError, FileError
from boardwright.job.explain import explained, line_of
from boardwright.job.job import Job
from boardwright.job.migrate import migrate
from boardwright.job.tree import MAX_BYTES, Section, grow, plain

KEPT = 64
"""How many texts are kept read: a page, a save and its merge ask for the same few again."""


def read_job(path: Path) -> Job:
    """Return the job of a file.

    Raises
    ------
    BoardwrightError
        The file cannot be read, or what it says cannot be used.
    """
    return parse_job(read_text(path), path.name)


@lru_cache(maxsize=KEPT)
def parse_job(text: str, name: str) -> Job:
    """Return the job that a text holds; ``name`` is what errors call the text.

    Raises
    ------
    BoardwrightError
        The text is no job.
    """
    return job_of(grow(text, name), name)


def job_of(tree: Section, name: str) -> Job:
    """Return the job that a tree says.

    Raises
    ------
    BoardwrightError
        The tree is no job.
    """
    data = plain(tree)
    assert isinstance(data, dict)  # noqa: S101 - a section's plain form is a dict
    try:
        return Job.model_validate(migrate(data))
    except FieldError as error:
        raise error.at(f"{name}, line {line_of(tree, (error.path,))}") from None
    except ValidationError as error:
        raise explained(error, tree, name) from None


def read_text(path: Path) -> str:
    """Return a file's text; a mark of byte order before it is left out.

    Raises
    ------
    FileError
        There is no such file, or it is no text of at most 1 MB.
    """
    try:
        with path.open("rb") as file:
            raw = file.read(MAX_BYTES + 1)
    except FileNotFoundError:
        raise FileError(f"{path}: no such file. `boardwright new` writes a starter.") from None
    except IsADirectoryError:
        raise FileError(f"{path}: found a folder, expected a job file.") from None
    except PermissionError:
        raise FileError(f"{path}: may not be read by you. Change its permissions.") from None
    except (OSError, ValueError) as error:
        raise FileError(f"{path}: cannot be read: {error}.") from None
    if len(raw) > MAX_BYTES:
        raise FileError(f"{path.name}: found over 1 MB, expected a job file of at most 1 MB.")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise FileError(
            f"{path.name}, line {line}: found bytes that are no UTF-8 text, expected a text file."
            " Save it as UTF-8."
        ) from None
