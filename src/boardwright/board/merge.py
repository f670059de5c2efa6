"""Units that no wish and no rule tells apart, taken as one unit that starts at several places.

The search would else prove the same board over again for every order of like devices.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from boardwright.board.preferences import Aim
from boardwright.board.problem import Problem


@dataclass(frozen=True, slots=True)
class Merged:
    """A problem of classes; ``members`` are the units of each, in the order of the list."""

    problem: Problem
    members: tuple[tuple[int, ...], ...]

    def apart(self, places: Sequence[Sequence[int]]) -> tuple[int, ...]:
        """Return where each unit starts: the first listed of a class nearest the main switch."""
        found = {
            unit: place
            for units, taken in zip(self.members, places, strict=True)
            for unit, place in zip(units, sorted(taken), strict=True)
        }
        return tuple(found[unit] for unit in range(len(found)))


def merged(problem: Problem) -> Merged:
    """Return the problem with like units as one."""
    classes: dict[object, list[int]] = {}
    for unit in range(len(problem.items)):
        classes.setdefault(_likeness(problem, unit), []).append(unit)
    members = tuple(tuple(units) for units in classes.values())
    number = {unit: k for k, units in enumerate(members) for unit in units}
    firsts = [units[0] for units in members]
    small = replace(
        problem,
        items=tuple(problem.items[unit] for unit in firsts),
        widths=tuple(problem.widths[unit] for unit in firsts),
        starts=tuple(problem.starts[unit] for unit in firsts),
        costs={
            aim: {k: by_unit[unit] for k, unit in enumerate(firsts)}
            for aim, by_unit in problem.costs.items()
        },
        groups=tuple(
            replace(group, units=tuple(dict.fromkeys(number[unit] for unit in group.units)))
            for group in problem.groups
        ),
        follows=tuple((number[one], number[other]) for one, other in problem.follows),
        sections={
            number[rcd]: tuple(dict.fromkeys(number[unit] for unit in units))
            for rcd, units in problem.sections.items()
        },
        counts=tuple(len(units) for units in members),
    )
    return Merged(small, members)


def _likeness(problem: Problem, unit: int) -> object:
    """Return what a unit shares with those that could change places with it; else its number."""
    spread = any(unit in g.units for g in problem.groups if g.aim is Aim.TOGETHER)
    paired = any(unit in pair for pair in problem.follows) or unit in problem.sections
    if spread or paired or len(problem.starts[unit]) == 1:
        return unit
    return (
        problem.widths[unit],
        problem.starts[unit],
        tuple(
            sum(by_unit[unit][place] for by_unit in problem.costs.values())
            for place in problem.starts[unit]
        ),
        tuple(unit in group.units for group in problem.groups),
        next((rcd for rcd, units in problem.sections.items() if unit in units), -1),
    )
