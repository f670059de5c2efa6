"""Backward questions answered so that the forward assessment agrees on both sides of the answer."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.circuits.altered import sizes, with_cable, with_device, with_load
from boardwright.circuits.judged import hindrances, planned_against
from boardwright.circuits.reverse import (
    largest_device,
    largest_load,
    longest_run,
    smallest_cable,
)
from boardwright.circuits.site import Site
from boardwright.job.circuit import Circuit
from tests.circuits.build import home, raw_circuit, site

CALM = settings(deadline=None, derandomize=True, max_examples=60)
PAIRS = ((1.0, 1.0), (1.5, 1.0), (2.5, 1.5), (4.0, 1.5), (6.0, 2.5), (10.0, 4.0), (16.0, 6.0))
RATINGS = (6, 10, 16, 20, 32, 40, 45, 50)
METHODS = st.sampled_from(("C", "100", "101", "102", "103", "A", None))
STANDARDS = st.sampled_from(("MCB", "RCBO"))


def placed(**raw: Any) -> tuple[Circuit, Site]:  # noqa: ANN401 - a survey's raw values
    around = {"supply": raw.pop("supply", {}), **raw.pop("around", {})}
    job = home([raw_circuit(**{"serves": "fixed appliance", **raw})], **around)
    return job.circuits[0], site(job)


@st.composite
def circuits(draw: st.DrawFn) -> tuple[Circuit, Site]:
    """Draw a circuit on a TN or TT supply, one in four a ring, some in insulation."""
    line_mm2, cpc_mm2 = draw(st.sampled_from(PAIRS))
    in_a = draw(st.sampled_from(RATINGS))
    cable = {
        "line_mm2": line_mm2,
        "cpc_mm2": cpc_mm2,
        "length_m": draw(st.floats(1, 150)),
        "method": draw(METHODS),
        "grouped_with": draw(st.integers(0, 3)),
        "insulated_mm": draw(st.sampled_from((None, 50, 500))),
    }
    topology = draw(st.sampled_from(("radial", "radial", "radial", "ring")))
    wanted = {"in_a": in_a, "standard": draw(STANDARDS), "curve": draw(st.sampled_from("BCD"))}
    load = {"ib_a": draw(st.floats(0.5, in_a))}
    system, ze_ohm = draw(st.sampled_from((("TN-C-S", 0.35), ("TN-S", 0.1), ("TT", 90.0))))
    return placed(
        cable=cable,
        wanted=wanted,
        load=load,
        topology=topology,
        supply={"system": system, "ze_ohm": ze_ohm},
    )


@CALM
@given(circuits())
def test_the_longest_run_passes_and_a_longer_one_does_not(drawn: tuple[Circuit, Site]) -> None:
    circuit, here = drawn
    found = longest_run(circuit, here)

    if found.length_m == 0:
        assert found.why
        assert hindrances(with_cable(circuit, {"length_m": 0.1}), here)
    else:
        assert not hindrances(with_cable(circuit, {"length_m": found.length_m}), here)
        assert hindrances(with_cable(circuit, {"length_m": found.length_m + 0.11}), here)
        assert found.governs in {bound.name for bound in found.bounds}


@CALM
@given(circuits())
def test_the_smallest_cable_passes_and_every_smaller_one_does_not(
    drawn: tuple[Circuit, Site],
) -> None:
    circuit, here = drawn
    found = smallest_cable(circuit, here)

    for line_mm2, cpc_mm2 in sizes(here.edition, circuit):
        tried = with_cable(circuit, {"line_mm2": line_mm2, "cpc_mm2": cpc_mm2})
        if found.line_mm2 is None or line_mm2 < found.line_mm2:
            assert planned_against(tried, here)
        elif line_mm2 == found.line_mm2:
            assert not planned_against(tried, here)


@CALM
@given(circuits())
def test_the_largest_load_passes_and_a_larger_one_does_not(drawn: tuple[Circuit, Site]) -> None:
    circuit, here = drawn
    found = largest_load(circuit, here)

    assert found.governs
    if found.ib_a > 0:
        assert not planned_against(with_load(circuit, found.ib_a), here)
        assert planned_against(with_load(circuit, found.ib_a * 1.0001 + 1e-6), here)


@CALM
@given(circuits())
def test_the_largest_device_passes_and_the_next_does_not(drawn: tuple[Circuit, Site]) -> None:
    circuit, here = drawn
    found = largest_device(circuit, here)
    ratings = sorted(float(row) for row in here.edition.table("breaker_ratings_a").rows)

    for in_a in ratings:
        tried = with_load(with_device(circuit, {"in_a": in_a}), in_a / 2)
        if in_a == found.in_a:
            assert not planned_against(tried, here)
        elif found.in_a is None or in_a > found.in_a:
            assert planned_against(tried, here)


def test_the_ring_of_106_metres_backwards() -> None:
    """On-Site Guide, from memory: 2.5/1.5 by method A, 26 A of load, 11.5 V: 106 m."""
    circuit, here = placed(
        serves="sockets",
        topology="ring",
        wanted={"in_a": 32, "standard": "RCBO"},
        cable={"line_mm2": 2.5, "cpc_mm2": 1.5, "length_m": 20, "method": "A"},
        supply={"ze_ohm": 0.2},
    )
    found = longest_run(circuit, here)

    assert found.governs == "volt drop"
    assert int(found.length_m) == 106


def test_a_run_bounded_by_the_loop_ends_where_the_loop_is_full() -> None:
    """B32 MCB, Ze 0.35 Ω, 4/1.5 mm²: (1.3656 - 0.35)/(16.71e-3 x 1.2) = 50.6 m, Table 41.3."""
    circuit, here = placed(
        wanted={"in_a": 32, "standard": "MCB"},
        load={"ib_a": 10},
        cable={"line_mm2": 4, "cpc_mm2": 1.5, "length_m": 10, "method": "C"},
    )
    found = longest_run(circuit, here)

    assert found.governs == "loop of the overcurrent device"
    assert found.length_m == pytest.approx((218.5 / 160 - 0.35) / (16.71e-3 * 1.2), abs=0.1)


def test_the_ten_kilowatt_shower_backwards() -> None:
    """Trade article on the 10 kW shower: 45 A and 10 mm² under the insulation, method 100."""
    cable = {"line_mm2": 1, "cpc_mm2": 1, "length_m": 15, "method": "100"}
    circuit, here = placed(serves="shower", load={"power_w": 10_000}, cable=cable)
    found = smallest_cable(circuit, here)

    assert (found.line_mm2, found.cpc_mm2) == (10, 4)
    assert found.result is not None
    assert found.result.in_a == 45
    assert [rejected.line_mm2 for rejected in found.rejected] == [1, 1.5, 2.5, 4, 6]


def test_a_loop_nobody_has_read_stands_against_no_length() -> None:
    circuit, here = placed(
        load={"ib_a": 16}, wanted={"in_a": 16}, supply={"system": "TT", "ze_ohm": None}
    )
    found = longest_run(circuit, here)

    assert [bound.name for bound in found.bounds] == ["volt drop"]
    assert found.length_m > 30


def test_no_power_goes_where_the_device_is_over_the_cable() -> None:
    circuit, here = placed(
        wanted={"in_a": 40}, cable={"line_mm2": 2.5, "cpc_mm2": 1.5, "length_m": 10, "method": "C"}
    )

    assert largest_load(circuit, here).ib_a == 0
    assert largest_device(circuit, here).in_a == 25


def test_a_shower_is_not_planned_on_less_than_its_device_asks() -> None:
    """10 mm² by method 100 carries 45 A (Table 4D5): a device of 50 A is borne, never planned."""
    cable = {"line_mm2": 10, "cpc_mm2": 4, "length_m": 15, "method": "100"}
    circuit, here = placed(serves="shower", load={"power_w": 9500}, cable=cable)

    assert largest_device(circuit, here).in_a == 45
    assert largest_load(circuit, here).ib_a == 45
