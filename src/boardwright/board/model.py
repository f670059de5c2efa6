"""The problem of places as a mixed-integer program, solved to proven optimality by HiGHS.

One boolean for each unit and place, "unit k starts at p". Start variables with no-overlap
conditions were tried first elsewhere and took 35 times as long.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

from boardwright.board.merge import merged
from boardwright.board.preferences import Aim
from boardwright.board.problem import Group, Problem
from boardwright.core.quiet import stdout_to_stderr

EQUALS_NODE_LIMIT = 20
"""Where the search for the first among equals is given up: it matters less than the cost."""

EQUALS_COLUMN_LIMIT = 300
"""Columns beyond which it is not begun: a home's board has some 200, and takes hundredths of a
second; with many wishes at once it would take longer than the board itself."""

ANY_NODE_LIMIT = 5000
"""Where the search for any lawful order is given up, when that for the best found none."""

CHUNK = 3
"""Units whose places are decided together when costs are equal: 60³ still counts exactly."""

_OPTIMAL, _IMPOSSIBLE = 0, 2
"""How the solver says so."""

Row = tuple[dict[int, float], float, float]
"""Coefficients by column, least and most of their sum."""


@dataclass(frozen=True, slots=True)
class Answer:
    """Where each unit starts. ``gap`` is 0 when proven optimal; no starts: none is possible."""

    starts: tuple[int, ...] | None
    proven: bool
    gap: float


@dataclass(slots=True)
class _Program:
    """Columns and rows as they are written down."""

    cost: list[float] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    whole: list[int] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)

    def column(self, cost: float, *, most: float = 1.0, whole: bool = True) -> int:
        """Add a variable from 0 to ``most``; return its number."""
        self.cost.append(cost)
        self.most.append(most)
        self.whole.append(int(whole))
        return len(self.cost) - 1


_Cells = Mapping[tuple[int, int], int]
"""(unit, place) to column."""


def solve(problem: Problem, nodes: int) -> Answer:
    """Return the one best arrangement of the units, given up after so many nodes.

    Where several cost the same, the unit listed first stands as near the main switch as it can,
    then the second, and so on: the answer depends on no solver's habit.
    """
    if not all(problem.starts):
        return Answer(None, proven=True, gap=0.0)
    if not problem.items:
        return Answer((), proven=True, gap=0.0)
    like = merged(problem)
    program, cells = _written(like.problem)
    # A node takes longer the larger the program, by more than its square: equal work is fewer.
    share = min(1.0, EQUALS_COLUMN_LIMIT / len(program.cost))
    scaled = max(1, round(nodes * share**2.5))
    best, proven, gap = _run(program, program.cost, nodes=scaled)
    if best is None and not proven:
        # Given up before any order was found: a lawful one is better than a device left out.
        best, _, _ = _run(program, [0.0] * len(program.cost), nodes=max(nodes, ANY_NODE_LIMIT))
        gap = 1.0
    if best is None:
        return Answer(None, proven, gap)
    starts = like.apart(_places(like.problem, cells, best))
    if proven and len(program.cost) <= EQUALS_COLUMN_LIMIT:
        starts = _first_of_equals(problem, starts, round(float(np.dot(program.cost, best))))
    return Answer(starts, proven, gap)


def _written(problem: Problem) -> tuple[_Program, _Cells]:
    """Return the program of a problem, and the column of each of its cells."""
    program = _Program()
    cells = {
        (k, p): program.column(_cost(problem, k, p))
        for k, places in enumerate(problem.starts)
        for p in places
    }
    program.rows += [*_once(problem, cells), *_cover(problem, cells), *_follow(problem, cells)]
    program.rows += _behind_their_rcd(problem, cells)
    program.rows += _unsectioned_first(problem, cells)
    for group in problem.groups:
        program.rows += _group(problem, cells, group, program)
    return program, cells


def _cost(problem: Problem, unit: int, place: int) -> float:
    return float(sum(by_unit[unit][place] for by_unit in problem.costs.values()))


def _once(problem: Problem, cells: _Cells) -> Iterator[Row]:
    """Let each unit start at one place, or at as many as units were merged in it."""
    for k, (places, count) in enumerate(zip(problem.starts, problem.counts, strict=True)):
        yield {cells[k, p]: 1.0 for p in places}, float(count), float(count)


def _cover(problem: Problem, cells: _Cells) -> Iterator[Row]:
    """Let each module hold one unit, or at most one where places may stay free."""
    several = len(problem.spans) > 1
    for module in range(problem.room):
        yield _over(problem, cells, module), float(problem.packed and not several), 1.0
    for begin, end in problem.spans if several and problem.packed else ():
        for module in range(begin + 1, end):
            # On each of several rails, what is free lies at the far end.
            row = dict(_over(problem, cells, module))
            for column in _over(problem, cells, module - 1):
                row[column] = row.get(column, 0.0) - 1.0
            yield {c: v for c, v in row.items() if v}, -np.inf, 0.0


def _over(
    problem: Problem, cells: _Cells, module: int, units: Iterable[int] | None = None
) -> dict[int, float]:
    """Return the columns of which one is 1 where a unit, of some or of all, covers a module."""
    among = range(len(problem.widths)) if units is None else units
    return {
        cells[k, p]: 1.0
        for k in among
        for p in range(module - problem.widths[k] + 1, module + 1)
        if (k, p) in cells
    }


def _unsectioned_first(problem: Problem, cells: _Cells) -> Iterator[Row]:
    """On each of several rails, let no unit without a section stand behind a section.

    On one rail the places allowed say so already.
    """
    if not problem.sections or len(problem.spans) == 1:
        return
    inside = {*problem.sections, *(k for units in problem.sections.values() for k in units)}
    outside = [k for k in range(len(problem.widths)) if k not in inside]
    for begin, end in problem.spans:
        for module in range(begin + 1, end):
            row = _over(problem, cells, module, outside) | _over(problem, cells, module - 1, inside)
            yield row, -np.inf, 1.0


def _follow(problem: Problem, cells: _Cells) -> Iterator[Row]:
    """Start the second of a pair where the first ends."""
    for one, other in problem.follows:
        width = problem.widths[one]
        for p in {*problem.starts[one], *(q - width for q in problem.starts[other])}:
            row = {cells[one, p]: 1.0} if (one, p) in cells else {}
            if (other, p + width) in cells:
                row[cells[other, p + width]] = -1.0
            yield row, 0.0, 0.0


def _behind_their_rcd(problem: Problem, cells: _Cells) -> Iterator[Row]:
    """Keep the units of a section in the run of places that begins with its RCD."""
    for rcd, units in problem.sections.items():
        begin = problem.widths[rcd]
        length = begin + sum(problem.widths[k] * problem.counts[k] for k in units)
        for k in units:
            for p in problem.starts[k]:
                row = {cells[k, p]: 1.0}
                for q in problem.starts[rcd]:
                    if q + begin <= p <= q + length - problem.widths[k]:
                        row[cells[rcd, q]] = -1.0
                yield row, -np.inf, 0.0


def _group(problem: Problem, cells: _Cells, group: Group, program: _Program) -> Iterator[Row]:
    if group.aim is Aim.TOGETHER:
        return _spread(problem, cells, group, program)
    if group.aim is Aim.LETTERS:
        return _turned(problem, cells, group, program)
    return _neighbours(problem, cells, group, program)


def _neighbours(problem: Problem, cells: _Cells, group: Group, program: _Program) -> Iterator[Row]:
    """Add a column for each joint of two modules: 1 where two of the group meet there.

    A unit that stands across the joint counts in the row too: nothing meets there then, and the
    relaxed problem has less room to part every meeting in halves.
    """
    begins = {begin for begin, _ in problem.spans}
    for joint in (module for module in range(1, problem.room) if module not in begins):
        ends = [
            cells[k, p] for k in group.units for p in [joint - problem.widths[k]] if (k, p) in cells
        ]
        starts = [cells[k, joint] for k in group.units if (k, joint) in cells]
        if ends and starts:
            met = program.column(group.weight, whole=False)
            row = dict.fromkeys([*ends, *starts, *_across(problem, cells, joint)], 1.0)
            row[met] = -1.0
            yield row, -np.inf, 1.0


def _across(problem: Problem, cells: _Cells, joint: int) -> Iterator[int]:
    """Yield the columns of which one is 1 where a unit stands across a joint of two modules."""
    for k, width in enumerate(problem.widths):
        for p in range(joint - width + 1, joint):
            if (k, p) in cells:
                yield cells[k, p]


def _turned(problem: Problem, cells: _Cells, group: Group, program: _Program) -> Iterator[Row]:
    """Add a column that is 1 where the second of a pair stands before the first."""
    first, second = group.units
    turned = program.column(group.weight, whole=False)
    for p in problem.starts[second]:
        row = {cells[first, q]: 1.0 for q in problem.starts[first] if q > p}
        yield {**row, cells[second, p]: 1.0, turned: -1.0}, -np.inf, 1.0


def _spread(problem: Problem, cells: _Cells, group: Group, program: _Program) -> Iterator[Row]:
    """Count the modules from the group's first place to its last, beyond its own.

    Two columns a module, "the group has begun" and "it has not ended": where both hold the group
    spans it. Columns for the first and the last place alone would let the relaxed problem put
    every unit at its mean place, at no cost, and the proof would take a hundred times as long.
    """
    own = sum(problem.widths[k] for k in group.units)
    # Of the two at least one holds everywhere; that, and the group's own modules, is no spread.
    constant = program.column(-group.weight * (problem.room + own), whole=False)
    yield {constant: 1.0}, 1.0, 1.0
    begun = [program.column(group.weight, whole=False) for _ in range(problem.room)]
    lasts = [program.column(group.weight, whole=False) for _ in range(problem.room)]
    for k in group.units:
        # "Unit k stands here or before", each from its neighbour: the rows stay short.
        before: int | None = None
        here = [program.column(0.0, whole=False) for _ in range(problem.room)]
        for module, column in enumerate(here):
            row = {column: 1.0}
            if (k, module) in cells:
                row[cells[k, module]] = -1.0
            if before is not None:
                row[before] = -1.0
            yield row, 0.0, 0.0
            before = column
            yield {begun[module]: 1.0, column: -1.0}, 0.0, np.inf
            ended = module - problem.widths[k]
            yield {lasts[module]: 1.0, **({here[ended]: 1.0} if ended >= 0 else {})}, 1.0, np.inf
    yield from _unbroken(problem, cells, group, begun, lasts)


def _unbroken(
    problem: Problem, cells: _Cells, group: Group, begun: Sequence[int], lasts: Sequence[int]
) -> Iterator[Row]:
    """Let a group span each module that one of it stands on, and go on without a break.

    Whole numbers keep this by themselves; the relaxed problem would else spread a group's units
    evenly over two far places, at no cost.
    """
    for module in range(problem.room):
        stands = dict.fromkeys(_over(problem, cells, module, group.units), -1.0)
        yield {**stands, begun[module]: 1.0, lasts[module]: 1.0}, 1.0, np.inf
        if module:
            yield {begun[module]: 1.0, begun[module - 1]: -1.0}, 0.0, np.inf
            yield {lasts[module - 1]: 1.0, lasts[module]: -1.0}, 0.0, np.inf


def _run(
    program: _Program,
    cost: Sequence[float],
    extra: Iterable[Row] = (),
    *,
    nodes: int,
) -> tuple[np.ndarray | None, bool, float]:
    """Return the solution, whether it is proven the best, and the gap to the bound.

    That there is none is proven too.
    """
    rows = [row for row in (*program.rows, *extra) if row[0]]
    values = [value for row, _, _ in rows for value in row.values()]
    columns = [column for row, _, _ in rows for column in row]
    pointers = np.cumsum([0, *(len(row) for row, _, _ in rows)])
    matrix = csr_matrix((values, columns, pointers), shape=(len(rows), len(cost)))
    with stdout_to_stderr():
        result = milp(
            np.asarray(cost, dtype=float),
            integrality=np.asarray(program.whole),
            bounds=Bounds(0.0, np.asarray(program.most)),
            constraints=LinearConstraint(matrix, [r[1] for r in rows], [r[2] for r in rows]),
            options={"mip_rel_gap": 0.0, "node_limit": nodes},
        )
    proven = result.status in {_OPTIMAL, _IMPOSSIBLE}
    gap = 0.0 if proven or result.mip_gap is None else float(result.mip_gap)
    return result.x, proven, gap


def _first_of_equals(problem: Problem, starts: tuple[int, ...], cost: int) -> tuple[int, ...]:
    """Return, among all that cost no more, the arrangement that stands first.

    A few units at a time: their places, read as the digits of one number, are made least, and
    stay fixed while the next are looked at.
    """
    program, cells = _written(problem)
    # All costs are whole numbers, so half a unit tells equal from dearer.
    fixed: list[Row] = [({c: v for c, v in enumerate(program.cost) if v}, -np.inf, cost + 0.5)]
    free = [k for k, places in enumerate(problem.starts) if len(places) > 1]
    for begin in range(0, len(free), CHUNK):
        digits = [0.0] * len(program.cost)
        for weight, k in enumerate(reversed(free[begin : begin + CHUNK])):
            for p in problem.starts[k]:
                digits[cells[k, p]] = float(p * problem.room**weight)
        found, proven, _ = _run(program, digits, fixed, nodes=EQUALS_NODE_LIMIT)
        if found is None or not proven:
            break
        starts = tuple(places[0] for places in _places(problem, cells, found))
        fixed += [({cells[k, starts[k]]: 1.0}, 1.0, 1.0) for k in free[begin : begin + CHUNK]]
    return starts


def _places(problem: Problem, cells: _Cells, solution: np.ndarray) -> tuple[list[int], ...]:
    """Return the places of each unit; a boolean comes back as 0.9999999 as well as 1."""
    return tuple(
        [p for p in places if solution[cells[k, p]] > 0.5]  # noqa: PLR2004 - half way
        for k, places in enumerate(problem.starts)
    )
