"""Paths through the enclosure: against shortest paths on a grid, and what holds for all of them."""

import math
from itertools import combinations, pairwise
from random import Random

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.board.results import DEVICE_HEIGHT_MM, Arrangement, Item
from boardwright.catalogue.devices import DeviceType
from boardwright.catalogue.enclosures import CableEntry
from boardwright.wiring.geometry import BAR_HEIGHT_MM, STRAIGHT_MM
from boardwright.wiring.results import Conductor, Origin, Wiring
from tests.wiring.boards import (
    MCB,
    RCBO,
    Home,
    Side,
    arrangement,
    beside,
    delayed,
    enclosure,
    picture,
    spd_type,
    split,
    two_rails,
    way,
    wired,
)
from tests.wiring.drawn import drawn_home

Segment = tuple[float, float, float, float]
_SIDES: tuple[Side, ...] = ("top", "bottom")
SIDES = st.sampled_from(_SIDES)
BOARDS = {
    "picture": picture(),
    "full": picture(ways=11),
    "split": split(),
    "delayed": delayed(),
    "beside": beside(),
    "earth below": picture(spd=spd_type(earth="bottom")),
}


DRAWN = [4, 13, 15, 20, 51]
"""Seeds of new boards of one rail, without a free place between devices."""


def new(wiring: Wiring) -> list[Conductor]:
    return [
        c
        for c in wiring.conductors
        if c.origin in (Origin.NEW, Origin.FLYING) and not c.begin.terminal.startswith("cable-")
    ]


def segments(conductor: Conductor) -> list[Segment]:
    return [(ax, ay, bx, by) for (ax, ay, _), (bx, by, _) in pairwise(conductor.path)]


def upright(segment: Segment) -> bool:
    return math.isclose(segment[0], segment[2])


def common_mm(one: Segment, other: Segment) -> float:
    """Return the length that two parallel parts share when they lie on one another."""
    if upright(one) != upright(other):
        return 0.0
    along, across = (1, 0) if upright(one) else (0, 1)
    if abs(one[across] - other[across]) > 0.5:
        return 0.0
    a, b = sorted((one[along], one[along + 2])), sorted((other[along], other[along + 2]))
    return max(0.0, min(a[1], b[1]) - max(a[0], b[0]))


def cross(one: Segment, other: Segment) -> bool:
    if upright(one) == upright(other):
        return False
    post, beam = (one, other) if upright(one) else (other, one)
    low, high = sorted((post[1], post[3]))
    left, right = sorted((beam[0], beam[2]))
    return left < post[0] < right and low < beam[1] < high


def crossings(one: Conductor, other: Conductor) -> int:
    return sum(cross(a, b) for a in segments(one) for b in segments(other))


def manhattan_mm(conductor: Conductor) -> float:
    return sum(abs(ax - bx) + abs(ay - by) for ax, ay, bx, by in segments(conductor))


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS.keys())
def test_paths_are_square_and_stay_inside(board: Arrangement) -> None:
    box = board.enclosure
    for conductor in new(wired(board)):
        for ax, ay, bx, by in segments(conductor):
            assert math.isclose(ax, bx) or math.isclose(ay, by), conductor.id
            assert 0 <= min(ax, bx) <= max(ax, bx) <= box.width_mm, conductor.id
            assert 0 <= min(ay, by) <= max(ay, by) <= box.height_mm, conductor.id


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS.keys())
def test_no_new_conductor_runs_over_another_or_over_a_device(board: Arrangement) -> None:
    found = new(wired(board))
    for one, other in combinations(found, 2):
        shared_mm = sum(common_mm(a, b) for a in segments(one) for b in segments(other))
        assert shared_mm == 0, (one.id, other.id)
    half_mm = DEVICE_HEIGHT_MM / 2
    for conductor in found:
        for placement in board.placements:
            left_mm, right_mm = placement.x_mm, placement.x_mm + placement.item.device.width_mm
            for ax, ay, bx, by in segments(conductor):
                beside_it = max(ax, bx) <= left_mm or min(ax, bx) >= right_mm
                low_mm, high_mm = placement.y_mm - half_mm, placement.y_mm + half_mm
                past_it = max(ay, by) <= low_mm or min(ay, by) >= high_mm
                assert beside_it or past_it, (conductor.id, placement.item.id)


@pytest.mark.parametrize("name", ["picture", "full", "split", "earth below"])
def test_no_two_leads_of_a_neutral_bundle_cross(name: str) -> None:
    leads = [c for c in new(wired(BOARDS[name])) if c.group == "neutral-leads" or c.id == "n-link"]

    assert sum(crossings(a, b) for a, b in combinations(leads, 2)) == 0


