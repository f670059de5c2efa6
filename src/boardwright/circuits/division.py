"""Which circuits go down together: the division of the home over its RCDs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
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


def sections(job: Job, members: Sequence[Member], edition: Edition) -> tuple[Section, ...]:
    """Return two balanced sections, or none where no circuit shares an RCD.

    Circuits on one neutral, and those the person wants together, stay behind one RCD.
    """
    if not members:
        return ()
    halves: tuple[list[Member], list[Member]] = ([], [])
    for unit in sorted(_units(job, members), key=_weight, reverse=True):
        first, second = (_cost(half, unit, job) for half in halves)
        halves[int(second < first)].extend(unit)
    return tuple(
        _section(name, half, members, edition)
        for name, half in zip(_NAMES, halves, strict=True)
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


def _units(job: Job, members: Sequence[Member]) -> list[list[Member]]:
    units = [[member] for member in members]
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


def _weight(unit: Sequence[Member]) -> tuple[float, str]:
    return sum(member.in_a for member in unit), unit[0].id


def _cost(half: Sequence[Member], unit: Sequence[Member], job: Job) -> tuple[int, int, float]:
    """Weigh adding a unit to a half: wishes first, then like beside like, then the load."""
    here, new = {member.id for member in half}, {member.id for member in unit}
    against = sum(bool(here & set(g)) and bool(new & set(g)) for g in job.wishes.keep_apart)
    # Two floors' lights or sockets apart: one trip then leaves some of each.
    alike = sum(a.serves == b.serves for a in half for b in unit)
    return against, alike, sum(member.in_a for member in half)
