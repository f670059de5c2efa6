"""The test page: one circuit's readings in tester order, what stands of each, what is so of it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from boardwright.core.errors import FieldError
from boardwright.core.findings import Finding, Rule, Verdict
from boardwright.documents.readings.taken import subject_of as subject_at
from boardwright.documents.words.figures import in_words, quantity, verdict_word
from boardwright.job.job import Job
from boardwright.standards.edition import Edition
from boardwright.store.events import Event, standing
from boardwright.verification.limits import Bound, Limit, Side, over_range, verdict_of
from boardwright.web.devices.stamps import NOBODY
from boardwright.web.homes.taken import KIND, Standing, readings_of, shown_value
from boardwright.web.views.limits import HomeLimits, home_limits, limit_json, says, sources

_LIVE = ".live"
_DEAD_FIRST = (
    "Dead tests.",
    "Isolate, lock off, prove dead. Take the SPD off before insulation is read.",
)
_LIVE_FIRST = ("Live tests.", "Covers on, fused probes, nobody else at the board.")


@dataclass(frozen=True, slots=True)
class Told:
    """One value that stands for a reading: what was typed, and who read it when."""

    value: str
    who: str
    at: str


@dataclass(frozen=True, slots=True)
class Row:
    """One reading. Of several that stand without agreeing, ``told`` has each."""

    subject: str
    limit: Limit
    value: str
    verdict: Verdict | None
    word: str
    words: str
    says: str
    sources: tuple[tuple[str, bool], ...]
    told: tuple[Told, ...]
    gauge: Finding | None
    data: str
    wrong: str = ""
    now: Told | None = None

    @property
    def open(self) -> bool:
        """Whether it is still to be taken, or devices disagree."""
        return not self.value or len(self.told) > 1


@dataclass(frozen=True, slots=True)
class Place:
    """One screen of the tests in the list: what is taken of it, and the gravest verdict."""

    key: str
    name: str
    taken: int
    count: int
    worst: Verdict | None
    now: bool
    cells: Mapping[str, Row]


@dataclass(frozen=True, slots=True)
class ReadingsView:
    """One screen: a circuit (or the origin), dead or live."""

    key: str
    title: str
    live: bool
    answer: str
    rows: tuple[Row, ...]
    others: tuple[Row, ...]
    places: tuple[Place, ...]
    caution: tuple[str, str]
    next_key: str
    next_title: str
    seen: int


def readings_view(
    job: Job, edition: Edition, events: Sequence[Event], key: str, wrong: Mapping[str, str]
) -> ReadingsView:
    """Return one screen of the tests; an empty key leads to the first that is not complete.

    Raises
    ------
    BoardwrightError
        There is no such circuit, or the answers make no circuits.
    """
    found = home_limits(job, edition)
    stands = standing(events)
    order = _order(job, found)
    key = key or _first_open(order, found, stands)
    if key not in order:
        raise FieldError("circuit", key, f"a circuit of this home, as {', '.join(order[1:4])}")
    base, live = key.removesuffix(_LIVE), key.endswith(_LIVE)
    every = {
        place: tuple(_row(place, limit, found, stands, wrong) for limit in _limits(found, place))
        for place in ("origin", *found.circuits)
    }
    rows = every[base]
    at = order.index(key)
    ahead = order[at + 1] if at + 1 < len(order) else ""
    return ReadingsView(
        key=key,
        title=_name(job, base),
        live=live,
        answer=_answer(every),
        rows=tuple(row for row in rows if row.limit.live is live),
        others=tuple(row for row in rows if row.limit.live is not live),
        places=tuple(_places(job, every, base, live=live)),
        caution=_LIVE_FIRST if live else _DEAD_FIRST,
        next_key=ahead,
        next_title=_after(job, ahead),
        seen=max((event.number for event in events), default=0),
    )


def every_reading(job: Job, edition: Edition, events: Sequence[Event]) -> Iterator[tuple[str, ...]]:
    """Yield place, reading, symbol, value, unit, verdict, limit, source, who, when, subject.

    Raises
    ------
    BoardwrightError
        The answers make no circuits.
    """
    found = home_limits(job, edition)
    stands = standing(events)
    for base in ("origin", *found.circuits):
        for limit in _limits(found, base):
            row = _row(base, limit, found, stands, {})
            told = row.told or ((row.now,) if row.now else ())
            for each in told or (Told("", "", ""),):
                value = each.value.partition(" ")[0]
                where = " · ".join(words for words, _ in row.sources)
                named = (_name(job, base), limit.label, limit.symbol, value, limit.unit)
                said = "not agreed" if row.told else row.word
                yield (*named, said, row.says, where, each.who, each.at, row.subject)


def subject_of(key: str, reading: str) -> str:
    """Return the subject of a reading's event, from the key of its screen."""
    return subject_at(key.removesuffix(_LIVE), reading)


def limits_of(job: Job, edition: Edition, key: str) -> tuple[Limit, ...]:
    """Return the readings of a screen.

    Raises
    ------
    KeyError
        There is no such circuit.
    """
    live = key.endswith(_LIVE)
    own = _limits(home_limits(job, edition), key.removesuffix(_LIVE))
    return tuple(limit for limit in own if limit.live is live)


def _order(job: Job, found: HomeLimits) -> list[str]:
    """Return the screens in tester order: all that is dead, then all that is live."""
    keys = ["origin", *(circuit.id for circuit in job.circuits)]
    dead = [key for key in keys if any(not limit.live for limit in _limits(found, key))]
    live = [f"{key}{_LIVE}" for key in keys if any(limit.live for limit in _limits(found, key))]
    return [*dead, *live]


def _limits(found: HomeLimits, base: str) -> tuple[Limit, ...]:
    return found.origin if base == "origin" else found.circuits[base]


