"""Every lawful arrangement of a small board, by trying them all.

Written from the words of docs/arrangement.md alone: neither the search nor the program's own judge
is asked, so that an error in either shows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from boardwright.board.results import BoardPlan, Item, Role

_TEETH = ("L1", "L2", "L3")
_BRANCH = (Role.SPD_BACKUP, Role.SPD)
_AHEAD = {Role.MAIN_SWITCH, *_BRANCH}


def every_order(plan: BoardPlan) -> Iterator[tuple[int, ...]]:
    """Yield the places of every lawful arrangement, counted from the main switch's end."""
    everything = tuple(range(len(plan.items)))
    for taken in _walk(plan, 0, everything):
        starts = tuple(taken[k] for k in everything)
        if lawful(plan, starts):
            yield starts


def _walk(plan: BoardPlan, place: int, waiting: tuple[int, ...]) -> Iterator[dict[int, int]]:
    """Go along the rails: at each place stand each device that may, or leave it free."""
    if not waiting:
        yield {}
        return
    if place >= plan.enclosure.modules:
        return
    for k in waiting:
        if _may_stand(plan, plan.items[k], place):
            rest = tuple(other for other in waiting if other != k)
            for further in _walk(plan, place + plan.items[k].device.modules, rest):
                yield {k: place, **further}
    number, along = rail_of(plan, place)
    # Where no gap may be, what follows a free place is free to the rail's end.
    skip = 1 if _may_have_gaps(plan) else plan.enclosure.rails[number].modules - along
    yield from _walk(plan, place + skip, waiting)


def lawful(plan: BoardPlan, starts: Sequence[int]) -> bool:
    """Tell whether places, each allowed to its own item, keep the rules between them."""
    here = list(zip(plan.items, starts, strict=True))
    return (
        _spd_beside_backup(plan, here)
        and _incomer_ahead(plan, here)
        and _in_runs(plan, here)
        and (_may_have_gaps(plan) or _gap_only_at_the_end(plan, here))
    )


def rail_of(plan: BoardPlan, start: int) -> tuple[int, int]:
    """Return the rail of a place counted over all rails, and the place along it."""
    rails = plan.enclosure.rails
    number = 0
    while number + 1 < len(rails) and start >= rails[number].modules:
        start -= rails[number].modules
        number += 1
    return number, start


def _may_stand(plan: BoardPlan, item: Item, start: int) -> bool:
    """Tell whether an item may stand there for itself: whole, and where it is fixed if it is."""
    width = item.device.modules
    number, along = rail_of(plan, start)
    modules = plan.enclosure.rails[number].modules
    left = modules - along - width if plan.enclosure.hand == "right" else along
    if item.fixed_module is not None and (item.fixed_rail, item.fixed_module) != (number, left):
        return False
    if _combed(plan) and not _on_tooth(plan, item, start):
        return False
    return along + width <= modules and (item.role is not Role.MAIN_SWITCH or start == 0)


def _spd_beside_backup(plan: BoardPlan, here: Sequence[tuple[Item, int]]) -> bool:
    at = {item.role: (start, item.device.modules) for item, start in here if item.role in _BRANCH}
    if len(at) < len(_BRANCH):
        return True
    (backup, width), (spd, _) = at[Role.SPD_BACKUP], at[Role.SPD]
    return backup + width == spd and rail_of(plan, backup)[0] == rail_of(plan, spd)[0]


def _incomer_ahead(plan: BoardPlan, here: Sequence[tuple[Item, int]]) -> bool:
    """Ahead of an RCD for all stand the main switch and the SPD's branch, and nothing else."""
    for incomer, start in here:
        if incomer.role is Role.INCOMER_RCD:
            ahead = {item.role for item, at in here if at < start}
            behind = {item.role for item, at in here if at > start}
            width = sum(item.device.modules for item, at in here if at < start)
            if ahead - _AHEAD or behind & _AHEAD or rail_of(plan, start)[0] or width != start:
                return False
    return True


def _in_runs(plan: BoardPlan, here: Sequence[tuple[Item, int]]) -> bool:
    """Each section is one run on one rail from its RCD on, and nothing without one behind it."""
    for rcd, start in here:
        if rcd.role is not Role.SECTION_RCD:
            continue
        own = sorted((at, i.device.modules) for i, at in here if i.section == rcd.section)
        end = start + sum(width for _, width in own)
        number = rail_of(plan, start)[0]
        if own[0][0] != start or any(not start <= at < end for at, _ in own):
            return False
        if rail_of(plan, end - 1)[0] != number:
            return False
        loose = [at for item, at in here if not item.section and rail_of(plan, at)[0] == number]
        if any(at > start for at in loose):
            return False
    return True


def _may_have_gaps(plan: BoardPlan) -> bool:
    return _combed(plan) or any(item.fixed_module is not None for item in plan.items)


def _gap_only_at_the_end(plan: BoardPlan, here: Sequence[tuple[Item, int]]) -> bool:
    filled: dict[int, int] = {}
    reached: dict[int, int] = {}
    for item, start in here:
        number, along = rail_of(plan, start)
        filled[number] = filled.get(number, 0) + item.device.modules
        reached[number] = max(reached.get(number, 0), along + item.device.modules)
    return filled == reached


def _combed(plan: BoardPlan) -> bool:
    return any(busbar.phases == len(_TEETH) for busbar in plan.enclosure.busbars)


def _on_tooth(plan: BoardPlan, item: Item, start: int) -> bool:
    """Tell whether each busbar terminal of a way meets its own phase.

    Teeth repeat from the left: from the main switch on where it stands there, else from the
    rail's end.
    """
    if item.role not in {Role.CIRCUIT, Role.SPD_BACKUP}:
        return True
    number, along = rail_of(plan, start)
    modules = plan.enclosure.rails[number].modules
    left = modules - along - item.device.modules if plan.enclosure.hand == "right" else along
    if plan.enclosure.hand == "left" and number == 0:
        left -= sum(i.device.modules for i in plan.items if i.role is Role.MAIN_SWITCH)
    for terminal in item.device.terminals:
        phase = item.phase if terminal.conductor == "L" else terminal.conductor
        tooth = _TEETH[(left + int(terminal.offset_mm // 17.8)) % len(_TEETH)]
        if terminal.busbar and phase in _TEETH and phase != tooth:
            return False
    return True
