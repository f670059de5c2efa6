"""A judge of wirings: what a tester with a continuity meter and a tape would find wrong.

It knows terminals, conductors and the devices' own poles; of the program's netlist it knows
nothing. What must reach what is the trade's own chain: main switch, RCD for all, RCD of the
section, the way's own device.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations, pairwise

import networkx as nx

from boardwright.board.results import DEVICE_HEIGHT_MM, Arrangement, Item, Role, Scheme
from boardwright.catalogue.devices import Kind, Terminal
from boardwright.wiring.results import Conductor, Origin, Wiring

_POLES = ("L", "L1", "L2", "L3", "N")
_RCDS = {Kind.RCCB, Kind.RCBO, Kind.AFDD}

Segment = tuple[float, float, float, float]


def wiring_faults(
    board: Arrangement, wiring: Wiring, earthless: frozenset[str] = frozenset()
) -> list[str]:
    """Return what is wrong with a wiring, one line each; ``earthless`` cables have no cpc."""
    return [
        *_reach(board, wiring, earthless),
        *_short_circuits(board, wiring),
        *_borrowed_neutrals(board, wiring),
        *_spd_behind_an_rcd(board, wiring),
        *_bare_terminals(board, wiring),
        *_oversized(board, wiring),
        *_out_of_place(board, wiring),
        *_overlaid(board, wiring),
    ]


def _metal(board: Arrangement, wiring: Wiring) -> nx.Graph[str]:
    graph: nx.Graph[str] = nx.Graph()
    bars = {bar.id for bar in board.enclosure.bars}
    for conductor in wiring.conductors:
        names = [n.rpartition(".")[0] if n.rpartition(".")[0] in bars else n
                 for n in conductor.terminals]  # fmt: skip
        nx.add_path(graph, names)
        graph.add_nodes_from(names)
    return graph


def _closed(board: Arrangement, wiring: Wiring, *opened: Item) -> nx.Graph[str]:
    """Return the metal with every pole closed but those of some devices."""
    graph = _metal(board, wiring)
    for placement in board.placements:
        item = placement.item
        for pole in _POLES if item not in opened and item.role is not Role.SPD else ():
            same = [t.name for t in item.device.terminals if t.conductor == pole]
            nx.add_path(graph, [f"{item.id}.{name}" for name in same])
        for pole in (*_POLES, "PE") if item.role is Role.SPD else ():
            # Through terminals of one conductor are one piece of metal.
            same = [t.name for t in item.device.terminals if t.conductor == pole]
            nx.add_path(graph, [f"{item.id}.{name}" for name in same])
    return graph


def _roots(board: Arrangement) -> dict[str, str]:
    separate = board.scheme is Scheme.SEPARATE_BOX
    lines = ("L",) if board.enclosure.phases == 1 else ("L1", "L2", "L3")
    place = "board" if separate else "meter"
    earth = "board.PE" if separate else "met.PE"
    return {**{c: f"{place}.{c}" for c in (*lines, "N")}, "PE": earth}


def _live(graph: nx.Graph[str], root: str) -> set[str]:
    return set(nx.node_connected_component(graph, root)) if root in graph else {root}


def _cables(board: Arrangement, wiring: Wiring) -> Iterator[tuple[Item, str, str]]:
    """Yield the cores that end here: the way, the conductor it is, its name."""
    ends = {c.begin.terminal: c for c in wiring.conductors if c.begin.terminal[:6] == "cable-"}
    for placement in board.placements:
        item = placement.item
        for name, conductor in ends.items():
            if name.rpartition(".")[0].removeprefix("cable-").split(".")[0] == item.circuit_id:
                yield item, conductor.function, name


def _reach(board: Arrangement, wiring: Wiring, earthless: frozenset[str]) -> Iterator[str]:
    """Everything closed, each core is on its own conductor of the supply."""
    graph, roots = _closed(board, wiring), _roots(board)
    seen = defaultdict(set)
    for item, function, name in _cables(board, wiring):
        # The busbar's own word for its one line is L; on three phases a way has a phase.
        line = (item.phase or function) if function.startswith("L") else function
        seen[item.id].add(function[0])
        if name not in _live(graph, roots[line]):
            yield f"{name} is not on {roots[line]}"
    for placement in board.placements:
        item = placement.item
        wanted = {"L"} if item.circuit_id in earthless else {"L", "P"}
        if item.circuit_id and not wanted <= seen[item.id]:
            yield f"{item.id} has no line or no earth from its cable"
        if item.circuit_id and item.device.phases == 1 and "N" not in seen[item.id]:
            yield f"{item.id} has no neutral from its cable"
        if item.role is Role.SPD:
            for terminal in item.device.terminals:
                root = roots.get(terminal.conductor, "")
                if root and f"{item.id}.{terminal.name}" not in _live(graph, root):
                    yield f"{item.id}.{terminal.name} is not on {root}"


def _short_circuits(board: Arrangement, wiring: Wiring) -> Iterator[str]:
    graph = _closed(board, wiring)
    parts = {name: _live(graph, root) for name, root in _roots(board).items()}
    for one, other in combinations(parts, 2):
        if parts[one] & parts[other]:
            yield f"{one} and {other} meet"


def _section_rcds(board: Arrangement) -> list[Item]:
    return [p.item for p in board.placements if p.item.role is Role.SECTION_RCD]


def _borrowed_neutrals(board: Arrangement, wiring: Wiring) -> Iterator[str]:
    """Open each section's RCD: it takes its own lines and neutrals off, and nobody else's."""
    roots = _roots(board)
    live = [root for name, root in roots.items() if name != "PE"]
    for rcd in _section_rcds(board):
        graph = _closed(board, wiring, rcd)
        there = set().union(*(_live(graph, root) for root in live))
        for item, function, name in _cables(board, wiring):
            off = item.section == rcd.section
            if function != "PE" and (name in there) is off:
                yield f"{rcd.id} open: {name} is {'on' if off else 'off'}"


def _spd_behind_an_rcd(board: Arrangement, wiring: Wiring) -> Iterator[str]:
    opened = [p.item for p in board.placements if p.item.device.kind in _RCDS]
    graph, roots = _closed(board, wiring, *opened), _roots(board)
    for placement in board.placements:
        if placement.item.role is Role.SPD:
            for terminal in placement.item.device.terminals:
                root = roots.get(terminal.conductor, "")
                if root and f"{placement.item.id}.{terminal.name}" not in _live(graph, root):
                    yield f"the SPD's {terminal.name} is behind an RCD"


def _bare_terminals(board: Arrangement, wiring: Wiring) -> Iterator[str]:
    joined = {name for c in wiring.conductors for name in c.terminals}
    v_wired = any(c.id.endswith("-board") for c in wiring.conductors)
    for placement in board.placements:
        for terminal in placement.item.device.terminals:
            if terminal.through and not v_wired:
                continue
            if _feeds_nothing(board, placement.item, terminal):
                continue
            if f"{placement.item.id}.{terminal.name}" not in joined:
                yield f"{placement.item.id}.{terminal.name} has no conductor"


def _feeds_nothing(board: Arrangement, item: Item, terminal: Terminal) -> bool:
    """Tell whether an RCD's outgoing line has no way on its phase to feed."""
    lines = {p.item.phase or "all" for p in board.placements if p.item.circuit_id}
    idle = terminal.conductor not in lines and "all" not in lines
    return (
        item.role is Role.INCOMER_RCD
        and terminal.role == "load"
        and idle
        and (terminal.conductor != "N")
    )


