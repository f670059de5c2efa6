"""The arrangement as a problem of places: who may start where, and what it costs.

Places are counted in modules away from the main switch, rail after rail: see
:mod:`boardwright.board.rails`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from boardwright.board.preferences import HEAVY_A, Aim, Wanted
from boardwright.board.rails import Rails
from boardwright.board.reach import short_modules
from boardwright.board.results import BoardPlan, Item, Role
from boardwright.catalogue.devices import MODULE_MM
from boardwright.job.board import Wishes

_COMB = ("L1", "L2", "L3")


@dataclass(frozen=True, slots=True)
class Group:
    """Units that belong to one wish about neighbours, by their number; ``weight`` a unit missed."""

    aim: Aim
    weight: int
    units: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Problem:
    """Which unit may start where.

    ``starts`` are the places allowed to each unit, ``costs`` what each place costs by aim;
    ``follows`` are pairs of which the second starts where the first ends; ``sections`` give
    for an RCD the units that stand behind it; ``packed`` forbids a free place between units;
    ``spans`` are the first place and the end of each rail; ``counts`` tell of how many places
    each unit takes one, 1 unless like units were merged.
    """

    items: tuple[Item, ...]
    widths: tuple[int, ...]
    room: int
    starts: tuple[tuple[int, ...], ...]
    costs: Mapping[Aim, Mapping[int, Mapping[int, int]]]
    groups: tuple[Group, ...]
    follows: tuple[tuple[int, int], ...]
    sections: Mapping[int, tuple[int, ...]]
    packed: bool
    spans: tuple[tuple[int, int], ...]
    counts: tuple[int, ...]

    def rail(self, place: int) -> int:
        """Return the rail of a place."""
        return next(k for k, (_, end) in enumerate(self.spans) if place < end)


def state(
    board: BoardPlan, items: Sequence[Item], wishes: Wishes, wanted: Sequence[Wanted]
) -> Problem:
    """Return the problem of arranging the items on the board's rail."""
    items = tuple(items)
    widths = tuple(item.device.modules for item in items)
    rails = Rails(board.enclosure)
    one_rail = len(rails.spans) == 1
    comb = _combed(board)
    packed = not comb and all(item.fixed_module is None for item in items)
    front = _front(items)
    weights = {wish.aim: wish.weight for wish in wanted}
    starts = tuple(
        tuple(p for p in places if not comb or _on_its_phase(board, items[k], p))
        for k, places in enumerate(_places(rails, items, front, packed=packed and one_rail))
    )
    first = sum(widths[k] for k in front if items[k].role is Role.MAIN_SWITCH)
    return Problem(
        items=items,
        widths=widths,
        room=sum(widths) if packed and one_rail else board.enclosure.modules,
        starts=starts,
        costs=_costs(rails, items, starts, weights, first),
        groups=(*_groups(items, wishes, weights), *_lettered(items, weights)),
        follows=tuple(
            (k, k + 1)
            for k, (one, other) in enumerate(pairwise(items))
            if (one.role, other.role) == (Role.SPD_BACKUP, Role.SPD)
        ),
        sections=_sections(items),
        packed=packed,
        counts=(1,) * len(items),
        spans=((0, sum(widths)),) if packed and one_rail else rails.spans,
    )


def _combed(board: BoardPlan) -> bool:
    return any(busbar.phases > 1 for busbar in board.enclosure.busbars)


def _front(items: Sequence[Item]) -> tuple[int, ...]:
    """Return the units whose place follows from what they are, from the main switch on.

    An RCD ahead of all circuits stands behind the SPD: so the SPD is fed from the main switch
    with the shortest leads, and the busbar behind the RCD has no gap to bridge.
    """
    order: tuple[Role, ...] = (Role.MAIN_SWITCH,)
    if any(item.role is Role.INCOMER_RCD for item in items):
        order = (Role.MAIN_SWITCH, Role.SPD_BACKUP, Role.SPD, Role.INCOMER_RCD)
    return tuple(k for role in order for k, item in enumerate(items) if item.role is role)


def _places(
    rails: Rails, items: Sequence[Item], front: Sequence[int], *, packed: bool
) -> Iterator[tuple[int, ...]]:
    """Yield the places that each unit may start at, for its role alone.

    ``packed`` is true where all stand on one rail without a gap.
    """
    widths = [item.device.modules for item in items]
    # Ways fed from the main switch stand before the RCD sections: one busbar, without a gap.
    behind = sum(w for w, item in zip(widths, items, strict=True) if item.section)
    room = sum(widths) if packed else rails.enclosure.modules
    begin = sum(widths[k] for k in front)
    middle = room - behind if packed else room
    for k, (item, width) in enumerate(zip(items, widths, strict=True)):
        if item.fixed_module is not None:
            yield (rails.place(item.fixed_rail, item.fixed_module, width),)
        elif k in front:
            yield (sum(widths[other] for other in front[: front.index(k)]),)
        elif item.section and packed:
            yield tuple(range(middle, room - width + 1))
        else:
            whole = _length(items, k)
            yield tuple(p for p in range(begin, middle - width + 1) if rails.within(p, whole))


