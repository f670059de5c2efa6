"""Sharing one-phase circuits over three phases, against every way to share them."""

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.circuits.phases import PHASES, share_phases

LOADS = st.dictionaries(
    st.sampled_from([f"c{k}" for k in range(7)]), st.floats(0.5, 40), min_size=1, max_size=7
)


def _fullest_a(loads_a: dict[str, float], chosen: dict[str, str]) -> float:
    return max(sum(a for name, a in loads_a.items() if chosen[name] == p) for p in PHASES)


@settings(deadline=None, derandomize=True, max_examples=50)
@given(LOADS)
def test_the_fullest_phase_keeps_the_bound_of_the_longest_first_rule(
    loads_a: dict[str, float],
) -> None:
    """R. L. Graham, 1969: at most 4/3 - 1/(3 m) of the optimum, m = 3 (from memory)."""
    ways = product(PHASES, repeat=len(loads_a))
    best_a = min(_fullest_a(loads_a, dict(zip(loads_a, way, strict=True))) for way in ways)

    chosen = share_phases(loads_a, {}, other_a={})

    assert _fullest_a(loads_a, chosen) <= best_a * (4 / 3 - 1 / 9) + 1e-9


def test_the_survey_has_the_first_word() -> None:
    loads_a = {"ev": 32.0, "hob": 30.0, "ring": 20.0, "lights": 4.0}

    chosen = share_phases(loads_a, {"ev": "L2", "hob": "L2"}, other_a={})

    assert chosen["ev"] == chosen["hob"] == "L2"
    assert {chosen["ring"], chosen["lights"]} == {"L1", "L3"}


def test_circuits_without_a_load_are_shared_by_number() -> None:
    chosen = share_phases({f"c{k}": 0.0 for k in range(6)}, {}, other_a={})

    assert sorted(chosen.values()) == ["L1", "L1", "L2", "L2", "L3", "L3"]


def test_a_swap_mends_what_the_longest_first_rule_leaves() -> None:
    """3, 3, 2, 2, 2 on two free phases: longest first ends at 7 and 5, a swap at 6 and 6."""
    loads_a = {"a": 3.0, "b": 3.0, "c": 2.0, "d": 2.0, "e": 2.0}

    chosen = share_phases(loads_a, {}, other_a={"L3": 100.0})

    assert _fullest_a(loads_a, chosen) == 6.0
