"""An order with one device on another way: judged as it stands, nothing searched for anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from boardwright.board.arrange import price
from boardwright.board.legal import faults
from boardwright.board.preferences import weighed
from boardwright.board.problem import state
from boardwright.board.rails import Rails
from boardwright.board.results import Arrangement, BoardPlan, Placement, Role
from boardwright.core.errors import FieldError
from boardwright.job.board import Wishes

_BRANCH = (Role.SPD_BACKUP, Role.SPD)


@dataclass(frozen=True, slots=True)
class Moved:
    """The order after a move: what no rule allows in it, else what it pays for each wish."""

    arrangement: Arrangement
    faults: tuple[str, ...]


def moved(
    before: Arrangement, board: BoardPlan, wishes: Wishes, *, item_id: str, way: int
) -> Moved:
    """Return an order with a device at a way, and what goes with it around it.

    Where all stand side by side, the others close up around it in the order they had; where
    places may stay free, it changes places with what stands there.

    Raises
    ------
    FieldError
        No such device stands on the rail.
    """
    block = _with_it(before, item_id)
    rails = Rails(before.enclosure)
    places = {p.item.id: rails.place(p.rail, p.module, _width(p)) for p in before.placements}
    switch = sum(_width(p) for p in before.placements if p.item.role is Role.MAIN_SWITCH)
    begin = min(places[p.item.id] for p in block)
    target = way + switch - 1 - (places[item_id] - begin)
    if _side_by_side(before, board):
        new = _closed_up(before, block, places, target)
    else:
        new = _changed_over(before, block, places, target)
    arrangement = replace(before, placements=_placed(before, rails, new, switch), note="", gap=0.0)
    found = faults(arrangement)
    if found:
        return Moved(replace(arrangement, preferences=()), found)
    return Moved(_priced(arrangement, board, wishes, new), ())


def _with_it(before: Arrangement, item_id: str) -> tuple[Placement, ...]:
    """Return the devices that move as one: the SPD with its back-up, an RCD with its section."""
    try:
        item = before.placement(item_id).item
    except KeyError:
        raise FieldError("item", item_id, "a device on the rail") from None
    if item.role in _BRANCH:
        return tuple(p for p in before.placements if p.item.role in _BRANCH)
    if item.role is Role.SECTION_RCD:
        return tuple(p for p in before.placements if p.item.section == item.section)
    return (before.placement(item_id),)


def _width(placement: Placement) -> int:
    return placement.item.device.modules


def _side_by_side(before: Arrangement, board: BoardPlan) -> bool:
    comb = any(busbar.phases > 1 for busbar in board.enclosure.busbars)
    fixed = any(p.item.fixed_module is not None for p in before.placements)
    return not comb and not fixed and len(before.enclosure.rails) == 1


def _closed_up(
    before: Arrangement, block: Sequence[Placement], places: dict[str, int], target: int
) -> dict[str, int]:
    """Return each device's place with the block put in before what stands at the target."""
    moving = {p.item.id for p in block}
    in_order = sorted(before.placements, key=lambda p: places[p.item.id])
    others = [p for p in in_order if p.item.id not in moving]
    own = [p for p in in_order if p.item.id in moving]
    ahead: list[Placement] = []
    filled = 0
    # Ahead stays what fills the places up to the target at least by half.
    while len(ahead) < len(others) and filled + _width(others[len(ahead)]) / 2 <= target:
        filled += _width(others[len(ahead)])
        ahead.append(others[len(ahead)])
    new, place = {}, 0
    for p in (*ahead, *own, *others[len(ahead) :]):
        new[p.item.id] = place
        place += _width(p)
    return new


def _changed_over(
    before: Arrangement, block: Sequence[Placement], places: dict[str, int], target: int
) -> dict[str, int]:
    """Return each device's place with the block at the target, what stood there in its stead."""
    moving = {p.item.id for p in block}
    begin = min(places[p.item.id] for p in block)
    span = sum(_width(p) for p in block)
    new = dict(places)
    for p in block:
        new[p.item.id] = places[p.item.id] + target - begin
    for p in before.placements:
        at = places[p.item.id]
        if p.item.id not in moving and at < target + span and target < at + _width(p):
            new[p.item.id] = begin + (at - target)
    return new


def _placed(
    before: Arrangement, rails: Rails, new: dict[str, int], switch: int
) -> tuple[Placement, ...]:
    """Return the devices in their places, rail by rail, from the left."""
    placed = []
    for p in before.placements:
        place = max(new[p.item.id], 0)
        number = rails.rail(place)
        rail, module = before.enclosure.rails[number], rails.module(place, _width(p))
        way = 0 if p.item.role is Role.MAIN_SWITCH else place - switch + 1
        placed.append(Placement(p.item, number, module, way, rail.left_mm(module), rail.y_mm))
    return tuple(sorted(placed, key=lambda p: (p.rail, p.module)))


def _priced(
    arrangement: Arrangement, board: BoardPlan, wishes: Wishes, places: dict[str, int]
) -> Arrangement:
    """Return the order with what it pays for each wish; as it is where no search allows it."""
    wanted = weighed(wishes.preferences)
    items = tuple(item for item in board.items if item.id in places)
    problem = state(board, items, wishes, wanted)
    starts = tuple(places[item.id] for item in items)
    if any(place not in allowed for place, allowed in zip(starts, problem.starts, strict=True)):
        return replace(arrangement, preferences=())
    paid = (*price(problem, starts, wanted), *board.division)
    return replace(arrangement, preferences=paid, proven=False)
