"""What the store keeps and gives, as frozen values."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime

from boardwright.core.errors import FieldError

LONGEST_WHO = 80
LONGEST_WHY = 400


@dataclass(frozen=True, slots=True)
class Stamp:
    """Who did something, why, and when; the moment is the caller's, the store has no clock."""

    who: str
    why: str
    at: datetime

    def __post_init__(self) -> None:
        need_text("who", self.who, LONGEST_WHO)
        need_text("why", self.why, LONGEST_WHY)
        need_moment("at", self.at)


@dataclass(frozen=True, slots=True)
class Change:
    """One line of a job's history.

    ``base`` is the version that its writer had read, ``sent`` the SHA-256 of the text as it was
    sent; ``restores`` the version it repeats; ``settles`` the conflict it puts an end to.
    """

    job_id: str
    number: int
    title: str
    stamp: Stamp
    base: int
    sent: str
    restores: int | None = None
    settles: int | None = None

    @property
    def merged(self) -> bool:
        """Say whether others had saved between the reading and this."""
        return self.base < self.number - 1


@dataclass(frozen=True, slots=True)
class Version:
    """A job as it once stood: the text of its file, comments kept."""

    change: Change
    text: str

    @property
    def number(self) -> int:
        """Return the number that the version is asked for by."""
        return self.change.number


@dataclass(frozen=True, slots=True)
class Listed:
    """A job in the list, as its last version names it; ``changed`` is when that was saved."""

    id: str
    file: str
    title: str
    number: int
    changed: datetime
    open_conflicts: int


@dataclass(frozen=True, slots=True)
class Pulse:
    """The last number of each kind; when it differs from what one has, there is news."""

    version: int
    event: int
    aside: int


def digest(text: str) -> str:
    """Return the SHA-256 of a text."""
    return hashlib.sha256(text.encode()).hexdigest()


def need_text(path: str, text: str, longest: int) -> None:
    """Refuse a text that is empty, too long, or holds what no line of a history may.

    Raises
    ------
    FieldError
        The text is refused.
    """
    if not text.strip() or len(text) > longest or not text.isprintable():
        raise FieldError(path, text, f"one line of 1 to {longest} signs")


def need_moment(path: str, moment: datetime) -> None:
    """Refuse a moment that would mean another one elsewhere, or none that a calendar holds.

    Raises
    ------
    FieldError
        The moment names no time zone, or is of no year that a clock shows.
    """
    # A clock that lost its battery begins at 1970.
    if moment.utcoffset() is None or not 1970 <= moment.year < 3000:  # noqa: PLR2004 - years
        expected = "a moment of the years 1970 to 2999 with its time zone"
        raise FieldError(path, moment.isoformat(), expected)