def _first_open(order: Sequence[str], found: HomeLimits, stands: Standing) -> str:
    for key in order:
        base, live = key.removesuffix(_LIVE), key.endswith(_LIVE)
        own = (limit for limit in _limits(found, base) if limit.live is live)
        if any(not readings_of(stands, subject_of(base, limit.reading)) for limit in own):
            return key
    return order[0]


def _name(job: Job, base: str) -> str:
    return "Origin and board" if base == "origin" else job.circuit(base).name


def _after(job: Job, key: str) -> str:
    if not key:
        return "handover"
    name = _name(job, key.removesuffix(_LIVE))
    return f"{name}, live" if key.endswith(_LIVE) else name


def _answer(every: Mapping[str, Sequence[Row]]) -> str:
    rows = [row for own in every.values() for row in own]
    failed = sum(row.verdict is Verdict.FAIL for row in rows)
    left = sum(not row.value for row in rows)
    outside = f"{in_words(failed, 'reading fails', 'readings fail')}, " if failed else ""
    said = f"{outside}{in_words(left, 'reading')} to take."
    return said[0].upper() + said[1:]


def _row(
    base: str, limit: Limit, found: HomeLimits, stands: Standing, wrong: Mapping[str, str]
) -> Row:
    subject = subject_of(base, limit.reading)
    stand = readings_of(stands, subject)
    events = tuple(event for event in stand if counted(limit, event.value) is not None)
    distinct = {json.dumps(event.value) for event in events}
    value = events[-1].value if events else None
    verdict, bound = _judged(base, limit, value, found, stands)
    shown = shown_value(value)
    return Row(
        subject=subject,
        limit=limit,
        value=shown,
        verdict=verdict,
        word=_word(verdict, limit),
        words=bound.words if bound else "",
        says=says(limit),
        sources=sources(limit),
        told=tuple(_told(event, limit) for event in events) if len(distinct) > 1 else (),
        gauge=_gauge(limit, value, verdict, bound),
        data=json.dumps(limit_json(limit)),
        wrong=wrong.get(limit.reading, ""),
        now=_told(events[-1], limit) if events else None,
    )


def _word(verdict: Verdict | None, limit: Limit) -> str:
    if verdict is None:
        return ""
    if verdict is Verdict.NOT_APPLICABLE:
        return "Noted"
    return (
        ("Right" if verdict is Verdict.PASS else "Not right")
        if limit.seen
        else verdict_word(verdict)
    )


def standing_text(events: Sequence[Event], subject: str) -> str:
    """Return what stands in a reading's field: nothing where devices disagree."""
    values = [event.value for event in readings_of(standing(events), subject)]
    distinct = {json.dumps(value) for value in values}
    return shown_value(values[-1]) if len(distinct) == 1 else ""


def counted(limit: Limit, value: Any) -> float | str | None:  # noqa: ANN401 - as above
    """Return what a value counts as, or nothing where it is none."""
    if isinstance(value, dict) and isinstance(value.get("over"), int | float):
        return over_range(limit, float(value["over"]))
    if isinstance(value, bool) or value is None or isinstance(value, str) is not limit.seen:
        return None
    return float(value) if isinstance(value, int | float) else str(value)


def _judged(
    base: str,
    limit: Limit,
    value: Any,  # noqa: ANN401 - as above
    found: HomeLimits,
    stands: Standing,
) -> tuple[Verdict | None, Bound | None]:
    read = counted(limit, value)
    if read is None:
        return None, None
    others: dict[str, float] = {}
    for other in _limits(found, base):
        events = readings_of(stands, subject_of(base, other.reading))
        figure = counted(other, events[-1].value) if events else None
        if isinstance(figure, float):
            others[other.reading] = figure
    return verdict_of(limit, read, others)


def _told(event: Event, limit: Limit) -> Told:
    shown = shown_value(event.value)
    unit = f" {limit.unit}" if limit.unit else ""
    who = f"device {event.device[:4]}" if event.who == NOBODY else event.who
    return Told(f"{shown}{unit}", who, f"{event.at.astimezone():%H:%M}")


def _gauge(
    limit: Limit,
    value: Any,  # noqa: ANN401 - as above
    verdict: Verdict | None,
    bound: Bound | None,
) -> Finding | None:
    """Return the reading against the limit that decided; nothing where no one figure did."""
    sides = [each for each in limit.bounds if isinstance(each, Side) and not each.strict]
    side = next((each for each in sides if bound in (None, each)), None)
    if side is None or verdict is None or not isinstance(value, int | float):
        return None
    rule: Rule = side.rule
    shown = quantity(value, limit.unit)
    return Finding(
        check=limit.reading,
        verdict=verdict,
        subject=limit.label,
        message=shown,
        rule=rule,
        value=float(value),
        limit=side.limit,
        unit=limit.unit,
        sense=side.sense,
    )


def _places(
    job: Job, every: Mapping[str, Sequence[Row]], now: str, *, live: bool
) -> Iterator[Place]:
    for base, rows in every.items():
        own = [row for row in rows if row.limit.live is live]
        verdicts = [row.verdict for row in rows if row.verdict is not None]
        yield Place(
            key=f"{base}{_LIVE}" if live else base,
            name=_name(job, base),
            taken=sum(bool(row.value) for row in own),
            count=len(own),
            worst=min(verdicts, key=lambda verdict: verdict.rank, default=None),
            now=base == now,
            cells={row.limit.reading: row for row in rows},
        )


__all__ = [
    "KIND",
    "ReadingsView",
    "counted",
    "every_reading",
    "limits_of",
    "readings_view",
    "shown_value",
    "standing_text",
    "subject_of",
]
