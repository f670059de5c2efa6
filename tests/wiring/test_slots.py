"""Terminals of a bar against exhaustive search, and the rules that choose them."""

from itertools import combinations, combinations_with_replacement, pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.catalogue.enclosures import Bar
from boardwright.wiring.slots import _GAP_COST, Request, _cost, _shared, allot

BAR = Bar(id="neutral-bar", conductor="N", x_mm=0, y_mm=30, count=8, pitch_mm=10)


def total(bar: Bar, requests: list[Request], numbers: tuple[int, ...]) -> float:
    ordered = sorted(requests, key=lambda r: r.x_mm)
    cost = sum(_cost(bar, r, n) for r, n in zip(ordered, numbers, strict=True))
    return cost + _GAP_COST * (numbers[-1] - numbers[0] - len(numbers) + 1)


@settings(deadline=None)
@given(st.lists(st.floats(0, 120), min_size=1, max_size=5))
def test_the_cheapest_of_all_orders(places_mm: list[float]) -> None:
    requests = [Request(f"{k}", x, 2.5) for k, x in enumerate(places_mm)]
    found = allot(BAR, requests)

    ordered = sorted(requests, key=lambda r: r.x_mm)
    ours = total(BAR, requests, tuple(found[r.id] for r in ordered))

    best = min(total(BAR, requests, n) for n in combinations(range(1, 9), len(requests)))
    assert abs(ours - best) < 1e-6


def test_the_spd_takes_the_terminal_in_line_before_the_ways() -> None:
    requests = [
        Request("spd-n", 25, 6, weight=20),
        Request("n-a", 26, 2.5),
        Request("n-b", 27, 2.5),
    ]

    assert allot(BAR, requests)["spd-n"] == 3


def test_a_thick_conductor_takes_the_large_terminal() -> None:
    bar = BAR.model_copy(update={"capacity_mm2": 16, "first_capacity_mm2": 25})
    found = allot(bar, [Request("n-link", 75, 25), Request("n-a", 79, 2.5)])

    assert found["n-link"] == 1


def test_a_bar_numbered_from_the_right_keeps_the_order_too() -> None:
    bar = BAR.model_copy(update={"numbered_from": "right"})
    found = allot(bar, [Request("a", 5, 2.5), Request("b", 45, 2.5)])

    assert (found["a"], found["b"]) == (8, 4)


def test_a_full_bar_shares_terminals_and_loses_nobody() -> None:
    requests = [Request(f"{k}", 5.0 * k, 2.5) for k in range(12)]
    found = allot(BAR, requests)

    assert len(found) == 12
    assert set(found.values()) <= set(range(1, 9))
    assert max(list(found.values()).count(n) for n in found.values()) == 2


@settings(deadline=None)
@given(
    st.lists(st.floats(0, 40), min_size=4, max_size=6, unique=True),
    st.lists(st.sampled_from([1.5, 2.5, 10.0]), min_size=6, max_size=6),
)
def test_where_terminals_are_short_the_cheapest_sharing_of_all(
    places_mm: list[float], sizes_mm2: list[float]
) -> None:
    bar = BAR.model_copy(update={"count": 3, "capacity_mm2": 16.0, "first_capacity_mm2": 25.0})
    given_ = zip(sorted(places_mm), sizes_mm2, strict=False)
    requests = [Request(f"{k}", x, s, circuit=f"c{k // 2}") for k, (x, s) in enumerate(given_)]
    numbers = allot(bar, requests)

    most = -(-len(requests) // 3)
    ways = [
        way
        for way in combinations_with_replacement((1, 2, 3), len(requests))
        if max(map(way.count, way)) <= most
    ]
    ours = tuple(numbers[r.id] for r in requests)

    assert ours in ways
    assert abs(_price(bar, requests, ours) - min(_price(bar, requests, w) for w in ways)) < 1e-6


def _price(bar: Bar, requests: list[Request], numbers: tuple[int, ...]) -> float:
    """Return what an allotment costs: ways, empty terminals between, and what shares one."""
    cost = sum(_cost(bar, r, n) for r, n in zip(requests, numbers, strict=True))
    for (one, a), (other, b) in pairwise(zip(requests, numbers, strict=True)):
        cost += _shared(bar, one, other, a) if a == b else _GAP_COST * (b - a - 1)
    return cost


def test_one_lead_too_many_makes_one_pair_and_of_a_ring() -> None:
    places_mm = (0, 10, 20, 30, 31, 50, 60, 70, 80)
    requests = [
        Request(f"{k}", x, 2.5, circuit="ring" if k in {3, 4} else f"c{k}")
        for k, x in enumerate(places_mm)
    ]
    found = allot(BAR, requests)

    assert found["3"] == found["4"]
    assert len(set(found.values())) == 8
