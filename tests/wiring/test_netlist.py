"""Which terminals are joined, board by board: followed as a graph, never by names of wires."""

import networkx as nx
import pytest

from boardwright.board.results import Arrangement, Role
from boardwright.wiring.results import Conductor, Origin
from tests.wiring.boards import (
    MAIN_SWITCH,
    RCBO,
    Home,
    arrangement,
    beside,
    delayed,
    device,
    enclosure,
    item,
    picture,
    spd_type,
    split,
    terminal,
    way,
    wired,
)


def nets(board: Arrangement, *, closed: bool, home: Home | None = None) -> nx.Graph:
    """Return the board as a graph of terminals; devices join line to line when closed."""
    graph = nx.Graph()
    for conductor in wired(board, home).conductors:
        nx.add_path(graph, [_node(board, name) for name in conductor.terminals])
    for placement in board.placements:
        for conductor_name in ("L", "L1", "L2", "L3", "N"):
            names = [
                f"{placement.item.id}.{t.name}"
                for t in placement.item.device.terminals
                if t.conductor == conductor_name
            ]
            if closed and placement.item.role is not Role.SPD:
                nx.add_path(graph, names)
    return graph


def _node(board: Arrangement, name: str) -> str:
    """All terminals of a bar are one piece of metal."""
    bars = [bar.id for bar in board.enclosure.bars if name.startswith(f"{bar.id}.")]
    return max(bars, key=len, default=name)


BOARDS = {"picture": picture(), "split": split(), "delayed": delayed()}


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS.keys())
def test_each_core_meets_its_own_conductor_and_no_other(board: Arrangement) -> None:
    graph = nets(board, closed=True)
    parts = [graph.subgraph(part).nodes for part in nx.connected_components(graph)]

    for conductor, place in (("L", "meter.L"), ("N", "meter.N"), ("PE", "met.PE")):
        (part,) = [p for p in parts if place in p]
        ends = {n for n in part if n.startswith("cable-")}
        circuits = [p.item.circuit_id for p in board.placements if p.item.circuit_id]
        assert ends == {f"cable-{c}.{conductor}" for c in circuits}
        assert f"spd.{conductor}" in part
    assert len(parts) == 3


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS.keys())
def test_with_every_device_open_no_circuit_is_live(board: Arrangement) -> None:
    graph = nets(board, closed=False)

    live = nx.node_connected_component(graph, "meter.L")

    assert not [n for n in live if n.startswith(("cable-", "spd."))]


def test_the_spd_is_ahead_of_the_delayed_rcd() -> None:
    """TT: the SPD of connection type 2 stands upstream of the RCD (534.4.6, from memory)."""
    board = delayed()
    graph = nets(board, closed=True)
    graph.remove_edge("incomer-rcd.L-in", "incomer-rcd.L-out")
    graph.remove_edge("incomer-rcd.N-in", "incomer-rcd.N-out")

    for conductor in ("L", "N"):
        live = nx.node_connected_component(graph, f"meter.{conductor}")
        assert f"spd.{conductor}" in live
        assert not [n for n in live if n.startswith("cable-")]


def test_each_section_has_its_own_neutral_bar() -> None:
    """The neutral of a circuit on another RCD's bar trips it: a classic of board changes."""
    ends = {c.id: c.end.terminal for c in wired(split()).conductors}

    assert ends["x-c0-n"].startswith("neutral-bar-a.")
    assert ends["x-c3-n"].startswith("neutral-bar-b.")
    assert ends["spd-n"].startswith("neutral-bar.")


def test_each_end_of_a_ring_has_its_own_earth_terminal() -> None:
    found = wired(picture(), Home(rings=frozenset({"c1"}))).conductors
    earths = [c.end.terminal for c in found if c.id in ("x-c1-pe", "x-c1-pe-2")]

    assert len(set(earths)) == 2


def test_no_bar_terminal_is_used_twice() -> None:
    found = wired(picture(ways=11), Home(rings=frozenset({"c1", "c2", "c3"}))).conductors
    bar = [n for c in found for n in c.terminals if n.startswith(("earth-bar.", "neutral-bar."))]

    assert len(bar) == len(set(bar)) == 2 + 14 + 2 + 11