@settings(deadline=None, max_examples=25)
@given(ways=st.integers(0, 11), line=SIDES, neutral=SIDES, earth=SIDES)
def test_any_pin_out_is_wired_without_overlap(
    ways: int, line: Side, neutral: Side, earth: Side
) -> None:
    kind = spd_type(line, neutral, earth)
    found = new(wired(picture(ways, kind)))

    for one, other in combinations(found, 2):
        shared_mm = sum(common_mm(a, b) for a in segments(one) for b in segments(other))
        assert shared_mm == 0, (one.id, other.id)


@pytest.mark.parametrize("name", ["picture", "full", "earth below"])
def test_routes_against_shortest_paths_on_a_grid(name: str) -> None:
    """Dijkstra (networkx) on a 1 mm grid without the devices: no route is shorter.

    A step between facing terminals is as short as can be; a route round an end or an arch
    pays only for its lanes: so much beyond the row of devices, twice.
    """
    assert _beyond_the_shortest(BOARDS[name], wired(BOARDS[name]), lanes_mm=30) == []


@pytest.mark.slow
@pytest.mark.parametrize("seed", DRAWN)
def test_routes_of_drawn_homes_against_shortest_paths(seed: int) -> None:
    drawn = drawn_home(seed)

    # Links of 16 mm² and more round the end of a full split board lie in deeper lanes.
    assert _beyond_the_shortest(drawn.arrangement, drawn.wiring, lanes_mm=40) == []


def _beyond_the_shortest(board: Arrangement, wiring: Wiring, lanes_mm: float) -> list[str]:
    """Return the conductors that are longer than their lanes explain, or shorter than can be."""
    grid = _grid(board)
    strays = []
    for conductor in new(wiring):
        begin, end = conductor.path[0], conductor.path[-1]
        shortest_mm = nx.shortest_path_length(grid, _node(*begin[:2]), _node(*end[:2]))
        step = len(conductor.path) == 4 and _facing(conductor)
        most_mm = shortest_mm + (2 if step else 4 * lanes_mm)
        if not shortest_mm - 2 <= manhattan_mm(conductor) <= most_mm:
            strays.append(conductor.id)
    return strays


def _facing(conductor: Conductor) -> bool:
    first, _, last = segments(conductor)
    return (first[3] - first[1]) * (last[3] - last[1]) > 0


def _node(x_mm: float, y_mm: float) -> tuple[int, int]:
    return round(x_mm), round(y_mm)


def _grid(board: Arrangement) -> nx.Graph:
    box = board.enclosure
    grid = nx.grid_2d_graph(round(box.width_mm) + 1, round(box.height_mm) + 1)
    half_mm = DEVICE_HEIGHT_MM / 2
    for placement in board.placements:
        left, right = placement.x_mm, placement.x_mm + placement.item.device.width_mm
        # Closed from edge to edge, so that no path slips between two neighbours.
        grid.remove_nodes_from(
            (x, y)
            for x in range(math.floor(left), math.ceil(right) + 1)
            for y in range(round(placement.y_mm - half_mm) + 1, round(placement.y_mm + half_mm))
        )
    return grid


def test_the_picture_of_the_look() -> None:
    """What the project's picture shows: the SPD's neutral drops straight, its line is an arch,

    the earthing conductor takes terminal 1, the tails drop straight into the main switch.
    """
    paths = {c.id: c.path for c in wired(BOARDS["picture"]).conductors}

    assert len(paths["spd-n"]) == len(paths["tail-l"]) == len(paths["tail-n"]) == 2
    assert [round(x, 1) for x, _, _ in paths["spd-l"]] == [88.1, 88.1, 105.9, 105.9]
    assert paths["spd-l"][1][1] > paths["spd-l"][0][1]


def test_ends_stand_at_their_terminals() -> None:
    board = BOARDS["full"]
    for conductor in new(wired(board)):
        for end, (x_mm, y_mm, _) in zip(
            (conductor.begin, conductor.end), (conductor.path[0], conductor.path[-1]), strict=True
        ):
            place, _, name = end.terminal.rpartition(".")
            for bar in board.enclosure.bars:
                if bar.id == place:
                    assert abs(x_mm - bar.terminal_x_mm(int(name))) <= STRAIGHT_MM
                    assert abs(y_mm - bar.y_mm) == BAR_HEIGHT_MM / 2
            for placement in board.placements:
                if placement.item.id == place:
                    assert abs(x_mm - placement.terminal_mm(name)[0]) <= STRAIGHT_MM
                    assert abs(y_mm - placement.y_mm) == DEVICE_HEIGHT_MM / 2


