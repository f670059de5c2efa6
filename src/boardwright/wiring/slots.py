"""Which terminal of a bar each conductor takes.

The order along the bar is the order along the rail, so that leads need not cross. Among
the orders that keep it, the one with the shortest way wins, the SPD's leads counting many
times: most leads then drop straight into their terminal, and the last ones nest.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from boardwright.catalogue.enclosures import Bar
from boardwright.wiring.geometry import LEAST_STEP_MM, STRAIGHT_MM

SPD_WEIGHT = 20.0
"""How much more a millimetre of the SPD's leads counts than one of another lead."""

_BAD_COST = 40.0
_BESIDE_MM = 2.5

_SHARE_COST, _RING_COST = 400.0, 30.0
"""Two conductors in one terminal, and the two ends of a ring in one."""

_TOO_MUCH_COST = 1e6

_GAP_COST = 0.5
"""Between equals, neighbours stay together, so that spare terminals do too."""


@dataclass(frozen=True, slots=True)
class Request:
    """A conductor that wants a terminal of the bar, and where it comes from.

    ``fixed`` is the number it must take, 0 for any; ``slants`` is true for a core that need not
    come down upright; ``avoid_mm`` are the places of its own cable's other cores; ``circuit`` is
    the circuit that a core belongs to: both ends of a ring may share a terminal.
    """

    id: str
    x_mm: float
    csa_mm2: float
    weight: float = 1.0
    fixed: int = 0
    slants: bool = False
    avoid_mm: tuple[float, ...] = ()
    circuit: str = ""


def allot(bar: Bar, requests: Sequence[Request]) -> dict[str, int]:
    """Return the terminal number of each request.

    On a bar with too few terminals as few as can be share one, the two ends of a ring first: a
    finding tells.
    """
    taken = {request.id: request.fixed for request in requests if request.fixed}
    free = sorted(
        (number for number in range(1, bar.count + 1) if number not in taken.values()),
        key=bar.terminal_x_mm,
    ) or [1]
    waiting = sorted((r for r in requests if not r.fixed), key=lambda r: r.x_mm)
    shares = -(-len(waiting) // len(free)) if waiting else 1
    slots = [number for number in free for _ in range(shares)]
    chosen = _cheapest(bar, waiting, slots)
    return taken | {r.id: slots[k] for r, k in zip(waiting, chosen, strict=True)}


def capacity_mm2(bar: Bar, number: int) -> float:
    """Return what a terminal of a bar takes. [mm²]"""
    return bar.first_capacity_mm2 if number == 1 else bar.capacity_mm2


def _cheapest(bar: Bar, waiting: Sequence[Request], slots: list[int]) -> list[int]:
    """Return indices into slots, rising, at the least cost: a walk over (request, slot)."""
    best: list[list[tuple[float, int]]] = []
    for row, request in enumerate(waiting):
        costs: list[tuple[float, int]] = []
        # Cost of the best terminal before, grown by one gap at each further one.
        before, at = (0.0, -1) if row == 0 else (float("inf"), -1)
        for k, number in enumerate(slots):
            way = (before, at)
            if row and k and number != slots[k - 1]:
                own = [j for j in range(k) if slots[j] == slots[k - 1]]
                nearest = min(own, key=lambda j: best[-1][j][0])
                way = min((before + _GAP_COST, at), (best[-1][nearest][0], nearest))
                before, at = way
            elif row and k:
                shared = best[-1][k - 1][0] + _shared(bar, waiting[row - 1], request, number)
                way = min(way, (shared, k - 1))
            costs.append((way[0] + _cost(bar, request, number), way[1]))
        best.append(costs)
    return _walked_back(best)


def _shared(bar: Bar, one: Request, other: Request, number: int) -> float:
    """Return the cost of two conductors in one terminal."""
    too_much = one.csa_mm2 + other.csa_mm2 > capacity_mm2(bar, number)
    ring = one.circuit != "" and one.circuit == other.circuit
    return (_RING_COST if ring else _SHARE_COST) + _TOO_MUCH_COST * too_much


def _walked_back(best: list[list[tuple[float, int]]]) -> list[int]:
    if not best:
        return []
    at = min(range(len(best[-1])), key=lambda k: best[-1][k][0])
    chosen = [at]
    for costs in reversed(best[1:]):
        chosen.append(costs[chosen[-1]][1])
    return list(itertools.chain(reversed(chosen)))


def _cost(bar: Bar, request: Request, number: int) -> float:
    """Return the cost of a terminal: the way to it, and what would look or fit badly."""
    step_mm = abs(bar.terminal_x_mm(number) - request.x_mm)
    short = STRAIGHT_MM < step_mm < LEAST_STEP_MM and not request.slants
    too_small = request.csa_mm2 > capacity_mm2(bar, number)
    x_mm = bar.terminal_x_mm(number)
    hidden = any(abs(x_mm - other_mm) < _BESIDE_MM for other_mm in request.avoid_mm)
    return request.weight * step_mm + _BAD_COST * (short or hidden) + _TOO_MUCH_COST * too_small