def test_the_pin_out_is_read_and_not_assumed() -> None:
    """An SPD with neutral above and earth below, and one the other way, meet the same nets."""
    for kind in (spd_type("bottom", "top", "bottom"), spd_type("top", "bottom", "top")):
        graph = nets(picture(spd=kind), closed=True)

        assert nx.has_path(graph, "spd.PE", "met.PE")
        assert nx.has_path(graph, "spd.N", "meter.N")


def test_three_phases_keep_apart() -> None:
    graph = nets(_three_phase(), closed=True)

    for line in ("L1", "L2", "L3"):
        part = nx.node_connected_component(graph, f"meter.{line}")
        assert f"spd.{line}" in part
        assert not {f"meter.{other}" for other in ("L1", "L2", "L3") if other != line} & part
    assert nx.has_path(graph, "meter.L2", "cable-c0.L")
    assert nx.has_path(graph, "meter.N", "spd.N")


def test_three_phase_leads_have_the_harmonised_colours() -> None:
    """BS 7671 Table 51, from memory: brown, black, grey; blue; green-and-yellow."""
    found = {c.id: c.colour for c in wired(_three_phase(), Home(phases=3)).conductors}

    assert [found[f"tail-{line}"] for line in ("l1", "l2", "l3")] == ["brown", "black", "grey"]
    assert found["spd-n"] == "blue"
    assert found["x-c0-l"] == "brown"


def _three_phase() -> Arrangement:
    lines = ("L1", "L2", "L3", "N")
    main = device(
        MAIN_SWITCH.kind,
        4,
        [
            *(terminal(f"{c}-in", "top", 8.9 + 17.8 * k, "supply") for k, c in enumerate(lines)),
            *(
                terminal(f"{c}-out", "bottom", 8.9 + 17.8 * k, "load", busbar=c != "N")
                for k, c in enumerate(lines)
            ),
        ],
        phases=3,
        in_a=100,
    )
    spd = device(
        spd_type().kind,
        4,
        [
            *(
                terminal(c, "bottom" if c == "N" else "top", 8.9 + 17.8 * k, "line")
                for k, c in enumerate(lines)
            ),
            terminal("PE", "top", 62.3, "earth"),
        ],
        phases=3,
    )
    ways = [(8 + k, way(f"c{k}")) for k in range(2)]
    placed = [(at, item(i.id, i.role, RCBO, circuit_id=i.circuit_id, phase="L2")) for at, i in ways]
    return arrangement(
        [
            (0, item("main-switch", Role.MAIN_SWITCH, main)),
            (4, item("spd", Role.SPD, spd)),
            *placed,
        ],
        enclosure(phases=3),
    )


def test_the_box_takes_its_three_leads_from_the_board_as_found() -> None:
    found = wired(beside(), Home(box_lead_m=0.8)).conductors
    outside = {n for c in found for n in c.terminals if n.startswith("board.")}

    assert outside == {"board.L", "board.N", "board.PE"}


def test_a_comb_meets_every_tooth_and_no_other_feeders() -> None:
    combs = {c.id: c.teeth for c in wired(split()).conductors if c.origin is Origin.BUSBAR}

    assert combs["busbar"] == ("main-switch.L-out", "spd-backup.L-in")
    assert combs["busbar-a"] == ("rcd-a.L-out", "way-c0.L-in", "way-c1.L-in")
    assert combs["busbar-b"] == ("rcd-b.L-out", "way-c2.L-in", "way-c3.L-in")


def test_without_a_busbar_every_way_gets_a_link() -> None:
    board = picture(2)
    bare = arrangement([(p.module, p.item) for p in board.placements], enclosure(busbars=()))
    links = [c.id for c in wired(bare).conductors if c.id.startswith(("link-", "spd-tap"))]

    assert links == ["spd-tap-l", "link-way-c0-l", "link-way-c1-l"]


def test_sizes_follow_rating_survey_and_choice() -> None:
    """The fuse decides links, the survey tails and earthing, the choice the SPD's leads."""
    found: dict[str, Conductor] = {c.id: c for c in wired(picture(1)).conductors}

    assert found["tail-l"].csa_mm2 == 25
    assert found["earthing"].csa_mm2 == 16
    assert found["n-link"].csa_mm2 == 16
    assert (found["spd-l"].csa_mm2, found["spd-pe"].csa_mm2) == (4, 6)
    assert found["n-c0"].origin is Origin.FLYING
