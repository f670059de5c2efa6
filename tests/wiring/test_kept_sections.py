"""A board as found whose RCCBs feed sections: the job says which ways, the wiring keeps them."""

from functools import cache

import networkx as nx
import pytest

from boardwright.board.arrange import arrange
from boardwright.board.as_found import found_enclosure
from boardwright.board.legal import faults
from boardwright.board.results import Arrangement, Scheme
from boardwright.core.errors import InputErrors
from boardwright.job.board import ExistingBoard, ExistingDevice
from boardwright.job.job import Job
from boardwright.job.read import parse_job
from boardwright.wiring.results import Origin, Wiring
from boardwright.wiring.wire import wire
from tests.board.boards import catalogue
from tests.board.homes import edition, home, planned, spd_for, wishing, with_board
from tests.job.homes import HOME

RCCB = {"kind": "RCCB", "modules": 2, "in_a": 63, "idn_a": 0.03, "rcd_type": "AC"}
WAYS_A, WAYS_B = (3, 4), (7, 8)


def _board(**more: object) -> ExistingBoard:
    names = [circuit.id for circuit in home("cottage").circuits]
    ways = zip((*WAYS_A, *WAYS_B), names, strict=False)
    devices = (
        ExistingDevice.model_validate({**RCCB, "way": 1, "rcd_type": "A", "feeds": WAYS_A, **more}),
        ExistingDevice.model_validate({**RCCB, "way": 5, "feeds": WAYS_B, **more}),
        *(ExistingDevice(way=w, kind="MCB", in_a=16, curve="B", circuit=name) for w, name in ways),
    )
    return ExistingBoard(family="ravel-r1", ways=16, hand="left", devices=devices)


@cache
def _kept() -> tuple[Arrangement, Wiring]:
    job = _job()
    board = planned(job, Scheme.SPARE_WAYS)
    found = arrange(board, job.wishes)
    return found, wire(found, job, spd_for(job, board.enclosure), edition())


def _job() -> Job:
    return wishing(with_board(home("cottage"), _board()), board="keep")


def _reached(board: Arrangement, wiring: Wiring, start: str, opened: str) -> set[str]:
    """Return what is joined to a terminal with every device closed but one."""
    graph: nx.Graph[str] = nx.Graph()
    bars = {bar.id for bar in board.enclosure.bars}
    for conductor in wiring.conductors:
        ends = [n if n.rpartition(".")[0] not in bars else n.rpartition(".")[0]
                for n in conductor.terminals]  # fmt: skip
        nx.add_path(graph, ends)
    for placement in board.placements:
        item = placement.item
        for live in "LN" if item.id not in {opened, "spd"} else "":
            own = [t.name for t in item.device.terminals if t.conductor == live]
            nx.add_path(graph, [f"{item.id}.{name}" for name in own])
    return set(nx.node_connected_component(graph, start))


def test_the_split_enclosure_is_known_by_its_sections() -> None:
    split = found_enclosure(_board(), 1, catalogue())
    whole = found_enclosure(_board(feeds=()), 1, catalogue())

    assert split is not None
    assert {bar.section for bar in split.bars} == {"", "a", "b"}
    assert whole is None or not any(bar.section for bar in whole.bars)


@pytest.mark.parametrize(("rccb", "own"), [("found-1", WAYS_A), ("found-5", WAYS_B)])
def test_each_rccb_as_found_parts_its_own_ways_and_no_others(
    rccb: str, own: tuple[int, ...]
) -> None:
    board, wiring = _kept()
    assert faults(board) == ()
    ways = {p.way: p.item for p in board.placements if p.item.circuit_id}

    for conductor in "LN":
        fed = _reached(board, wiring, f"main-switch.{conductor}-out", opened=rccb)
        for way, item in ways.items():
            core = f"cable-{item.circuit_id}.{conductor}"
            assert (core in fed) is (way not in own), (way, core)
        assert f"spd.{conductor}" in fed


def test_neutrals_stay_on_the_bar_of_their_section() -> None:
    board, wiring = _kept()
    ends = {c.id: c.end.terminal for c in wiring.conductors}
    ways = {p.way: p.item.circuit_id for p in board.placements if p.item.circuit_id}

    assert all(ends[f"x-{ways[w]}-n"].startswith("neutral-bar-a.") for w in WAYS_A)
    assert all(ends[f"x-{ways[w]}-n"].startswith("neutral-bar-b.") for w in WAYS_B)
    assert ends["spd-n"].startswith("neutral-bar.")


def test_only_what_belongs_to_the_spd_is_new() -> None:
    new = {c.id for c in _kept()[1].conductors if c.origin in (Origin.NEW, Origin.FLYING)}

    assert new
    assert all(name.startswith("spd-") for name in new)


@pytest.mark.parametrize(
    ("devices", "said"),
    [
        ("{way: 4, kind: MCB, feeds: [1]}", "a MCB is no RCCB"),
        ("{way: 4, kind: RCCB, feeds: [6]}", "first way of another device"),
        (
            "{way: 4, kind: RCCB, feeds: [1]}, {way: 5, kind: RCCB, feeds: [1]}",
            "behind no other RCCB: way 4 feeds it",
        ),
    ],
)
def test_ways_that_cannot_be_behind_it_are_told(devices: str, said: str) -> None:
    more = "".join(f"\n    - {device}}}" for device in devices.removesuffix("}").split("}, "))
    there = "    - {way: 2, modules: 2, kind: RCCB}"
    assert there in HOME
    text = HOME.replace(there, there + more)

    with pytest.raises(InputErrors) as raised:
        parse_job(text, "home.yaml")

    assert "feeds" in str(raised.value)
    assert said in str(raised.value)
