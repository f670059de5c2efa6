"""Aftercare: what falls due in a home once its pack was handed out, and what was handed out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from boardwright.design import Design
from boardwright.documents.pack.householder import householder
from boardwright.documents.words.inspection import long_date, next_inspection
from boardwright.documents.words.labels import has_rcd, test_months
from boardwright.store.events import Event
from boardwright.web.homes.issues import issues
from boardwright.web.views.papers import Issued, issued_rows


@dataclass(frozen=True, slots=True)
class Due:
    """One thing that falls due: what, how often, the next day if it can be counted."""

    what: str
    often: str
    next: str


@dataclass(frozen=True, slots=True)
class AftercareView:
    """All that the page shows."""

    answer: str
    due: tuple[Due, ...]
    press: tuple[str, ...]
    issued: tuple[Issued, ...]


def aftercare_view(design: Design, events: Sequence[Event], now: datetime) -> AftercareView:
    """Return what falls due, counted from the day the last pack was handed out."""
    found = issues(events)
    since = found[0].at if found else None
    due = tuple(_due(design, since, now))
    answer = "Nothing is counted until the pack is issued."
    if since is not None and due and due[0].next:
        answer = f"Next: {due[0].what.lower()}, {due[0].next}."
    return AftercareView(answer, due, tuple(householder(design)["press"]), issued_rows(events))


def _due(design: Design, since: datetime | None, now: datetime) -> Iterator[Due]:
    months = test_months(design)
    day = _next(since, months, now) if since else ""
    if has_rcd(design):
        yield Due("Press each test button", _often(months), day)
    if design.chosen.spd.candidate is not None:
        yield Due("Look at the window of the surge protection", "on the same day", day)
    found = next_inspection(design, since.astimezone().date() if since else None)
    often = f"{found.usual} after the work" if found.usual else "as the label at the board says"
    yield Due("Inspection and test of the whole", often, found.day)


def _often(months: int) -> str:
    return f"every {months} months"


def _next(since: datetime, months: int, now: datetime) -> str:
    """Return the first day of so many months after, and again, that is not past."""
    count = 1
    while True:
        total = since.month - 1 + count * months
        year, month = since.year + total // 12, total % 12 + 1
        day = min(since.day, 28)
        then = since.replace(year=year, month=month, day=day)
        if then >= now:
            return long_date(then.date())
        count += 1