def overfilled(board: Arrangement, wiring: Wiring) -> set[str]:
    """Return the terminals whose cables together are more than they take."""
    inside = _inside(wiring)
    return {n for n, limit in _limits(board).items() if sum(inside.get(n, ())) > limit}


def _oversized(board: Arrangement, wiring: Wiring) -> Iterator[str]:
    """No conductor is larger than its terminal takes."""
    inside = _inside(wiring)
    for name, limit_mm2 in _limits(board).items():
        if max(inside.get(name, (0.0,))) > limit_mm2:
            yield f"{name} takes {limit_mm2:g} mm2 and holds {inside[name]}"


def _limits(board: Arrangement) -> dict[str, float]:
    limits = {f"{p.item.id}.{t.name}": t.capacity_mm2
              for p in board.placements for t in p.item.device.terminals}  # fmt: skip
    for bar in board.enclosure.bars:
        limits |= {f"{bar.id}.{n}": bar.capacity_mm2 for n in range(2, bar.count + 1)}
        limits[f"{bar.id}.1"] = bar.first_capacity_mm2
    return limits


def _inside(wiring: Wiring) -> dict[str, list[float]]:
    """Return the sizes of the cables in each terminal; the comb has a clamp of its own."""
    inside: dict[str, list[float]] = defaultdict(list)
    for conductor in wiring.conductors:
        for name in () if conductor.teeth else (conductor.begin.terminal, conductor.end.terminal):
            inside[name].append(conductor.csa_mm2)
    return inside


