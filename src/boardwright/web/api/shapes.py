"""What is asked and answered as JSON."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any

from fastapi import Query
from pydantic import BaseModel, ConfigDict, Field, JsonValue

from boardwright.job.edit import Edit
from boardwright.store.conflicts import Conflict
from boardwright.store.events import Event
from boardwright.store.merge import ABSENT
from boardwright.store.records import Change, Version

LARGEST = 2**31 - 1
"""The largest number that every store keeps."""

Number = Annotated[int, Query(ge=0, le=LARGEST)]
"""A number of a version or an event, in an address; 0 stands before the first."""

MOST_EDITS = 2000
MOST_EVENTS = 500
LONGEST_TEXT = 1_000_000


class Shape(BaseModel):
    """Frozen; an unknown key is an error."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class Fault(Shape):
    """What is wrong, and the sentences that say what would be right."""

    error: str
    details: tuple[str, ...] = ()


class Clashed(Shape):
    """A save that clashed: both texts are kept, and this says where they differ."""

    error: str
    conflict: dict[str, Any]


class EditShape(Shape):
    """One field by its dotted path; null as a value means not known yet."""

    path: str = Field(min_length=1, max_length=300)
    value: JsonValue = None
    assumed: bool = False

    def edit(self) -> Edit:
        """Return the edit it says."""
        return Edit(self.path, self.value, self.assumed)


class Edits(Shape):
    """Fields to set, against the version that their writer had seen."""

    base: int = Field(ge=1, le=2**31 - 1)
    why: str = Field(default="", max_length=400)
    edits: tuple[EditShape, ...] = Field(min_length=1, max_length=MOST_EDITS)


class Text(Shape):
    """A whole job file; ``settles`` names the text set aside that it ends."""

    base: int = Field(ge=1, le=2**31 - 1)
    why: str = Field(default="", max_length=400)
    text: str = Field(max_length=LONGEST_TEXT)
    settles: int | None = Field(default=None, ge=1, le=2**31 - 1)


class Step(Shape):
    """A step back or forward, or to ``number``, from the version that was seen."""

    base: int = Field(ge=1, le=2**31 - 1)
    number: int | None = Field(default=None, ge=1, le=2**31 - 1)


class Begun(Shape):
    """A home to begin: a whole job file."""

    text: str = Field(max_length=LONGEST_TEXT)


class EventShape(Shape):
    """One thing done at the board; the id is made on the device, so it may be sent twice."""

    id: str
    kind: str
    subject: str
    value: JsonValue = None
    at: datetime
    device: str
    seen: int = Field(default=0, ge=0, le=2**31 - 1)

    def event(self, who: str) -> Event:
        """Return the event it says; refuses what the store would not keep."""
        return Event(
            self.id, self.kind, self.subject, self.value, who, self.at, self.device, self.seen
        )


class Events(Shape):
    """A device's queue."""

    events: tuple[EventShape, ...] = Field(min_length=1, max_length=MOST_EVENTS)


def change_json(change: Change) -> dict[str, Any]:
    """Return one line of a history."""
    return {
        "number": change.number,
        "title": change.title,
        "who": change.stamp.who,
        "why": change.stamp.why,
        "at": change.stamp.at.isoformat(),
        "base": change.base,
        "merged": change.merged,
        "restores": change.restores,
        "settles": change.settles,
    }


def saved_json(version: Version) -> dict[str, Any]:
    """Return what became of a save."""
    change = version.change
    return {
        "version": version.number,
        "at": change.stamp.at.isoformat(),
        "who": change.stamp.who,
        "merged": change.merged,
    }


def conflict_json(conflict: Conflict) -> dict[str, Any]:
    """Return two texts that could not be merged: what each said of each field."""
    return {
        "number": conflict.mine.number,
        "who": conflict.mine.stamp.who,
        "at": conflict.mine.stamp.at.isoformat(),
        "base": conflict.base.number,
        "standing": conflict.theirs.number,
        "reason": conflict.reason,
        "clashes": [
            {
                "path": c.path,
                "base": plain_json(c.base),
                "mine": plain_json(c.mine),
                "theirs": plain_json(c.theirs),
            }
            for c in conflict.clashes
        ],
    }


def event_json(event: Event) -> dict[str, Any]:
    """Return one event as the store keeps it."""
    return {
        "number": event.number,
        "id": event.id,
        "kind": event.kind,
        "subject": event.subject,
        "value": event.value,
        "who": event.who,
        "at": event.at.isoformat(),
        "device": event.device,
        "seen": event.seen,
    }


def plain_json(value: object) -> object:
    """Return a value of a job as JSON has it; nothing for what is not there."""
    if value is ABSENT:
        return None
    if isinstance(value, dict):
        return {key: plain_json(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [plain_json(inner) for inner in value]
    return value if isinstance(value, str | int | float | bool | None) else str(value)
