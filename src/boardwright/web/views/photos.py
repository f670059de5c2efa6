"""Photos of one thing, as they hang beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from boardwright.store.events import Event
from boardwright.store.photos import KIND


@dataclass(frozen=True, slots=True)
class Shot:
    """One photo: its name in the store, what it says, when it was taken."""

    sha256: str
    says: str
    at: str


def photos_of(events: Sequence[Event], subject: str) -> tuple[Shot, ...]:
    """Return the photos of a subject, the oldest first; a picture sent twice hangs once."""
    found: dict[str, Shot] = {}
    for event in events:
        if event.kind == KIND and event.subject == subject and isinstance(event.value, dict):
            name = str(event.value.get("sha256", ""))
            said = str(event.value.get("says", ""))
            found.setdefault(name, Shot(name, said, f"{event.at.astimezone():%d %b, %H:%M}"))
    return tuple(found.values())


__all__ = ["Shot", "photos_of"]
