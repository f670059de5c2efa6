"""The SPD's line traced to the supply: what stands in between, by conductor and device."""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping

from boardwright.board.results import Arrangement, Role
from boardwright.wiring.results import Wiring

_LINES = ("L", "L1")


def way_to_supply(arrangement: Arrangement, wiring: Wiring) -> tuple[str, ...] | None:
    """Return the items between the SPD's line terminal and the supply, nearest first, or None."""
    joins = _joins(arrangement, wiring)
    starts = [f"spd.{name}" for name in _LINES if f"spd.{name}" in joins]
    came_from: dict[str, str] = dict.fromkeys(starts, "")
    queue = deque(starts)
    while queue:
        here = queue.popleft()
        if here.startswith("meter."):
            return _items_of(here, came_from)
        for there in joins.get(here, ()):
            if there not in came_from:
                came_from[there] = here
                queue.append(there)
    return None


def _joins(arrangement: Arrangement, wiring: Wiring) -> Mapping[str, list[str]]:
    """Return which line terminals are joined, by a conductor or through a closed device."""
    groups = [c.terminals for c in wiring.conductors if c.function in _LINES]
    for placement in arrangement.placements:
        item = placement.item
        if item.role is not Role.SPD:
            names = [t.name for t in item.device.terminals if t.conductor in _LINES]
            groups.append(tuple(f"{item.id}.{name}" for name in names))
    joins: dict[str, list[str]] = {}
    for group in groups:
        for terminal in group:
            joins.setdefault(terminal, []).extend(other for other in group if other != terminal)
    return joins


def _items_of(end: str, came_from: Mapping[str, str]) -> tuple[str, ...]:
    terminals = []
    while end:
        terminals.append(end)
        end = came_from[end]
    items = (terminal.rpartition(".")[0] for terminal in reversed(terminals))
    return tuple(dict.fromkeys(item for item in items if item not in {"spd", "meter"}))
