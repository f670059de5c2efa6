"""Lanes against all orders of a bundle, one by one."""

from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.wiring.lanes import LANE_MM, Part, Strip, _harm, lanes_mm, nearest_first, overlap

STRIP = Strip(34.0, 73.0, from_top=True)


def part(name: str, begin_mm: float, end_mm: float, csa_mm2: float = 2.5) -> Part:
    return Part(name, begin_mm, end_mm, begin_up=True, end_up=False, csa_mm2=csa_mm2, margin_mm=8)


def crossings(order: tuple[Part, ...]) -> int:
    return sum(_harm(STRIP, a, b) for k, a in enumerate(order) for b in order[k + 1 :])


def test_a_bundle_to_the_left_nests() -> None:
    """The first to leave, nearest its target, takes the nearest lane."""
    leads = [part(f"{k}", 145.7 + 17.8 * k, 132.6 + 8.9 * k) for k in range(8)]

    heights_mm = [lanes_mm(STRIP, leads)[lead.id] for lead in leads]

    assert heights_mm == sorted(heights_mm, reverse=True)
    assert crossings(tuple(nearest_first(STRIP, leads))) == 0


def test_lanes_keep_their_pitch_and_more_beside_thick_ones() -> None:
    """Pitch 3.5 mm, 4.0 beside 16 mm²: the project's page on its look, "Routes"."""
    thin = [part("a", 50, 20), part("b", 70, 40)]
    thick = [part("a", 50, 20, 16), part("b", 70, 40)]

    assert lanes_mm(STRIP, thin)["a"] - lanes_mm(STRIP, thin)["b"] == LANE_MM
    assert lanes_mm(STRIP, thick)["a"] - lanes_mm(STRIP, thick)["b"] == 4.0


def test_what_does_not_overlap_shares_a_lane() -> None:
    found = lanes_mm(STRIP, [part("a", 50, 20), part("b", 120, 90)])

    assert found["a"] == found["b"]


def test_many_lanes_stay_inside_their_strip() -> None:
    leads = [part(f"{k}", 100 + 10 * k, 40 + 8 * k) for k in range(20)]

    heights_mm = lanes_mm(STRIP, leads).values()

    assert len(set(heights_mm)) == 20
    assert all(STRIP.low_mm < y < STRIP.high_mm for y in heights_mm)


@settings(deadline=None)
@given(
    st.lists(st.integers(0, 30), min_size=1, max_size=5, unique=True),
    st.lists(st.integers(0, 30), min_size=5, max_size=5, unique=True),
)
def test_no_order_crosses_less_where_order_is_kept(tops: list[int], bottoms: list[int]) -> None:
    """Leads that keep their order need not cross: exhaustive search says the same."""
    pairs = zip(sorted(tops), sorted(bottoms), strict=False)
    leads = [part(f"{k}", 10.0 * a, 10.0 * b + 5) for k, (a, b) in enumerate(pairs)]

    ours = crossings(tuple(nearest_first(STRIP, leads)))

    assert ours == min(crossings(order) for order in permutations(leads)) == 0


def test_overlap_needs_a_common_stretch() -> None:
    assert overlap(part("a", 0, 50), part("b", 40, 90))
    assert not overlap(part("a", 0, 50), part("b", 60, 90))
