"""The places found for one board, taken for another that the search cannot tell from it."""

from __future__ import annotations

from dataclasses import replace

from boardwright.board.results import Arrangement, BoardPlan, Item, Role

_BRANCH = frozenset({Role.SPD, Role.SPD_BACKUP})


def again(arrangement: Arrangement, before: BoardPlan, board: BoardPlan) -> Arrangement | None:
    """Return a board in the places of one arranged before; None where the search could differ.

    The two may differ in the make of the SPD and of its back-up alone, not in their shape.
    """
    alike = before.enclosure == board.enclosure and before.scheme is board.scheme
    if not alike or len(before.items) != len(board.items):
        return None
    pairs = list(zip(before.items, board.items, strict=True))
    if not all(_same_to_the_search(one, other) for one, other in pairs):
        return None
    other_of = {one.id: other for one, other in pairs}
    placements = tuple(replace(p, item=other_of[p.item.id]) for p in arrangement.placements)
    return replace(arrangement, placements=placements)


def _same_to_the_search(one: Item, other: Item) -> bool:
    if one.role not in _BRANCH or one.role is not other.role:
        return one == other
    return replace(one, device=other.device) == other and _shape(one) == _shape(other)


def _shape(item: Item) -> tuple[int, list[tuple[str, float]]]:
    """Return what the search sees of the SPD's branch: its width and its busbar terminals."""
    teeth = [(t.conductor, t.offset_mm) for t in item.device.terminals if t.busbar]
    return item.device.modules, sorted(teeth)
