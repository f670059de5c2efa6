"""Demand: phases, load control, a logged figure."""

import pytest

from tests.circuits.build import home, planned, raw_circuit


def test_each_phase_carries_its_own_circuits_and_a_share_of_the_three_phase_ones() -> None:
    circuits = [
        raw_circuit("heat pump", phases=3, load={"power_w": 6900}),
        raw_circuit("EV point", phase="L2", load={"power_w": 7360}),
        raw_circuit("immersion heater", phase="L3", load={"power_w": 3000}),
    ]
    demand = planned(home(circuits, supply={"phases": 3})).demand

    assert demand.per_phase_a == pytest.approx({"L1": 10, "L2": 42, "L3": 10 + 3000 / 230})
    assert demand.total_a == pytest.approx(42)


def test_a_curtailed_charging_point_adds_nothing_and_says_why() -> None:
    circuit = raw_circuit("EV point", load={"power_w": 7360, "load_control": "yes"})
    demand = planned(home([circuit])).demand

    assert demand.total_a == 0
    assert demand.lines[0].connected_a == pytest.approx(32)
    assert "curtailed" in demand.lines[0].allowance


def test_a_logged_demand_replaces_the_estimate_but_keeps_its_lines() -> None:
    logged = {"demand_logged_a": 38, "demand_logged_source": "clamp logger, 14 days"}
    job = home([raw_circuit("shower", load={"power_w": 9500})], **logged)
    demand = planned(job).demand

    assert (demand.total_a, demand.logged) == (38, True)
    assert demand.lines[0].demand_a == pytest.approx(41.304, abs=0.001)


def test_what_only_feeds_back_is_no_demand() -> None:
    job = home([raw_circuit("PV", source={"power_w": 3600}), raw_circuit("lighting")])

    assert [line.purpose for line in planned(job).demand.lines] == ["lighting"]


def test_circuits_without_a_phase_are_shared_over_all_three() -> None:
    showers = [raw_circuit("shower", id=f"s{n}", load={"power_w": 9200}) for n in range(3)]
    plan = planned(home(showers, supply={"phases": 3}))

    assert {circuit.phase for circuit in plan.circuits} == {"L1", "L2", "L3"}
    assert plan.demand.per_phase_a == pytest.approx({"L1": 40, "L2": 40, "L3": 40})


def test_a_cookers_cable_carries_its_demand_not_all_that_is_connected() -> None:
    """10 A, 30 % of the rest and 5 A for the socket: The Electrician's Guide, Table 6.2."""
    load = {"power_w": 10_400, "with_socket": True}
    plan = planned(home([raw_circuit("cooker", load=load)]))

    assert plan.circuits[0].ib_a == pytest.approx(25.565, abs=0.0005)
    assert plan.demand.lines[0].connected_a == pytest.approx(45.217, abs=0.0005)
