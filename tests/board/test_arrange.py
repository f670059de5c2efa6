"""The search against every arrangement there is, and against a judge that does not know it."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.board.arrange import arrange
from boardwright.board.legal import faults
from boardwright.board.results import BoardPlan, Item
from boardwright.job.board import Preferences, Wishes
from tests.board.boards import (
    BACKUP,
    INCOMER,
    SPD,
    SWITCH,
    all_places,
    board,
    circuit,
    cost,
    device,
    enclosure,
    packed_orders,
    place,
    section_rcd,
    starts_of,
)

RATINGS = (6, 6, 16, 20, 32, 32, 40)


@st.composite
def plans(draw: st.DrawFn, most: int, rails: int = 1) -> tuple[BoardPlan, Wishes]:
    """Draw a single-phase board with all that may be on one, and wishes for it."""
    count = draw(st.integers(1, most))
    kind = draw(st.sampled_from(("plain", "sections", "incomer")))
    ways = draw(st.permutations(range(1, count + 1)))
    circuits = [
        circuit(
            f"c{k}",
            draw(st.sampled_from(RATINGS)),
            modules=draw(st.sampled_from((1, 1, 2))),
            section=draw(st.sampled_from(("a", "b", ""))) if kind == "sections" else "",
            continuous=draw(st.booleans()),
            ib_a=draw(st.sampled_from((2.0, 13.0))),
            found_way=draw(st.sampled_from((ways[k], None))),
            reach_mm=draw(st.sampled_from((None, 250.0, 280.0, 400.0))),
        )
        for k in range(count)
    ]
    branch = draw(st.sampled_from(([BACKUP, SPD], [SPD], [])))
    before: list[Item] = [SWITCH, *branch, *([INCOMER] if kind == "incomer" else [])]
    rcds = [section_rcd(x) for x in ("a", "b") if any(c.section == x for c in circuits)]
    names = [item.circuit_id for item in circuits]
    group = st.lists(st.sampled_from(names), min_size=2, max_size=3, unique=True).map(tuple)
    groups = st.lists(group, max_size=2).map(tuple) if count > 1 else st.just(())
    wishes = Wishes(
        keep_apart=draw(groups),
        keep_together=draw(groups),
        preferences=draw(
            st.sampled_from(
                (
                    Preferences(),
                    Preferences(order_kept=40, large_near=0),
                    Preferences(heavy_apart=5, cables_reach=900, spd_near=2),
                )
            )
        ),
    )
    items = [*before, *rcds, *circuits]
    taken = sum(item.device.modules for item in items)
    hand = draw(st.sampled_from(("left", "right")))
    if rails == 1:
        return board(items, enclosure(taken + draw(st.integers(0, 3)), hand)), wishes
    # What must stand in one run decides how short a rail may be.
    run = max(
        sum(i.device.modules for i in before),
        *(sum(i.device.modules for i in items if i.section == x) for x in "ab"),
    )
    first = draw(st.integers(run, max(run, taken)))
    further = [draw(st.integers(max(run, -(-taken // rails)), taken)) for _ in range(rails - 1)]
    return board(items, enclosure(first, hand, *further)), wishes


@settings(max_examples=40, deadline=None, derandomize=True)
@given(plans(most=3))
def test_no_order_of_a_small_board_pays_less(drawn: tuple[BoardPlan, Wishes]) -> None:
    assert _found(*drawn) == _cheapest(*drawn)


NONE = (-1, ())
"""What stands for a board that has no legal order."""


def _cheapest(plan: BoardPlan, wishes: Wishes) -> tuple[int, tuple[int, ...]]:
    """Return cost and places of the cheapest of all orders, the first of those that cost it."""
    priced = ((cost(plan, starts, wishes), starts) for starts in packed_orders(plan))
    return min(priced, default=NONE)


def _found(plan: BoardPlan, wishes: Wishes) -> tuple[float, tuple[int, ...]]:
    """Return cost and places that the search finds; the cost is negative where not proven."""
    found = arrange(plan, wishes)
    if found.left_out:
        return NONE
    paid = sum(paid.cost for paid in found.preferences)
    return paid if found.proven else -2.0, starts_of(plan, found)


@pytest.mark.slow
@settings(max_examples=60, deadline=None, derandomize=True)
@given(plans(most=4))
def test_no_order_of_seven_devices_pays_less(drawn: tuple[BoardPlan, Wishes]) -> None:
    assert _found(*drawn) == _cheapest(*drawn)


@settings(max_examples=25, deadline=None, derandomize=True)
@given(plans(most=3, rails=2))
def test_no_order_on_two_rails_pays_less(drawn: tuple[BoardPlan, Wishes]) -> None:
    assert _found(*drawn) == _cheapest(*drawn)


@pytest.mark.slow
@settings(max_examples=25, deadline=None, derandomize=True)
@given(plans(most=3, rails=3))
def test_no_order_on_three_rails_pays_less(drawn: tuple[BoardPlan, Wishes]) -> None:
    assert _found(*drawn) == _cheapest(*drawn)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(plans(most=8))
def test_every_arrangement_is_legal(drawn: tuple[BoardPlan, Wishes]) -> None:
    plan, wishes = drawn

    found = arrange(plan, wishes)

    assert faults(found) == ()
    assert found.left_out == ()
    assert found.proven
    assert len(found.placements) == len(plan.items)


@settings(max_examples=15, deadline=None, derandomize=True)
@given(plans(most=6))
def test_a_right_hand_board_is_the_mirror_of_a_left_hand_one(
    drawn: tuple[BoardPlan, Wishes],
) -> None:
    plan, wishes = drawn
    other = "left" if plan.enclosure.hand == "right" else "right"
    turned = replace(plan, enclosure=plan.enclosure.model_copy(update={"hand": other}))

    one, two = arrange(plan, wishes), arrange(turned, wishes)

    assert starts_of(plan, one) == starts_of(turned, two)
    for placement in one.placements:
        assert two.placement(placement.item.id).way == placement.way


TOGETHER = [SWITCH, *(circuit(f"c{k}", in_a) for k, in_a in enumerate((200, 6, 100, 100)))]
LETTERS = [
    SWITCH,
    *(section_rcd(x) for x in "ab"),
    circuit("c0", 6, section="a"),
    *(circuit(f"c{k}", 125, section="b") for k in (1, 2)),
]


@pytest.mark.parametrize(
    ("items", "wishes", "missed"),
    [
        # Six amperes between the large ones cost more than the pair's spread.
        (TOGETHER, Wishes(keep_together=(("c0", "c1"),)), "together"),
        # Two large circuits behind a small section cost more than the letters' order.
        (LETTERS, Wishes(), "letters"),
        # No home has such a circuit; it shows that the SPD's place is weighed, not fixed.
        ([SWITCH, BACKUP, SPD, circuit("c0", 400)], Wishes(), "SPD"),
    ],
)
def test_a_wish_gives_way_where_the_others_weigh_more(
    items: list[Item], wishes: Wishes, missed: str
) -> None:
    plan = board(items)
    best = min(packed_orders(plan), key=lambda starts: (cost(plan, starts, wishes), starts))

    found = arrange(plan, wishes)

    assert starts_of(plan, found) == best
    assert sum(paid.cost for paid in found.preferences) == cost(plan, best, wishes)
    assert next(paid.cost for paid in found.preferences if missed in paid.name) > 0


def test_the_same_board_is_arranged_the_same_twice() -> None:
    items = [SWITCH, BACKUP, SPD, *(circuit(f"c{k}", 32 if k % 2 else 6) for k in range(10))]
    plan, wishes = board(items), Wishes(keep_apart=(("c1", "c3"), ("c0", "c2")))

    assert arrange(plan, wishes) == arrange(plan, wishes)


def test_equal_circuits_keep_the_order_of_the_list() -> None:
    plan = board([SWITCH, *(circuit(name) for name in "dbca")])

    found = arrange(plan, Wishes())

    assert [p.item.circuit_id for p in found.placements] == ["", "d", "b", "c", "a"]
    assert [p.way for p in found.placements] == [0, 1, 2, 3, 4]


def _comb(items: list[Item], modules: int, hand: str = "left") -> BoardPlan:
    return board(items, enclosure(modules, hand, like="ravel-r3-26"))


@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize(
    "phases", [("L1", "L2", "L3"), ("L2", "L2", "L1"), ("L3", "L1", "L3"), ("L2", "L3", "L3")]
)
def test_no_places_on_a_comb_pay_less(phases: tuple[str, ...], hand: str) -> None:
    ways = [circuit(f"c{k}", 16 * (k + 1), phase=phase) for k, phase in enumerate(phases)]
    plan = _comb([SWITCH, *ways], 9, hand)
    best = min(all_places(plan), key=lambda starts: (cost(plan, starts, Wishes()), starts))

    found = arrange(plan, Wishes())

    assert faults(found) == ()
    assert starts_of(plan, found) == best


def test_a_three_pole_device_begins_on_the_tooth_of_l1() -> None:
    heat_pump = replace(circuit("heat-pump", 16), device=device(3, 16, three=True))
    plan = _comb([SWITCH, circuit("hob", 40, phase="L2"), heat_pump], 12)

    found = arrange(plan, Wishes())

    assert faults(found) == ()
    assert (found.placement("way-heat-pump").module - 2) % 3 == 0
    assert (found.placement("way-hob").module - 2) % 3 == 1


def test_what_finds_no_tooth_of_its_phase_is_left_out_and_named() -> None:
    ways = [circuit(f"c{k}", phase="L1") for k in range(3)]
    plan = _comb([SWITCH, *ways], 7)

    found = arrange(plan, Wishes())

    assert found.left_out == ("way-c2",)
    assert "c2" in found.note
    assert faults(found) == ()


def test_what_overruns_the_rail_is_left_out_and_named() -> None:
    plan = board([SWITCH, SPD, *(circuit(f"c{k}") for k in range(4))], enclosure(6))

    found = arrange(plan, Wishes())

    assert found.left_out == ("way-c2", "way-c3")
    assert found.spare_modules == 0
    assert faults(found) == ()


def test_the_spd_goes_into_free_ways_and_nothing_else_moves() -> None:
    kept = [circuit(f"c{k}", fixed_module=module) for k, module in enumerate((2, 4, 5, 9))]
    plan = board([replace(SWITCH, fixed_module=0), BACKUP, SPD, *kept], enclosure(12))

    found = arrange(plan, Wishes())

    assert faults(found) == ()
    # Ways 2 is too narrow for back-up and SPD together: the next free run begins at module 6.
    assert found.placement("spd-backup").module == 6
    assert found.placement("spd").module == 7


def test_a_back_up_whose_spd_finds_no_place_is_left_out_with_it() -> None:
    kept = [circuit(f"c{k}", fixed_module=module) for k, module in enumerate((2, 4, 6))]
    items = [replace(SWITCH, fixed_module=0), BACKUP, SPD, *kept]

    # Free ways of one module each; then two modules where the pair takes three.
    apart, short = (
        arrange(board(items, enclosure(8)), Wishes()),
        arrange(board([*items, circuit("c9", fixed_module=3)], enclosure(8)), Wishes()),
    )

    for found in (apart, short):
        assert found.left_out == ("spd-backup", "spd")
        assert faults(found) == ()


def test_nothing_as_found_gives_way_to_something_new() -> None:
    kept = [circuit(f"c{k}", fixed_module=module) for k, module in enumerate((2, 4, 6))]
    plan = board([replace(SWITCH, fixed_module=0), SPD, *kept], enclosure(8))

    found = arrange(plan, Wishes())

    assert found.left_out == ("spd",)
    assert faults(found) == ()


def test_the_price_told_is_the_price_of_the_places() -> None:
    heavy = [circuit(n, 32, continuous=True, ib_a=30) for n in ("ev", "pump")]
    plan = board([SWITCH, BACKUP, SPD, *heavy])

    found = arrange(plan, Wishes())

    told = {paid.name: paid.cost for paid in found.preferences}
    # Two heavy loads and nothing to put between them: one pair, 300.
    assert told["Heavy continuous loads are no neighbours"] == 300
    assert told["The SPD stands nearest the main switch"] == 0
    assert sum(told.values()) == cost(plan, starts_of(plan, found), Wishes())


def test_the_judge_refuses_what_the_search_would_not_do() -> None:
    plan = board([SWITCH, BACKUP, SPD, circuit("c0")])

    assert faults(place(plan, (0, 2, 3, 5))) == ()
    assert any("overlap" in fault for fault in faults(place(plan, (0, 2, 3, 4))))
    assert any("beside its back-up" in fault for fault in faults(place(plan, (0, 2, 4, 3))))
    assert any("free place" in fault for fault in faults(place(plan, (0, 2, 3, 6))))
    assert any("end" in fault for fault in faults(place(plan, (1, 3, 4, 6))))