def _length(items: Sequence[Item], unit: int) -> int:
    """Return the modules that must stand on one rail from a unit's first: its run, if it has one.

    A back-up's SPD follows it; a section follows its RCD.
    """
    item = items[unit]
    if item.role is Role.SECTION_RCD:
        return sum(other.device.modules for other in items if other.section == item.section)
    if item.role is Role.SPD_BACKUP:
        spds = [other.device.modules for other in items if other.role is Role.SPD]
        return item.device.modules + sum(spds)
    return item.device.modules


def _on_its_phase(board: BoardPlan, item: Item, place: int) -> bool:
    """Tell whether each busbar terminal of the item meets a tooth of its own phase.

    The comb begins beside the main switch on a left-hand board and at the rail's left end on a
    right-hand one; from there it repeats L1, L2, L3, one module each.
    """
    if item.role not in {Role.CIRCUIT, Role.SPD_BACKUP}:
        return True
    switch = next((i for i in board.items if i.role is Role.MAIN_SWITCH), None)
    rails = Rails(board.enclosure)
    beside = switch and board.enclosure.hand == "left" and rails.rail(place) == 0
    left = switch.device.modules if switch and beside else 0
    module = rails.module(place, item.device.modules) - left
    return all(
        _COMB[(module + int(terminal.offset_mm // MODULE_MM)) % 3] == phase
        for terminal in item.device.terminals
        if terminal.busbar
        for phase in [item.phase if terminal.conductor == "L" else terminal.conductor]
        if phase in _COMB
    )


def _costs(
    rails: Rails,
    items: Sequence[Item],
    starts: Sequence[Sequence[int]],
    weights: Mapping[Aim, int],
    first: int,
) -> dict[Aim, dict[int, dict[int, int]]]:
    """Return the weighted cost of each place by aim, for what depends on one unit alone."""
    target = _targets(items, first)
    lead = _lead(items)
    amounts: dict[Aim, Callable[[int, int], int]] = {
        Aim.SPD_NEAR: lambda k, p: rails.away(p) - first if k in lead else 0,
        Aim.LARGE_NEAR: lambda k, p: (
            round(items[k].device.in_a or 0) * (rails.away(p) - first)
            if items[k].role is Role.CIRCUIT
            else 0
        ),
        Aim.AS_FOUND: lambda k, p: abs(p - target[k]) if k in target else 0,
        Aim.REACH: lambda k, p: (
            short_modules(
                rails.enclosure,
                items[k],
                rails.rail(p),
                abs(rails.along(p) - rails.along(target[k])),
            )
            if k in target
            else 0
        ),
    }
    return {
        aim: {
            k: {p: weights[aim] * amount(k, p) for p in places} for k, places in enumerate(starts)
        }
        for aim, amount in amounts.items()
        if aim in weights
    }


def _lead(items: Sequence[Item]) -> set[int]:
    """Return the unit whose place stands for the SPD's: its back-up, else itself."""
    for role in (Role.SPD_BACKUP, Role.SPD):
        found = {k for k, item in enumerate(items) if item.role is role}
        if found:
            return found
    return set()


def _targets(items: Sequence[Item], first: int) -> dict[int, int]:
    """Return where each circuit would start if all kept the order they had.

    The order, not the number: a new board has its SPD where the first way was.
    """
    known = sorted(
        (item.found_way, k)
        for k, item in enumerate(items)
        if item.role is Role.CIRCUIT and item.found_way is not None
    )
    branch = {Role.SPD_BACKUP, Role.SPD, Role.INCOMER_RCD}
    ahead = sum(item.device.modules for item in items if item.role in branch)
    targets: dict[int, int] = {}
    place = first + ahead
    for _, k in known:
        targets[k] = place
        place += items[k].device.modules
    return targets


def _groups(items: Sequence[Item], wishes: Wishes, weights: Mapping[Aim, int]) -> Iterator[Group]:
    number = {item.circuit_id: k for k, item in enumerate(items) if item.circuit_id}
    heavy = tuple(k for k, item in enumerate(items) if item.continuous and item.ib_a >= HEAVY_A)
    asked = [(Aim.HEAT_APART, heavy)]
    for aim, groups in ((Aim.APART, wishes.keep_apart), (Aim.TOGETHER, wishes.keep_together)):
        asked += [(aim, tuple(number[c] for c in group if c in number)) for group in groups]
    for aim, units in asked:
        if len(units) > 1 and aim in weights:
            yield Group(aim, weights[aim], units)


def _lettered(items: Sequence[Item], weights: Mapping[Aim, int]) -> Iterator[Group]:
    """Yield the pairs of section RCDs, each in the order of its letters."""
    rcds = [k for k, item in enumerate(items) if item.role is Role.SECTION_RCD]
    rcds.sort(key=lambda k: items[k].section)
    for pair in combinations(rcds, 2) if Aim.LETTERS in weights else ():
        yield Group(Aim.LETTERS, weights[Aim.LETTERS], pair)


def _sections(items: Sequence[Item]) -> dict[int, tuple[int, ...]]:
    return {
        k: tuple(
            n
            for n, other in enumerate(items)
            if other.role is Role.CIRCUIT and other.section == item.section
        )
        for k, item in enumerate(items)
        if item.role is Role.SECTION_RCD
    }
