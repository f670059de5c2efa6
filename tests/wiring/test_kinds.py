"""Every kind of board in every state of its switches: what is live is what its devices let through.

What must be live follows from the trade's own chain alone: main switch, RCD for all, RCD of the
section, the way's own device. Which terminals are joined is read from the wiring as a graph.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

import networkx as nx
import pytest

from boardwright.board.results import Arrangement, Item, Placement, Role
from boardwright.catalogue.devices import DeviceType, Kind
from boardwright.wiring.results import Conductor
from boardwright.wiring.wire import wire
from tests.wiring.boards import (
    MAIN_SWITCH,
    MCB,
    RCBO,
    RCCB,
    Home,
    arrangement,
    beside,
    choice,
    delayed,
    device,
    edition,
    enclosure,
    item,
    job,
    picture,
    spare_ways,
    spd_type,
    split,
    terminal,
    two_rails,
    way,
    wired,
)

LINES = ("L1", "L2", "L3")
_BRANCH = {Role.SPD, Role.SPD_BACKUP}


def _spd(connection: str = "CT2", *, fused: bool = False) -> DeviceType:
    """Return an SPD of a connection type, its back-up its own or built in."""
    kind = spd_type()
    assert kind.spd is not None
    data = kind.spd.model_copy(update={"connection": connection, "backup_internal": fused})
    return kind.model_copy(update={"spd": data})


FUSE = MCB.model_copy(update={"id": "fuse-carrier", "name": "Fuse carrier 63 A", "in_a": 63.0})


def _bare(spd: DeviceType, backup: DeviceType | None) -> Arrangement:
    """Return a board of two ways with an SPD and its back-up, if it has one."""
    ahead = [item("main-switch", Role.MAIN_SWITCH, MAIN_SWITCH)]
    ahead += [item("spd-backup", Role.SPD_BACKUP, backup)] if backup else []
    return _in_row([*ahead, item("spd", Role.SPD, spd), way("c0"), way("c1", MCB)])


def _in_row(items: list[Item]) -> Arrangement:
    placed, at = [], 0
    for one in items:
        placed.append((at, one))
        at += one.device.modules
    return arrangement(placed)


def _three_phase(*, incomer: bool = False) -> Arrangement:
    """Return a board of three phases, a three-pole way among its ways."""
    conductors = (*LINES, "N")
    ends = [
        *(terminal(f"{c}-in", "top", 8.9 + 17.8 * k, "supply") for k, c in enumerate(conductors)),
        *(
            terminal(f"{c}-out", "bottom", 8.9 + 17.8 * k, "load", busbar=c != "N")
            for k, c in enumerate(conductors)
        ),
    ]
    main = device(Kind.MAIN_SWITCH, 4, ends, phases=3, in_a=100)
    backup = device(
        Kind.MCB,
        3,
        [
            *(terminal(f"{c}-out", "top", 8.9 + 17.8 * k, "load") for k, c in enumerate(LINES)),
            *(
                terminal(f"{c}-in", "bottom", 8.9 + 17.8 * k, "supply", busbar=True)
                for k, c in enumerate(LINES)
            ),
        ],
        phases=3,
        in_a=32,
    )
    spd = device(
        Kind.SPD,
        4,
        [
            *(terminal(c, "top", 8.9 + 17.8 * k, "line") for k, c in enumerate(LINES)),
            terminal("N", "bottom", 62.3, "line"),
            terminal("PE", "top", 62.3, "earth"),
        ],
        phases=3,
    )
    rcd = device(Kind.RCCB, 4, ends, phases=3, in_a=100, idn_a=0.1)
    ways = [replace(way(f"c{k}"), phase=line) for k, line in enumerate(LINES)]
    front = [item("main-switch", Role.MAIN_SWITCH, main)]
    branch = [item("spd-backup", Role.SPD_BACKUP, backup), item("spd", Role.SPD, spd)]
    delayed_rcd = [item("incomer-rcd", Role.INCOMER_RCD, rcd)] if incomer else []
    row = [*front, *branch, *delayed_rcd, *ways]
    total = sum(one.device.modules for one in row)
    box = enclosure(
        phases=3,
        width_mm=20 * 17.8 + 90,
        rails=(enclosure().rails[0].model_copy(update={"modules": total + 2}),),
        busbars=(enclosure().busbars[0].model_copy(update={"phases": 3}),),
    )
    placed, at = [], 0
    for one in row:
        placed.append((at, one))
        at += one.device.modules
    return arrangement(placed, box)


def _sources() -> Arrangement:
    """Return a board with a charging point and a PV way whose devices pass energy both ways."""
    both = RCBO.model_copy(update={"bidirectional": True})
    return _in_row([
        item("main-switch", Role.MAIN_SWITCH, MAIN_SWITCH),
        item("spd-backup", Role.SPD_BACKUP, MCB),
        item("spd", Role.SPD, spd_type()),
        way("c0", both),
        way("c1"),
    ])  # fmt: skip


def _mixed() -> Arrangement:
    return _in_row([
        item("main-switch", Role.MAIN_SWITCH, MAIN_SWITCH),
        item("spd-backup", Role.SPD_BACKUP, MCB),
        item("spd", Role.SPD, spd_type()),
        way("c0", MCB), way("c1"), way("c2", MCB), way("c3"),
    ])  # fmt: skip


BOARDS = {
    "an RCBO on every way": picture(5),
    "two RCCB sections": split(),
    "one delayed RCD for all": delayed(),
    "MCB and RCBO mixed": _mixed(),
    "kept, SPD in spare ways": spare_ways(3, new=1),
    "two rails": two_rails(),
    "SPD behind its own MCB": _bare(_spd(), MCB),
    "SPD behind its own fuse": _bare(_spd(), FUSE),
    "SPD behind the cut-out alone": _bare(_spd(), None),
    "SPD with a fuse built in": _bare(_spd(fused=True), None),
    "SPD of connection type 1": _bare(_spd("CT1"), MCB),
    "earth below, neutral above": picture(3, spd_type("bottom", "top", "bottom")),
    "earth above, neutral below": picture(3, spd_type("top", "bottom", "top")),
    "all at the top": picture(3, spd_type("top", "top", "bottom")),
    "three phases": _three_phase(),
    "three phases, one delayed RCD": _three_phase(incomer=True),
    "charging point and PV": _sources(),
}


def _phases(board: Arrangement) -> int:
    return board.enclosure.phases


def _metal(board: Arrangement) -> nx.Graph[str]:
    """Return the terminals as the wires join them; all terminals of a bar are one piece."""
    graph: nx.Graph[str] = nx.Graph()
    home = Home(phases=_phases(board), source=board is BOARDS["charging point and PV"])
    for conductor in wired(board, home).conductors:
        nx.add_path(graph, [_node(board, name) for name in conductor.terminals])
    return graph


def _node(board: Arrangement, name: str) -> str:
    place = name.rpartition(".")[0]
    return place if place in {bar.id for bar in board.enclosure.bars} else name


def _closed(graph: nx.Graph[str], board: Arrangement, closed: set[str]) -> nx.Graph[str]:
    """Return the graph with the poles of the closed devices joined; an SPD joins nothing."""
    found = graph.copy()
    for placement in board.placements:
        own = placement.item
        for conductor in ("L", *LINES, "N") if own.id in closed else ():
            same = [t.name for t in own.device.terminals if t.conductor == conductor]
            nx.add_path(found, [f"{own.id}.{name}" for name in same])
    return found


def _switching(board: Arrangement) -> list[Item]:
    return [p.item for p in board.placements if p.item.role is not Role.SPD]


def _states(board: Arrangement) -> Iterator[set[str]]:
    """Yield every state of the switches as the set of those that are closed."""
    names = [one.id for one in _switching(board)]
    for state in product((False, True), repeat=len(names)):
        yield {name for name, on in zip(names, state, strict=True) if on}


def _chain(board: Arrangement, end: Item, conductor: str) -> set[str]:
    """Return the devices that stand between the supply and an item, its own among them."""
    items = [p.item for p in board.placements]
    ahead = {i.id for i in items if i.role is Role.MAIN_SWITCH}
    if end.role in _BRANCH:
        backups = {i.id for i in items if i.role is Role.SPD_BACKUP}
        return ahead | (backups if conductor != "N" else set())
    ahead |= {i.id for i in items if i.role is Role.INCOMER_RCD}
    ahead |= {i.id for i in items if i.role is Role.SECTION_RCD and i.section == end.section}
    poles = {t.conductor for t in end.device.terminals}
    return ahead | ({end.id} if conductor != "N" or "N" in poles else set())


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS.keys())
def test_in_every_state_just_those_are_live_whose_devices_are_closed(board: Arrangement) -> None:
    graph = _metal(board)
    lines = LINES if _phases(board) > 1 else ("L",)
    for closed in _states(board):
        there = _closed(graph, board, closed)
        live = {c: nx.node_connected_component(there, f"meter.{c}") for c in (*lines, "N")}
        for placement in board.placements:
            for conductor, name in _ends(placement, lines):
                wanted = _chain(board, placement.item, conductor) <= closed
                assert (name in live[conductor]) is wanted, (name, sorted(closed))


def _ends(placement: Placement, lines: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    """Yield each conductor of a circuit's cable, or of the SPD, with its end's name."""
    own = placement.item
    if own.role is Role.SPD:
        yield from ((c, f"spd.{c}") for c in (*lines, "N"))
    elif own.circuit_id:
        yield own.phase or "L", f"cable-{own.circuit_id}.L"
        yield "N", f"cable-{own.circuit_id}.N"


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS.keys())
def test_in_no_state_do_line_neutral_and_earth_meet(board: Arrangement) -> None:
    """All closed joins the most: what does not meet then meets in no state."""
    everything = {one.id for one in _switching(board)}
    there = _closed(_metal(board), board, everything)
    lines = LINES if _phases(board) > 1 else ("L",)
    roots = [*(f"meter.{c}" for c in (*lines, "N")), "met.PE"]

    parts = [frozenset(nx.node_connected_component(there, root)) for root in roots]

    assert len(set(parts)) == len(roots)
    assert "spd.PE" in parts[-1]
    for placement in board.placements:
        if placement.item.circuit_id:
            assert f"cable-{placement.item.circuit_id}.PE" in parts[-1]


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS.keys())
def test_every_terminal_that_needs_a_conductor_has_one(board: Arrangement) -> None:
    home = Home(phases=_phases(board))
    joined = {name for c in wired(board, home).conductors for name in c.terminals}

    for placement in board.placements:
        for end in placement.item.device.terminals:
            assert f"{placement.item.id}.{end.name}" in joined


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS.keys())
def test_no_conductor_is_larger_than_what_its_terminal_takes(board: Arrangement) -> None:
    limits = {
        f"{p.item.id}.{t.name}": t.capacity_mm2
        for p in board.placements
        for t in p.item.device.terminals
    }
    for bar in board.enclosure.bars:
        limits |= {f"{bar.id}.{n}": bar.capacity_mm2 for n in range(2, bar.count + 1)}
        limits[f"{bar.id}.1"] = bar.first_capacity_mm2

    for conductor in _wires(board):
        for name in {conductor.begin.terminal, conductor.end.terminal} & limits.keys():
            assert conductor.csa_mm2 <= limits[name], (conductor.id, name)


def _wires(board: Arrangement) -> list[Conductor]:
    found = wired(board, Home(phases=_phases(board))).conductors
    return [c for c in found if not c.teeth]


def test_a_box_beside_the_board_joins_the_spd_with_and_without_a_back_up() -> None:
    plain = beside()
    rail = plain.enclosure.rails[0]
    backup = Placement(item("spd-backup", Role.SPD_BACKUP, MCB), 0, 2, 3,
                       rail.x_mm + 2 * 17.8, rail.y_mm)  # fmt: skip
    for board in (plain, replace(plain, placements=(*plain.placements, backup))):
        names = {p.item.id for p in board.placements}
        graph = _box_metal(board)
        for closed in (set(), names):
            there = _closed(graph, board, closed - {"spd"})
            through = "spd-backup" not in names or "spd-backup" in closed
            assert nx.has_path(there, "board.L", "spd.L") is through
            assert nx.has_path(there, "board.N", "spd.N")
            assert nx.has_path(there, "board.PE", "spd.PE")


def _box_metal(board: Arrangement) -> nx.Graph[str]:
    graph: nx.Graph[str] = nx.Graph()
    for conductor in wired(board, Home(box_lead_m=0.3)).conductors:
        nx.add_path(graph, [_node(board, name) for name in conductor.terminals])
    return graph


def test_a_remote_board_takes_its_supply_from_the_submain_and_its_rccb_sections_from_itself() -> (
    None
):
    board = split()
    given = job(board).model_dump()
    given["supply"]["submain"] = {
        "fuse_a": 63, "cable": "flat twin and earth", "line_mm2": 16, "cpc_mm2": 6, "length_m": 20,
    }  # fmt: skip
    remote = type(job(board)).model_validate(given)

    found = {c.id: c for c in wire(board, remote, choice(), edition()).conductors}

    assert found["tail-l"].begin.label.startswith("Switch-fuse at the intake")
    assert found["tail-l"].csa_mm2 == 16
    assert found["earthing"].csa_mm2 == 6
    assert found["x-c0-n"].end.terminal.startswith("neutral-bar-a.")


def test_a_way_with_a_source_is_isolated_apart_and_its_device_passes_both_ways() -> None:
    """551.7.1 asks for a device that breaks with the source behind it (from memory)."""
    board = BOARDS["charging point and PV"]
    steps = {s.id: s for s in wired(board, Home(source=True)).steps}

    assert board.placement("way-c0").item.device.bidirectional
    assert "C0" in steps["isolate-sources"].text
    assert steps["sources-on"].number > steps["live-zdb"].number


def test_an_rccb_joins_line_to_line_alone() -> None:
    """A check that can fail: crossed poles would be seen by the test above."""
    board = split()
    graph = _metal(board)
    graph.add_edge("rcd-a.L-out", "rcd-a.N-out")
    there = _closed(graph, board, {one.id for one in _switching(board)})

    assert RCCB.poles == 2
    assert nx.has_path(there, "meter.L", "meter.N")