@settings(deadline=None, max_examples=20)
@given(spd_at=st.integers(3, 9))
def test_moving_the_spd_away_never_shortens_its_leads(spd_at: int) -> None:
    """Away from its back-up beside the main switch, way by way."""
    near, far = (wired(picture(2, spd_at=at)).spd_leads for at in (spd_at, spd_at + 1))

    assert near is not None
    assert far is not None
    assert far.total_m >= near.total_m


def test_a_core_comes_straight_down_to_its_device() -> None:
    cores = [c for c in wired(BOARDS["picture"]).conductors if c.id == "x-c0-l"]

    (core,) = cores
    assert core.path[-1][0] == core.path[-2][0]
    assert core.origin is Origin.EXISTING


def test_two_cores_in_one_terminal_stand_beside_one_another() -> None:
    found = wired(BOARDS["picture"], Home(rings=frozenset({"c0"}))).conductors
    ends_mm = [c.path[-1][0] for c in found if c.id in ("x-c0-l", "x-c0-l-2")]

    assert ends_mm[1] - ends_mm[0] == 2.0


def test_an_offset_that_both_ends_can_share_makes_no_bend() -> None:
    """2.5 mm off the terminal above: 1.25 mm at each end, within what a clamp takes."""
    bar = picture().enclosure.bars[0]
    at_mm = next(c.path[0][0] for c in wired(picture(2)).conductors if c.id == "spd-n")
    beside = bar.model_copy(update={"x_mm": at_mm - bar.terminal_x_mm(3) + bar.x_mm - 2.5})
    board = picture(2)
    box = enclosure(bars=(beside, board.enclosure.bars[1]))
    moved = Arrangement(board.scheme, box, board.placements, 0, (), proven=True, gap=0.0)

    lead = next(c for c in wired(moved).conductors if c.id == "spd-n")

    assert lead.end.terminal == f"{bar.id}.3"
    assert [round(x - at_mm, 6) for x, _, _ in lead.path] == [-1.25, -1.25]


def test_an_enclosure_without_named_entries_takes_cables_above_their_ways() -> None:
    board = picture(2)
    bare = Arrangement(
        board.scheme, enclosure(entries=()), board.placements, 0, (), proven=True, gap=0.0
    )
    tail = next(c for c in wired(bare).conductors if c.id == "tail-l")

    assert tail.path[0][:2] == (52.5, 258)


def test_two_rails_are_wired_each_from_its_own_comb() -> None:
    board = two_rails()
    found = wired(board)
    combs = [c.teeth for c in found.conductors if c.origin is Origin.BUSBAR]

    assert combs[1] == ("way-c1.L-in", "way-c2.L-in")
    assert "link-way-c1-l" in {c.id for c in found.conductors}
    for one, other in combinations(new(found), 2):
        assert not [1 for a in segments(one) for b in segments(other) if common_mm(a, b)]


@settings(deadline=None, max_examples=60)
@given(
    ways=st.lists(st.sampled_from([RCBO, MCB]), max_size=6),
    order=st.randoms(use_true_random=False),
    edge=st.sampled_from(["top", "bottom", "left", "right", "back"]),
    from_right=st.booleans(),
)
def test_any_order_entry_and_numbering_is_wired_inside_the_enclosure(
    ways: list[DeviceType], order: Random, edge: str, *, from_right: bool
) -> None:
    numbered = {"numbered_from": "right" if from_right else "left"}
    bars = tuple(bar.model_copy(update=numbered) for bar in picture().enclosure.bars)
    entry = {"id": "any", "purpose": "circuits", "edge": edge, "at_mm": 60, "diameter_mm": 16}
    items = [*(p.item for p in picture(0).placements[1:])]
    items += [way(f"c{k}", kind) for k, kind in enumerate(ways)]
    order.shuffle(items)
    placed, at = [(0, picture(0).placements[0].item)], 2
    for one in items:
        placed.append((at, one))
        at += one.device.modules
    box = enclosure(bars=bars, entries=(CableEntry.model_validate(entry | {"count": 3}),))

    found = wired(arrangement(placed, box), Home(rings=frozenset({"c0"})))

    assert {t for _, one in placed for t in _names(one)} <= {
        name for c in found.conductors for name in c.terminals
    }
    for conductor in found.conductors:
        assert all(0 <= x <= 372 and 0 <= y <= 258 for x, y, _ in conductor.path), conductor.id


def _names(one: Item) -> list[str]:
    return [f"{one.id}.{t.name}" for t in one.device.terminals]


def test_links_round_the_end_of_the_rail_nest() -> None:
    links = {c.id: c for c in wired(BOARDS["split"]).conductors if "link-rcd" in c.id}
    lines = (links["link-rcd-a-l"], links["link-rcd-b-l"])
    neutrals = (links["n-link-rcd-a"], links["n-link-rcd-b"])

    assert crossings(*lines) == crossings(*neutrals) == 0