def _out_of_place(board: Arrangement, wiring: Wiring) -> Iterator[str]:
    box = board.enclosure
    spots = {f"{p.item.id}.{t.name}": (p.x_mm + t.offset_mm, p.y_mm)
             for p in board.placements for t in p.item.device.terminals}  # fmt: skip
    for conductor in wiring.conductors:
        if any(not (0 <= x <= box.width_mm and 0 <= y <= box.height_mm)
               for x, y, _ in conductor.path):  # fmt: skip
            yield f"{conductor.id} leaves the enclosure"
        if conductor.teeth:
            continue
        ends = ((conductor.begin, conductor.path[0]), (conductor.end, conductor.path[-1]))
        for end, (x_mm, y_mm, _) in ends:
            spot = spots.get(end.terminal)
            if spot and (abs(spot[0] - x_mm) > 4.5 or abs(abs(spot[1] - y_mm) - 42) > 0.1):
                yield f"{conductor.id} ends beside {end.terminal}"


def segments(conductor: Conductor) -> list[Segment]:
    """Return the straight parts of a path, seen from the front."""
    return [(ax, ay, bx, by) for (ax, ay, _), (bx, by, _) in pairwise(conductor.path)]


def in_front(wiring: Wiring) -> list[Conductor]:
    """Return the conductors that the work brings, cores of cables apart."""
    return [
        c
        for c in wiring.conductors
        if c.origin in (Origin.NEW, Origin.FLYING) and not c.begin.terminal.startswith("cable-")
    ]


def _overlaid(board: Arrangement, wiring: Wiring) -> Iterator[str]:
    found = in_front(wiring)
    for one, other in combinations(found, 2):
        shared_mm = sum(_common_mm(a, b) for a in segments(one) for b in segments(other))
        if shared_mm > 0:
            yield f"{one.id} lies on {other.id} over {shared_mm:.1f} mm"
    for conductor in found:
        for placement in board.placements:
            right_mm = placement.x_mm + placement.item.device.width_mm
            low_mm = placement.y_mm - DEVICE_HEIGHT_MM / 2
            high_mm = low_mm + DEVICE_HEIGHT_MM
            for ax, ay, bx, by in segments(conductor):
                beside = max(ax, bx) <= placement.x_mm or min(ax, bx) >= right_mm
                if not (beside or max(ay, by) <= low_mm or min(ay, by) >= high_mm):
                    yield f"{conductor.id} runs over {placement.item.id}"


def _common_mm(one: Segment, other: Segment) -> float:
    """Return the length over which two parallel parts lie on one another. [mm]"""
    upright = [math.isclose(s[0], s[2]) for s in (one, other)]
    if upright[0] != upright[1]:
        return 0.0
    along, across = (1, 0) if upright[0] else (0, 1)
    if abs(one[across] - other[across]) > 0.5:
        return 0.0
    a, b = sorted((one[along], one[along + 2])), sorted((other[along], other[along + 2]))
    return max(0.0, min(a[1], b[1]) - max(a[0], b[0]))
