"""The pack handed out: who did it, when, of which design, and what was open then."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from boardwright.core.errors import BoardwrightError
from boardwright.design import Design
from boardwright.documents.pack.pack import build
from boardwright.documents.words.answer import answer
from boardwright.store.events import Event
from boardwright.web.homes.jobs import Jobs
from boardwright.web.homes.taken import on_site

KIND = "issued"
SUBJECT = "pack"


class NotIssued(BoardwrightError):  # noqa: N818 - it is no error of the job's
    """No pack was handed out under that number, or it cannot be made again."""


class IssueRefused(BoardwrightError):  # noqa: N818 - as above
    """The pack cannot be handed out."""


@dataclass(frozen=True, slots=True)
class Issue:
    """One pack handed out; ``digest`` is of its bytes, ``mark`` stands on every page of it.

    It holds the readings up to the event ``seen``, and counts from ``day``.
    """

    number: int
    version: int
    mark: str
    digest: str
    who: str
    at: datetime
    open_points: tuple[str, ...]
    day: date | None = None
    seen: int = 0


def issue(jobs: Jobs, job_id: str, *, version: int, who: str) -> Issue:
    """Hand out the pack of a version: made now, its digest kept with who and when.

    Raises
    ------
    IssueRefused
        A finding says that the work must not go ahead.
    """
    design = jobs.design(job_id, version)
    if design.forbids_work:
        raise IssueRefused("A finding says that the work must not go ahead: no pack is handed out.")
    at, events = jobs.now(), jobs.store.events(job_id)
    day = at.astimezone().date()
    digest = hashlib.sha256(build(design, on_site(events, day))).hexdigest()
    value = {
        "version": version,
        "mark": design.mark,
        "job": design.job_digest,
        "catalogue": design.catalogue.digest,
        "edition": design.edition.digest,
        "sha256": digest,
        "day": day.isoformat(),
        "seen": max((event.number for event in events), default=0),
        "open": list(open_points(design)),
    }
    made = f"issue-{version}-{design.mark}-{int(at.timestamp() * 1000)}"
    got = jobs.store.add_events(job_id, [Event(made, KIND, SUBJECT, value, who, at, "page")])
    return _issue((*got.added, *got.known)[0])


def issues(events: Sequence[Event]) -> tuple[Issue, ...]:
    """Return every pack that was handed out, the last first."""
    found = [_issue(e) for e in events if e.kind == KIND and isinstance(e.value, dict)]
    return tuple(reversed(found))


def again(jobs: Jobs, job_id: str, number: int) -> bytes:
    """Return a pack as it was handed out, made anew from its version.

    Raises
    ------
    NotIssued
        There is none of that number, or it comes out otherwise today.
    """
    events = jobs.store.events(job_id)
    found = next((i for i in issues(events) if i.number == number), None)
    if found is None:
        raise NotIssued("No pack was handed out under that number.")
    known = [event for event in events if event.number <= found.seen]
    made = build(jobs.design(job_id, found.version), on_site(known, found.day))
    if hashlib.sha256(made).hexdigest() != found.digest:
        raise NotIssued(
            "Made today this pack is no longer what was handed out: the program, its catalogue or "
            "your own figures have changed since. The copy that was handed out is the record."
        )
    return made


def open_points(design: Design) -> tuple[str, ...]:
    """Return what is still to be settled, gravest first, as one line each."""
    said = answer(design)
    return tuple(f"{group.subjects}: {group.to_do}" for group in (*said.first, *said.then))


def _issue(event: Event) -> Issue:
    value = event.value
    return Issue(
        number=event.number,
        version=int(value.get("version", 0)),
        mark=str(value.get("mark", "")),
        digest=str(value.get("sha256", "")),
        who=event.who,
        at=event.at,
        open_points=tuple(map(str, value.get("open", ()))),
        day=_day(value.get("day")),
        seen=int(value.get("seen", 0)),
    )


def _day(value: object) -> date | None:
    try:
        return date.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        return None


__all__ = ["Issue", "IssueRefused", "NotIssued", "again", "issue", "issues", "open_points"]
