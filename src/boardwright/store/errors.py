"""What the store says when it cannot keep or give.

::

    BoardwrightError
    └── StoreError            the store cannot be reached, read or written
        ├── PlaceError        the place given is no place for a store
        ├── SchemaError       the tables are of another program, or of a newer one
        └── UnknownJob        the store has no such job, version or conflict
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from boardwright.core.errors import BoardwrightError

_LONGEST_REASON = 200


class StoreError(BoardwrightError):
    """The store cannot be reached, read or written."""


class PlaceError(StoreError):
    """The place given is no place for a store."""


class SchemaError(StoreError):
    """The tables are of another program, or of a newer one."""


class UnknownJob(StoreError):  # noqa: N818 - nothing is broken: there is just no such thing
    """The store has no such job, version or conflict."""


_PLAIN_WORDS = {
    "readonly database": "may not be written. Change the permissions of the file and its folder",
    "unable to open database": "cannot be opened. Check the folder and its permissions",
    "database is locked": "is held by another program. Nothing was saved; try again",
    "not a database": "is no SQLite file. Nothing was changed",
    "malformed": "is damaged. Take the last copy of it",
    "disk is full": "has no room left: the disk is full. Nothing was saved",
    "disk i/o error": "cannot be read or written: the disk fails",
    "refused": "does not answer: no server listens there. Start it, or check host and port",
    "password authentication": "refuses the name or the password",
    "no password supplied": "asks for a password, and none was given",
    "resolve": "cannot be found: no machine has that name",
    "translate host": "cannot be found: no machine has that name",
    "timeout": "does not answer in time",
}


@contextmanager
def told(place: str) -> Iterator[None]:
    """Turn what the database raises into one sentence about the place.

    Raises
    ------
    StoreError
        The database failed.
    """
    from sqlalchemy.exc import DBAPIError
    from sqlalchemy.exc import TimeoutError as PoolTimeout

    try:
        yield
    except DBAPIError as error:
        raise StoreError(f"{place}: {_reason(str(error.orig))}.") from error
    except PoolTimeout:
        raise StoreError(f"{place}: every connection is in use. Try again.") from None


def _reason(said: str) -> str:
    low = said.lower()
    known = next((words for key, words in _PLAIN_WORDS.items() if key in low), "")
    first = said.strip().splitlines()[0][:_LONGEST_REASON] if said.strip() else "no reason given"
    return known or f"the database says: {first.rstrip('.')}"
