"""The ways that a person gave to circuits: held where the rail allows it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from boardwright.board.problem import Problem
from boardwright.board.results import Item, Role

SPD_WAY = "spd"
"""What the SPD with its back-up goes by among the ways of a job, if no circuit has that id."""


@dataclass(frozen=True, slots=True)
class Held:
    """A problem with units held at their places; ``unmet`` are the keys that no rule allows."""

    problem: Problem
    unmet: tuple[str, ...]


def held(problem: Problem, ways: Mapping[str, int]) -> Held:
    """Return the problem with each unit that has a way of its own allowed there alone.

    A way where its role, its width or its phase forbids it to start is left out and named.
    """
    units = named_units(problem.items)
    switch = sum(
        width
        for item, width in zip(problem.items, problem.widths, strict=True)
        if item.role is Role.MAIN_SWITCH
    )
    starts = list(problem.starts)
    unmet = []
    for key, way in sorted(ways.items()):
        unit, place = units.get(key), way + switch - 1
        if unit is None:
            continue
        if place in problem.starts[unit]:
            starts[unit] = (place,)
        else:
            unmet.append(key)
    return Held(replace(problem, starts=tuple(starts)), tuple(unmet))


def named_units(items: Sequence[Item]) -> dict[str, int]:
    """Return the unit that each key of a job's ways means; what stays as found has none."""
    units = {
        item.circuit_id: k
        for k, item in enumerate(items)
        if item.circuit_id and item.fixed_module is None
    }
    for role in (Role.SPD_BACKUP, Role.SPD):
        for k, item in enumerate(items):
            if item.role is role:
                units.setdefault(SPD_WAY, k)
    return units
