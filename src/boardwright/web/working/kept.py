"""What was made once and is asked for again: kept in memory, the least lately asked for goes."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock
from typing import Generic, TypeVar

KEPT = 32
"""How many of a kind are kept."""

Made = TypeVar("Made")


class Kept(Generic[Made]):
    """What was made, by key. Each key is made once, even when two pages ask at the same moment."""

    def __init__(self) -> None:
        self._made: OrderedDict[str, Made] = OrderedDict()
        self._making: dict[str, Lock] = {}
        self._lock = Lock()

    def get(self, key: str, make: Callable[[], Made]) -> Made:
        """Return what the key stands for; made now if it is not kept."""
        with self._lock:
            making = self._making.setdefault(key, Lock())
        with making:
            with self._lock:
                if key in self._made:
                    self._made.move_to_end(key)
                    return self._made[key]
            try:
                made = make()
            except BaseException:
                # Nothing came of it: who asks again, makes it again.
                with self._lock:
                    self._making.pop(key, None)
                raise
            with self._lock:
                self._made[key] = made
                while len(self._made) > KEPT:
                    gone, _ = self._made.popitem(last=False)
                    self._making.pop(gone, None)
            return made


__all__ = ["KEPT", "Kept"]
