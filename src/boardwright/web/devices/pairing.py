"""The code that lets a device in: short, short-lived, for one device, and not to be guessed."""

from __future__ import annotations

import hmac
from collections import OrderedDict, deque
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from enum import Enum
from secrets import choice
from threading import Lock

SIGNS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Without 0 and O, 1 and I: what is read in a dark cupboard must not be mistaken."""
LENGTH = 8
LIVES = timedelta(minutes=5)
TRIES = 5
"""Wrong tries before a code is void: with 32 signs to the power of 8, a guess is hopeless."""

WINDOW = timedelta(minutes=10)
TRIES_OF_ONE = 10
TRIES_OF_ALL = 60
"""Tries within the window from one address, and from all together."""
MOST_ADDRESSES = 1000


class Outcome(Enum):
    """What became of a try; the sentences are those that the page shows."""

    LET_IN = "Paired."
    WRONG = "That is not the code. Read it again where the page was started."
    NONE = "No code is open now: make a new one where the page was started."
    TOO_MANY = "Too many tries. Wait ten minutes, then ask for a new code."


@dataclass(frozen=True, slots=True)
class Code:
    """One code, and when it ends."""

    signs: str
    ends: datetime

    @property
    def shown(self) -> str:
        """The code in two halves, as it is read aloud."""
        return f"{self.signs[:4]}-{self.signs[4:]}"


class Pairing:
    """One code at a time. A new one ends the one before."""

    def __init__(self, *, now: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        """Begin without a code."""
        self._now = now
        self._lock = Lock()
        self._code: Code | None = None
        self._wrong = 0
        self._of_all: deque[datetime] = deque()
        self._of_one: OrderedDict[str, deque[datetime]] = OrderedDict()

    def new_code(self) -> Code:
        """Make a code, and end the one before."""
        with self._lock:
            signs = "".join(choice(SIGNS) for _ in range(LENGTH))
            self._code, self._wrong = Code(signs, self._now() + LIVES), 0
            return self._code

    def open_code(self) -> Code | None:
        """Return the code that a device could use now."""
        with self._lock:
            return self._open()

    def attempt(self, typed: str, address: str) -> Outcome:
        """Say whether a device that gives this code is let in; a code lets in one."""
        with self._lock:
            if self._too_many(address):
                return Outcome.TOO_MANY
            code = self._open()
            if code is None:
                return Outcome.NONE
            if not hmac.compare_digest(plain(typed).encode(), code.signs.encode()):
                self._wrong += 1
                if self._wrong >= TRIES:
                    self._code = None
                return Outcome.WRONG
            self._code = None
            return Outcome.LET_IN

    def _open(self) -> Code | None:
        if self._code and self._code.ends <= self._now():
            self._code = None
        return self._code

    def _too_many(self, address: str) -> bool:
        """Count a try, and say whether it is one too many."""
        own = self._of_one.setdefault(address, deque())
        self._of_one.move_to_end(address)
        while len(self._of_one) > MOST_ADDRESSES:
            self._of_one.popitem(last=False)
        now = self._now()
        for tries in (own, self._of_all):
            while tries and tries[0] <= now - WINDOW:
                tries.popleft()
        if len(own) >= TRIES_OF_ONE or len(self._of_all) >= TRIES_OF_ALL:
            return True
        own.append(now)
        self._of_all.append(now)
        return False


def plain(typed: str) -> str:
    """Return a code as it was typed, without what people put between its signs."""
    return "".join(sign for sign in typed.upper() if sign.isascii() and sign.isalnum())[:64]


__all__ = ["LIVES", "Code", "Outcome", "Pairing", "plain"]
