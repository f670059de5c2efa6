"""Which circuits go down together: the division of the home over its RCDs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from boardwright.circuits.rcd import TYPES
from boardwright.circuits.results import Section
from boardwright.job.job import Job
from boardwright.standards.edition import Edition

_NAMES = ("rcd-a", "rcd-b")


@dataclass(frozen=True, slots=True)
class Member:
    """A circuit that shares an RCD with others, and what the balance looks at."""

    id: str
    serves: str
    in_a: float
    leakage_a: float
    rcd_type: str


Unit = Sequence[Member]
Halves = tuple[tuple[Unit, ...], tuple[Unit, ...]]


def sections(job: Job, members: Sequence[Member], edition: Edition) -> tuple[Section, ...]:
    """Return two balanced sections, or none where no circuit shares an RCD.

    Circuits on one neutral, and those the person wants together, stay behind one RCD.
    """
    if not members:
        return ()
    halves = _improved(job, _dealt(_units(job, members)), edition)
    return tuple(
        _section(name, half, members, edition)
        for name, half in zip(_NAMES, map(_flat, halves), strict=True)
        if half
    )


def _section(
    name: str, half: Sequence[Member], members: Sequence[Member], edition: Edition
) -> Section:
    inside = {member.id for member in half}
    return Section(
        id=name,
        # In the order of the survey, not of the search.
        circuit_ids=tuple(member.id for member in members if member.id in inside),
        rcd_in_a=edition.number("rcd.rating_a"),
        idn_a=edition.number("rcd.additional_idn_a"),
        rcd_type=max((member.rcd_type for member in half), key=TYPES.index),
        leakage_a=sum(member.leakage_a for member in half),
    )


def _units(job: Job, members: Sequence[Member]) -> list[Unit]:
    units: list[Unit] = [[member] for member in members]
    for tied in _ties(job):
        inside = [unit for unit in units if any(member.id in tied for member in unit)]
        if len(inside) > 1:
            units = [unit for unit in units if unit not in inside]
            units.append([member for unit in inside for member in unit])
    return units


def _ties(job: Job) -> Iterable[set[str]]:
    for circuit in job.circuits:
        if circuit.readings.shares_neutral_with:
            yield {circuit.id, circuit.readings.shares_neutral_with}
    for group in job.wishes.keep_together:
        yield set(group)


def _flat(units: Iterable[Unit]) -> list[Member]:
    return [member for unit in units for member in unit]


def _dealt(units: Iterable[Unit]) -> Halves:
    """Deal the units out in turn, the largest first: a fair start."""
    ordered = sorted(units, key=lambda unit: (-sum(m.in_a for m in unit), unit[0].id))
    return tuple(ordered[::2]), tuple(ordered[1::2])


def _improved(job: Job, halves: Halves, edition: Edition) -> Halves:
    """Move or exchange single units as long as the division gets better."""
    while True:
        best = min(_neighbours(halves), key=lambda h: _cost(job, h, edition), default=halves)
        if _cost(job, best, edition) >= _cost(job, halves, edition):
            return halves
        halves = best


def _neighbours(halves: Halves) -> Iterator[Halves]:
    first, second = halves
    for unit in first:
        yield _without(first, unit), (*second, unit)
        for other in second:
            yield (*_without(first, unit), other), (*_without(second, other), unit)
    for other in second:
        yield (*first, other), _without(second, other)


def _without(units: tuple[Unit, ...], unit: Unit) -> tuple[Unit, ...]:
    return tuple(u for u in units if u is not unit)


def _cost(job: Job, halves: Halves, edition: Edition) -> tuple[int, int, float]:
    """Weigh a division: wishes first, then like beside like, then leakage and load together."""
    members = [_flat(half) for half in halves]
    ids = [{member.id for member in half} for half in members]
    against = sum(len(here & set(group)) > 1 for here in ids for group in job.wishes.keep_apart)
    # Two floors' lights or sockets apart: one trip then leaves some of each.
    alike = sum(n * (n - 1) for half in members for n in Counter(m.serves for m in half).values())
    leakage_a = abs(_difference([m.leakage_a for m in half] for half in members))
    load_a = abs(_difference([m.in_a for m in half] for half in members))
    # Each as a fraction of what one RCD bears, so that neither drowns the other.
    most_a = edition.number("rcd.leakage_fraction") * edition.number("rcd.additional_idn_a")
    return against, alike, leakage_a / most_a + load_a / edition.number("rcd.rating_a")


def _difference(halves: Iterable[Sequence[float]]) -> float:
    first, second = (sum(half) for half in halves)
    return first - second
