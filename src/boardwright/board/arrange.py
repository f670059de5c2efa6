"""The best legal order of the devices on the rail."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from boardwright.board.preferences import Aim, Wanted, weighed
from boardwright.board.problem import Group, Problem, state
from boardwright.board.rails import Rails
from boardwright.board.results import Arrangement, BoardPlan, Item, Placement, Preference, Role
from boardwright.board.wished import held
from boardwright.job.board import Wishes

if TYPE_CHECKING:
    from boardwright.board.model import Answer

NODE_LIMIT = 500
"""Where a search is given up: by count, so that a slow machine gives the same answer.

A board of a home is proven within 50; a node of a full board takes some hundredths of a second.
"""

_BRANCH = frozenset({Role.SPD, Role.SPD_BACKUP})


def arrange(
    board: BoardPlan,
    wishes: Wishes,
    preferences: Sequence[Wanted] | None = None,
    *,
    nodes: int = NODE_LIMIT,
) -> Arrangement:
    """Return the cheapest legal order, proven, and the first of those that cost the same.

    ``preferences`` are the job's own, if none are handed over; a search of more than ``nodes``
    nodes is given up, and the answer says how far from the best it may be. The ways that a person
    gave hold where the rail allows them; where together they leave no legal order, none does.
    Items for which the rail has no place are left out from the end of the list, and named.
    """
    # The solver costs most of a second to import: only who arranges pays for it.
    from boardwright.board.model import solve

    if preferences is None:
        preferences = weighed(wishes.preferences)
    items, left_out = _that_fit(board)
    while True:
        free = state(board, items, wishes, preferences)
        problem = held(free, wishes.ways).problem
        answer = solve(problem, nodes)
        if answer.starts is None and problem is not free:
            problem, answer = free, solve(free, nodes)
        if answer.starts is not None or not items:
            break
        # Teeth of one phase, or a run of free ways, may run out before the modules do.
        gone = _with_it(items, _last(items))
        left_out = (*gone, *left_out)
        items = tuple(item for item in items if item not in gone)
    starts = answer.starts or ()
    return Arrangement(
        scheme=board.scheme,
        enclosure=board.enclosure,
        placements=_placements(board, problem, starts),
        spare_modules=board.enclosure.modules - sum(problem.widths),
        preferences=(*price(problem, starts, preferences), *board.division),
        proven=answer.proven,
        gap=answer.gap,
        note=_note(left_out, answer),
        left_out=tuple(item.id for item in left_out),
    )


def _that_fit(board: BoardPlan) -> tuple[tuple[Item, ...], tuple[Item, ...]]:
    """Return the items the rail has modules for, in their order, and the rest."""
    room = board.enclosure.modules
    kept: list[Item] = []
    rest: list[Item] = []
    # What is fixed has its place already, whoever stands before it in the list.
    for item in sorted(board.items, key=lambda item: item.fixed_module is None):
        if item in kept or item in rest:
            continue
        own = _with_it(board.items, item)
        if sum(one.device.modules for one in own) <= room:
            kept.extend(own)
            room -= sum(one.device.modules for one in own)
        else:
            rest.extend(own)
    ids = {item.id for item in kept}
    return tuple(item for item in board.items if item.id in ids), tuple(rest)


def _with_it(items: Sequence[Item], item: Item) -> tuple[Item, ...]:
    """Return the items that are of no use without one another: an SPD and its back-up."""
    if item.role in _BRANCH:
        return tuple(one for one in items if one.role in _BRANCH)
    return (item,)


def _last(items: Sequence[Item]) -> Item:
    """Return the item that gives way: the last, but nothing as found for something new."""
    return next((item for item in reversed(items) if item.fixed_module is None), items[-1])


def price(
    problem: Problem, starts: Sequence[int], preferences: Sequence[Wanted]
) -> tuple[Preference, ...]:
    """Return what an arrangement pays for each wish, counted from the places alone."""
    return tuple(
        Preference(wish.name, float(wish.weight), float(_paid(problem, starts, wish.aim)), wish.key)
        for wish in preferences
    )


def _paid(problem: Problem, starts: Sequence[int], aim: Aim) -> int:
    by_unit = problem.costs.get(aim, {})
    alone = sum(by_unit[k][p] for k, p in enumerate(starts)) if by_unit else 0
    return alone + sum(
        group.weight * _missed(problem, starts, group)
        for group in problem.groups
        if group.aim is aim and starts
    )


def _missed(problem: Problem, starts: Sequence[int], group: Group) -> int:
    """Return by how much a group misses its wish: modules of spread, or pairs that meet."""
    if group.aim is Aim.LETTERS:
        first, second = (starts[k] for k in group.units)
        return int(second < first)
    spans = sorted((starts[k], starts[k] + problem.widths[k]) for k in group.units)
    if group.aim is Aim.TOGETHER:
        return spans[-1][1] - spans[0][0] - sum(end - begin for begin, end in spans)
    begins = {begin for begin, _ in problem.spans}
    return sum(one[1] == other[0] and other[0] not in begins for one, other in pairwise(spans))


def _placements(board: BoardPlan, problem: Problem, starts: Sequence[int]) -> tuple[Placement, ...]:
    """Return the items in their places, rail by rail, from the left."""
    rails = Rails(board.enclosure)
    switch = sum(i.device.modules for i in problem.items if i.role is Role.MAIN_SWITCH)
    placed = []
    for item, width, start in zip(problem.items, problem.widths, starts, strict=bool(starts)):
        module, number = rails.module(start, width), rails.rail(start)
        rail = board.enclosure.rails[number]
        way = 0 if item.role is Role.MAIN_SWITCH else start - switch + 1
        placed.append(Placement(item, number, module, way, rail.left_mm(module), rail.y_mm))
    return tuple(sorted(placed, key=lambda placement: (placement.rail, placement.module)))


def _note(left_out: Sequence[Item], answer: Answer) -> str:
    words = "Proven: no legal order pays less."
    if not answer.proven:
        words = f"The best found; not proven: another may pay up to {answer.gap:.1%} less."
    if left_out:
        words += f" No place on the rail for: {', '.join(item.label for item in left_out)}."
    return words
