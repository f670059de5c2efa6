"""Cables: resistance, capacity, the worst plausible method, sizes between the rows."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.circuits.capacity import ca_factor, cg_factor, ci_factor
from boardwright.circuits.conductor import hot_factor, r20_ohm
from boardwright.core.errors import FieldError
from tests.circuits.build import EDITION, only, raw_circuit

# No deadline: the machine may be busy. The same draws every time.
CALM = settings(deadline=None, derandomize=True)


def test_a_route_not_seen_takes_the_worst_method_of_the_cable() -> None:
    result = only(raw_circuit("shower", cable={"line_mm2": 10, "cpc_mm2": 4, "length_m": 15}))

    assert (result.method, result.iz_a, result.method_assumed) == ("103", 32, True)
    assert (result.method_best, result.iz_best_a) == ("C", 64)


def test_a_route_seen_is_not_second_guessed() -> None:
    cable = {"line_mm2": 10, "cpc_mm2": 4, "length_m": 15, "method": "100"}
    result = only(raw_circuit("shower", cable=cable))

    assert (result.method, result.iz_a, result.iz_best_a) == ("100", 45, 45)
    assert not result.method_assumed


def test_an_imperial_size_carries_no_more_than_the_metric_size_below() -> None:
    """7/.029 is 2.983 mm²: trade encyclopaedia, "Old Imperial cable sizes"."""
    cable = {"line_mm2": 2.983, "cpc_mm2": 1.278, "length_m": 10, "method": "C"}

    assert only(raw_circuit(cable=cable)).iz_a == 27
    assert r20_ohm(EDITION, 2.983, 1000) == 7.41


def test_cable_for_90_degrees_is_rated_at_the_70_degrees_of_its_terminals() -> None:
    cable = {"line_mm2": 4, "cpc_mm2": 4, "length_m": 10, "method": "C"}
    hot, cold = (
        only(raw_circuit("outdoor", cable={**cable, "type": kind})) for kind in ("swa 90", "swa 70")
    )

    assert hot.iz_a == cold.iz_a


def test_a_method_that_the_cable_does_not_have_is_named_with_those_it_has() -> None:
    cable = {"type": "singles", "line_mm2": 4, "cpc_mm2": 4, "length_m": 10, "method": "103"}

    with pytest.raises(FieldError, match=r"circuits\.sockets\.cable\.method.*one of A, B, C"):
        only(raw_circuit(cable=cable))


def test_a_conductor_smaller_than_the_table_is_named() -> None:
    cable = {"line_mm2": 0.75, "cpc_mm2": 0.75, "length_m": 10}

    with pytest.raises(FieldError, match=r"line_mm2: found 0\.75, expected 1 mm2 or more"):
        only(raw_circuit(cable=cable))


@CALM
@given(st.floats(min_value=-5, max_value=60), st.floats(min_value=-5, max_value=60))
def test_a_hotter_place_never_carries_more(one_c: float, other_c: float) -> None:
    cool, hot = sorted((one_c, other_c))

    assert ca_factor(EDITION, hot) <= ca_factor(EDITION, cool)


@CALM
@given(st.integers(min_value=1, max_value=30))
def test_one_more_circuit_in_the_bunch_never_carries_more(circuits: int) -> None:
    assert cg_factor(EDITION, circuits + 1) <= cg_factor(EDITION, circuits)


def test_insulation_derates_to_a_half() -> None:
    assert ci_factor(EDITION, 0) == 1
    assert ci_factor(EDITION, 60) == 0.78
    assert ci_factor(EDITION, 2000) == 0.5


def test_resistance_grows_by_a_fifth_to_the_working_limit() -> None:
    assert hot_factor(EDITION) == pytest.approx(1.20)
