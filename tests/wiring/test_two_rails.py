"""A board of two rails, wired: each rail fed, each rail's bars joined, nothing left open."""

from functools import cache

import networkx as nx

from boardwright.board.arrange import arrange
from boardwright.board.legal import faults
from boardwright.board.plan import plan_board
from boardwright.board.results import Role, Scheme
from boardwright.job.job import Job
from boardwright.wiring.results import Wiring
from boardwright.wiring.wire import wire
from tests.board.boards import catalogue
from tests.board.homes import circuit_plan, edition, home, spd_for, wishing

TWO_RAILS = catalogue().enclosures["ravel-r1-2x18"]


def _large() -> Job:
    """Return the semi with each circuit twice, and some three times: 25 circuits."""
    job = home("semi")
    circuits = list(job.circuits)
    for letter, more in (("y", job.circuits), ("z", job.circuits[:7])):
        circuits += [
            circuit.model_copy(
                update={
                    "id": f"{circuit.id}{letter}",
                    "way": None,
                    "readings": circuit.readings.model_copy(update={"shares_neutral_with": None}),
                }
            )
            for circuit in more
        ]
    return wishing(job.model_copy(update={"circuits": tuple(circuits)}), enclosure=TWO_RAILS.id)


@cache
def _wired() -> tuple[frozenset[str], Wiring]:
    job = _large()
    spd = spd_for(job, TWO_RAILS)
    board = plan_board(Scheme.NEW_BOARD, TWO_RAILS, job, circuit_plan(job), spd, catalogue())
    assert board.missing == ()
    found = arrange(board, job.wishes)
    assert faults(found) == ()
    assert {p.rail for p in found.placements} == {0, 1}
    ways = frozenset(p.item.id for p in found.placements if p.item.role is Role.CIRCUIT)
    return ways, wire(found, job, spd, edition())


def _net(function: str, start: str) -> set[str]:
    """Return all terminals joined to one by conductors of a function; a bar is one terminal."""
    graph: nx.Graph[str] = nx.Graph()
    for conductor in _wired()[1].conductors:
        if conductor.function == function:
            names = [
                name.rpartition(".")[0] if "-bar" in name or name.startswith("feed-") else name
                for name in conductor.terminals
            ]
            nx.add_path(graph, names)
    return set(nx.node_connected_component(graph, start))


def test_every_way_of_both_rails_is_fed_from_the_main_switch() -> None:
    ways, _ = _wired()

    net = _net("L", "main-switch.L-out")

    assert {f"{way}.L-in" for way in ways} <= net


def test_the_bars_of_the_further_rail_are_linked() -> None:
    ways, _ = _wired()

    neutral, earth = _net("N", "main-switch.N-out"), _net("PE", "met.PE")

    assert {"neutral-bar", "neutral-bar-2"} <= neutral
    assert {f"{way}.N-in" for way in ways} <= neutral
    assert {"earth-bar", "earth-bar-2", "spd.PE"} <= earth


def test_links_between_rails_are_as_thick_as_those_they_continue() -> None:
    sizes = {c.id: c.csa_mm2 for c in _wired()[1].conductors}

    assert sizes["link-rail-2-l"] == sizes["n-link-rail-2"] == sizes["n-link"]
    assert sizes["pe-link-rail-2"] == sizes["earthing"]


def test_fitted_neutral_leads_go_to_the_bar_of_their_own_rail() -> None:
    for conductor in _wired()[1].conductors:
        if conductor.group == "neutral-leads":
            assert conductor.length_mm < 250
