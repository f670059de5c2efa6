"""Which circuits go down together: the division of the home over its RCDs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from boardwright.circuits.rcd import TYPES, leakage_limit_a
from boardwright.circuits.results import Division, DivisionWish, Section
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

MOST_TRIED = 14
"""Up to so many units every division is tried; beyond, single moves and exchanges."""


@dataclass(frozen=True, slots=True)
class Weights:
    """What one unit of each wish missed costs. Common practice, no source; the job's go first."""

    apart_split: int
    like_split: int
    leakage_balanced: int
    load_balanced: int


def weights(job: Job) -> Weights:
    """Return the weights of a job's wishes about the division."""
    own = job.wishes.preferences
    return Weights(
        apart_split=own.weight("apart_split", 1000),
        like_split=own.weight("like_split", 300),
        leakage_balanced=own.weight("leakage_balanced", 1),
        load_balanced=own.weight("load_balanced", 1),
    )


def divided(job: Job, members: Sequence[Member], edition: Edition) -> Division:
    """Return two balanced sections, or none where no circuit shares an RCD.

    Circuits on one neutral, and those the person wants together, stay behind one RCD.
    """
    if not members:
        return Division((), (), proven=True)
    start = _dealt(_units(job, members))
    units = [*start[0], *start[1]]
    proven = len(units) <= MOST_TRIED
    halves = _tried(job, units, edition) if proven else _improved(job, start, edition)
    found = tuple(
        _section(name, half, members, edition)
        for name, half in zip(_NAMES, map(_flat, halves), strict=True)
        if half
    )
    return Division(found, _prices(job, halves, edition), proven=proven)


def _tried(job: Job, units: Sequence[Unit], edition: Edition) -> Halves:
    """Return the cheapest of all divisions, the first of equals; the first unit stays first."""
    rest = units[1:]
    every = (
        (
            (units[0], *(u for k, u in enumerate(rest) if not number >> k & 1)),
            tuple(u for k, u in enumerate(rest) if number >> k & 1),
        )
        for number in range(2 ** len(rest))
    )
    return min(every, key=lambda halves: _cost(job, halves, edition))


def _prices(job: Job, halves: Halves, edition: Edition) -> tuple[DivisionWish, ...]:
    """Return the wishes about the division in words, with what is missed of each."""
    weight = weights(job)
    apart, alike, leakage, load = _amounts(job, halves, edition)
    return (
        DivisionWish(
            "apart_split", "Circuits to be kept apart have RCDs of their own",
            weight.apart_split, apart,
        ),
        DivisionWish(
            "like_split", "Circuits of one purpose are shared out over the RCDs",
            weight.like_split, alike,
        ),
        DivisionWish(
            "leakage_balanced", "Standing leakage is balanced between the RCDs",
            weight.leakage_balanced, leakage,
        ),
        DivisionWish(
            "load_balanced", "Load is balanced between the RCDs", weight.load_balanced, load
        ),
    )  # fmt: skip


def fuse_ahead_a(job: Job) -> float | None:
    """Return the rating of the fuse just ahead of the board. [A]"""
    submain = job.supply.submain
    return submain.fuse_a if submain else job.supply.cutout_fuse_a


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


def _cost(job: Job, halves: Halves, edition: Edition) -> int:
    """Weigh a division by the job's wishes."""
    weight = weights(job)
    apart, alike, leakage, load = _amounts(job, halves, edition)
    return (
        weight.apart_split * apart
        + weight.like_split * alike
        + weight.leakage_balanced * leakage
        + weight.load_balanced * load
    )


def _amounts(job: Job, halves: Halves, edition: Edition) -> tuple[int, int, int, int]:
    """Return groups not split, pairs of one purpose, and the two imbalances in per cent.

    Each imbalance is a fraction of what one RCD bears, so that neither drowns the other.
    """
    members = [_flat(half) for half in halves]
    ids = [{member.id for member in half} for half in members]
    against = sum(len(here & set(group)) > 1 for here in ids for group in job.wishes.keep_apart)
    # Two floors' lights or sockets apart: one trip then leaves some of each.
    alike = sum(
        n * (n - 1) // 2 for half in members for n in Counter(m.serves for m in half).values()
    )
    leakage_a = abs(_difference([m.leakage_a for m in half] for half in members))
    load_a = abs(_difference([m.in_a for m in half] for half in members))
    most_a = leakage_limit_a(
        edition.number("rcd.leakage_fraction"), edition.number("rcd.additional_idn_a")
    )
    rating_a = edition.number("rcd.rating_a")
    return against, alike, round(100 * leakage_a / most_a), round(100 * load_a / rating_a)


def _difference(halves: Iterable[Sequence[float]]) -> float:
    first, second = (sum(half) for half in halves)
    return first - second
