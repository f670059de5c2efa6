"""The history of a home: who changed what, when and why; and what differs between two versions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from boardwright.documents.words.figures import NO_BREAK
from boardwright.job.differ import Difference, differences, field_words
from boardwright.job.job import Job
from boardwright.store.conflicts import Conflict
from boardwright.store.merge import ABSENT, Clash
from boardwright.store.records import Change
from boardwright.store.undo import Steps
from boardwright.web.look.moments import moment

_SIGNS = {"ohm": "Ω", "megohm": "MΩ"}

SHOWN = 100
"""Versions on one page of the history."""


@dataclass(frozen=True, slots=True)
class Line:
    """One version in the list."""

    number: int
    when: str
    who: str
    why: str
    notes: tuple[str, ...]
    stands: bool


@dataclass(frozen=True, slots=True)
class HistoryView:
    """The versions of a home, the latest first."""

    answer: str
    lines: tuple[Line, ...]
    version: int
    before: int
    steps: Steps
    conflicts: int


@dataclass(frozen=True, slots=True)
class Row:
    """One field that differs, as it is read."""

    place: str
    what: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class ChangedView:
    """What differs between two versions."""

    answer: str
    one: Line
    other: Line
    rows: tuple[Row, ...]
    version: int


@dataclass(frozen=True, slots=True)
class Choice:
    """One field that two people changed: what it said, and what each made of it."""

    path: str
    place: str
    what: str
    base: str
    mine: str
    theirs: str


@dataclass(frozen=True, slots=True)
class Clashing:
    """One text that was set aside, beside the one that stands."""

    number: int
    reason: str
    mine: str
    theirs: str
    choices: tuple[Choice, ...]
    by_field: bool
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class VersionsView:
    """The page on which somebody chooses."""

    answer: str
    version: int
    clashing: tuple[Clashing, ...]


def history_view(
    changes: Sequence[Change], steps: Steps, conflicts: int, before: int = 0
) -> HistoryView:
    """Return a page of the history, those before a version where one is named."""
    last = changes[-1].number
    shown = [change for change in reversed(changes) if not before or change.number < before]
    lines = tuple(line(change, last) for change in shown[:SHOWN])
    more = lines[-1].number if len(shown) > SHOWN else 0
    count = len(changes)
    answer = (
        "One version, as it was begun." if count == 1 else f"{count} versions. None is ever lost."
    )
    return HistoryView(answer, lines, last, more, steps, conflicts)


def changed_view(
    changes: Sequence[Change], one: int, other: int, jobs: tuple[Job, Job]
) -> ChangedView:
    """Return what differs between two versions, in words."""
    rows = rows_of(*jobs)
    last = changes[-1].number
    said = (
        "Nothing differs"
        if not rows
        else "One thing differs"
        if len(rows) == 1
        else f"{len(rows)} things differ"
    )
    return ChangedView(
        f"{said} between version {one} and version {other}.",
        line(changes[one - 1], last),
        line(changes[other - 1], last),
        rows,
        last,
    )


def versions_view(
    version: int, conflicts: Sequence[Conflict], texts: Sequence[tuple[Job, Job]]
) -> VersionsView:
    """Return what waits for a choice; ``texts`` are the two jobs of each conflict."""
    count = len(conflicts)
    answer = "Nothing waits for a choice." if not count else "Two versions: choose. Both are kept."
    pairs = zip(conflicts, texts, strict=True)
    return VersionsView(answer, version, tuple(_clashing(each, *jobs) for each, jobs in pairs))


def line(change: Change, last: int) -> Line:
    """Return one version as the list shows it."""
    notes = []
    if change.restores:
        notes.append(f"Repeats version {change.restores}.")
    if change.settles:
        notes.append("Ends a choice between two versions.")
    if change.merged:
        notes.append(f"Merged: it was written on version {change.base}.")
    stamp = change.stamp
    return Line(
        change.number, moment(stamp.at), stamp.who, stamp.why, tuple(notes), change.number == last
    )


def rows_of(before: Job, after: Job) -> tuple[Row, ...]:
    """Return what differs between two jobs, field by field, as it is read."""
    found: list[Row] = []
    for each in differences(before, after):
        found += _assumed(each, before, after) if each.path == "assumed" else [_row(each)]
    return tuple(found)


def _row(each: Difference) -> Row:
    what = each.what if each.place else each.what[:1].upper() + each.what[1:]
    return Row(each.place, what, shown(each.before, each.unit), shown(each.after, each.unit))


def _assumed(each: Difference, *jobs: Job) -> list[Row]:
    old, new = set(each.before or ()), set(each.after or ())
    return [
        Row(
            *field_words(path, *jobs),
            "assumed" if path in old else "not assumed",
            "assumed" if path in new else "not assumed",
        )
        for path in sorted(old ^ new)
    ]


def shown(value: Any, unit: str = "") -> str:  # noqa: ANN401 - any value of a job
    """Return a value of a field as it is read."""
    match value:
        case None:
            return "not known"
        case bool():
            return "yes" if value else "no"
        case int() | float():
            sign = _SIGNS.get(unit, unit)
            return f"{value:,.6g}{NO_BREAK if sign else ''}{sign}"
        case dict():
            name = value.get("name") or value.get("id") or value.get("service")
            return str(name) if name else f"{len(value)} fields"
        case list() | tuple():
            return ", ".join(shown(each) for each in value) or "none"
        case _:
            return str(value) or "empty"


def _clashing(conflict: Conflict, mine: Job, theirs: Job) -> Clashing:
    by_field = bool(conflict.clashes) and not any(" (order)" in c.path for c in conflict.clashes)
    return Clashing(
        conflict.mine.number,
        _heading(len(conflict.clashes)) if by_field else conflict.reason,
        f"{conflict.mine.stamp.who}, {moment(conflict.mine.stamp.at)}",
        f"{conflict.theirs.change.stamp.who}, {moment(conflict.theirs.change.stamp.at)}",
        tuple(_choice(clash, mine, theirs) for clash in conflict.clashes) if by_field else (),
        by_field,
        rows_of(theirs, mine),
    )


def _heading(count: int) -> str:
    return "Both changed one field." if count == 1 else f"Both changed the same {count} fields."


def _choice(clash: Clash, *jobs: Job) -> Choice:
    from boardwright.job.words import unit_of

    unit = unit_of(clash.path.rpartition(".")[2])
    values = (None if v is ABSENT else v for v in (clash.base, clash.mine, clash.theirs))
    return Choice(clash.path, *field_words(clash.path, *jobs), *(shown(v, unit) for v in values))
