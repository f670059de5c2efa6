"""What was done at the board: ticks, readings, photos; added, never changed.

A phone may send its queue twice, or late: an event's id is made where it was entered, and stored
once. ``seen`` is the last event that the device knew of then, so that of two values for one
subject the store can tell a correction from a disagreement.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, func, insert, select

from boardwright.core.errors import FieldError
from boardwright.store.records import LONGEST_WHO, need_moment, need_text
from boardwright.store.tables import events

MAX_VALUE_BYTES = 64_000
"""Of an event's value as JSON; a photo's own bytes are kept elsewhere."""
LONGEST_SUBJECT = 400
AWAY = "away"
"""Kind of the events that put a job away, or take it out again."""

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.:-]{0,63}")
_KIND = re.compile(r"[a-z][a-z0-9_-]{0,39}")


@dataclass(frozen=True, slots=True)
class Event:
    """One thing done or read, as the device that it was entered on tells it.

    ``value`` is any value of JSON; ``number`` is the store's own, 0 before it is kept.
    """

    id: str
    kind: str
    subject: str
    value: Any
    who: str
    at: datetime
    device: str
    seen: int = 0
    number: int = 0

    def __post_init__(self) -> None:
        _need(_ID, "event.id", self.id, "1 to 64 letters, figures, '-', '_', '.' or ':'")
        _need(_ID, "event.device", self.device, "1 to 64 letters, figures, '-', '_', '.' or ':'")
        _need(_KIND, "event.kind", self.kind, "a word of small letters, as in 'reading'")
        need_text("event.subject", self.subject, LONGEST_SUBJECT)
        need_text("event.who", self.who, LONGEST_WHO)
        need_moment("event.at", self.at)
        as_json(self.value)


@dataclass(frozen=True, slots=True)
class Received:
    """What became of events that were sent: ``clashing`` have the id of another that is kept."""

    added: tuple[Event, ...]
    known: tuple[Event, ...]
    clashing: tuple[Event, ...]


def as_json(value: object) -> str:
    """Return a value as JSON, the same text for the same value.

    Raises
    ------
    FieldError
        The value is none of JSON, or too long.
    """
    try:
        text = json.dumps(value, sort_keys=True, allow_nan=False, separators=(",", ":"))
        if "\\ud" in text:
            # Half a sign is no text: no answer could say it.
            json.dumps(value, ensure_ascii=False).encode()
    except (TypeError, ValueError, RecursionError):
        raise FieldError("event.value", value, "text, numbers, lists and sections") from None
    if len(text) > MAX_VALUE_BYTES:
        raise FieldError("event.value", text, f"at most {MAX_VALUE_BYTES} signs as JSON")
    return text


def add(connection: Connection, job_id: str, sent: Sequence[Event]) -> Received:
    """Add those events that are not kept yet; the job must be locked."""
    known = _known(connection, job_id, [event.id for event in sent])
    number = _last_number(connection, job_id)
    groups: dict[str, list[Event]] = {"added": [], "known": [], "clashing": []}
    for event in sent:
        row = {**_columns(event), "job_id": job_id, "number": number + 1}
        kept = known.get(event.id)
        if kept is not None:
            groups["known" if _same(kept, event) else "clashing"].append(event)
            continue
        connection.execute(insert(events).values(row))
        number += 1
        known[event.id] = replace(event, number=number)
        groups["added"].append(known[event.id])
    return Received(*(tuple(group) for group in groups.values()))


def after(connection: Connection, job_id: str, number: int = 0) -> tuple[Event, ...]:
    """Return a job's events behind a number, in the order the store got them."""
    query = (
        select(events)
        .where(events.c.job_id == job_id, events.c.number > number)
        .order_by(events.c.number)
    )
    return tuple(_event(row) for row in connection.execute(query))


def put_away(connection: Connection) -> frozenset[str]:
    """Return the jobs whose last word on it is that they are put away, in one query."""
    last = (
        select(events.c.job_id, func.max(events.c.number).label("number"))
        .where(events.c.kind == AWAY)
        .group_by(events.c.job_id)
        .subquery()
    )
    query = select(events.c.job_id).join(
        last, (events.c.job_id == last.c.job_id) & (events.c.number == last.c.number)
    )
    return frozenset(
        connection.execute(query.where(events.c.value == as_json(value=True))).scalars()
    )


def standing(kept: Iterable[Event]) -> Mapping[tuple[str, str], tuple[Event, ...]]:
    """Return what stands for each kind and subject.

    An event gives way to a later one of its own device, or of one that had seen it. Where several
    stand, devices wrote without knowing of each other: they agree if their values do.
    """
    found: dict[tuple[str, str], tuple[Event, ...]] = {}
    for event in sorted(kept, key=lambda event: event.number):
        key = (event.kind, event.subject)
        rest = tuple(
            one
            for one in found.get(key, ())
            if one.device != event.device and one.number > event.seen
        )
        found[key] = (*rest, event)
    return found


def _known(connection: Connection, job_id: str, ids: Sequence[str]) -> dict[str, Event]:
    found: dict[str, Event] = {}
    # In parts, for a database takes only so many values in one query.
    for start in range(0, len(ids), 500):
        part = ids[start : start + 500]
        query = select(events).where(events.c.job_id == job_id, events.c.id.in_(part))
        found |= {row.id: _event(row) for row in connection.execute(query)}
    return found


def _last_number(connection: Connection, job_id: str) -> int:
    query = select(func.max(events.c.number)).where(events.c.job_id == job_id)
    return connection.execute(query).scalar() or 0


def _same(kept: Event, sent: Event) -> bool:
    return _columns(kept) == _columns(sent)


def _columns(event: Event) -> dict[str, Any]:
    return {
        "id": event.id,
        "kind": event.kind,
        "subject": event.subject,
        "value": as_json(event.value),
        "who": event.who,
        "at": event.at,
        "device": event.device,
        "seen": event.seen,
    }


def _event(row: Row[Any]) -> Event:
    return Event(
        id=row.id,
        kind=row.kind,
        subject=row.subject,
        value=json.loads(row.value),
        who=row.who,
        at=row.at,
        device=row.device,
        seen=row.seen,
        number=row.number,
    )


def _need(pattern: re.Pattern[str], path: str, text: str, expected: str) -> None:
    if not pattern.fullmatch(text):
        raise FieldError(path, text, expected)
