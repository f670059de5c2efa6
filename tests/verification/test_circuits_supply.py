"""Checks on supply, submain, main switch, demand, charging points and sources."""

from typing import Any

import pytest

from boardwright.board.results import Item, Role
from boardwright.catalogue.devices import Kind
from boardwright.core.findings import Verdict
from boardwright.gate.judge import judge
from boardwright.verification import submain
from boardwright.verification.equipment import (
    charging_point_dc,
    charging_point_pen,
    charging_point_rcd,
    direction,
    dual_supply_notice,
    network_operator_told,
)
from boardwright.verification.rcd import required, sum_on_electrode, type_suits
from boardwright.verification.rcd_overload import main_switch_not_overloaded, rccb_not_overloaded
from boardwright.verification.supply import (
    demand_against_fuse,
    electrode,
    fault_rating,
    fuse_known,
    tails_carry_the_fuse,
)
from tests.circuits.build import EDITION, home, raw_circuit
from tests.verification.circuit_facts import board, device, facts, found, rcbo, verdict, way

SUBMAIN: dict[str, Any] = {
    "fuse_a": 63,
    "fuse_standard": "BS 88-2",
    "cable": "swa 90",
    "line_mm2": 16,
    "cpc_mm2": 16,
    "length_m": 22,
}


@pytest.mark.parametrize(
    ("electrode_ohm", "expected"),
    [(80, Verdict.PASS), (833, Verdict.PASS), (834, Verdict.ADVISE), (1700, Verdict.FAIL)],
)
def test_the_electrode_warns_before_it_fails(electrode_ohm: float, expected: Verdict) -> None:
    """50 V over 30 mA is 1667 Ω, Table 41.5; twice as much in a dry season: practice, no source."""
    job = home([raw_circuit()], supply={"system": "TT"}, earthing={"electrode_ohm": electrode_ohm})

    assert verdict(electrode, facts(job)) is expected


def test_what_the_gate_says_is_not_said_again() -> None:
    """One reading missing is one finding: Ze, RA, fault current, tails are the gate's."""
    unread = home([raw_circuit()], supply={"system": "TT", "ze_ohm": None, "ipf_a": None})

    for check in (electrode, fault_rating, tails_carry_the_fuse, sum_on_electrode):
        assert list(check(facts(unread))) == []
    assert "Sockets" in next(
        f.message for f in judge(unread, EDITION) if f.check == "gate.electrode"
    )


def test_a_loop_that_was_read_holds_the_electrode() -> None:
    """Ze of a TT supply is read through the electrode: the circuits hang on no other."""
    read = home([raw_circuit()], supply={"system": "TT", "ze_ohm": 90})
    gate = next(f for f in judge(read, EDITION) if f.check == "gate.electrode")

    assert gate.verdict is Verdict.UNKNOWN
    assert "Sockets" not in gate.message


def test_one_finding_names_all_that_waits_for_the_fuse() -> None:
    rings = [raw_circuit(id=f"r{n}", topology="ring", wanted={"in_a": 32}) for n in range(6)]
    job = home(rings, supply={"cutout_fuse_a": None}, wishes={"division": "split load"})
    switch = Item("main-switch", Role.MAIN_SWITCH, device(Kind.MAIN_SWITCH, in_a=100), "Switch")
    ways = [way(f"r{n}", rcbo(in_a=32)) for n in range(6)]
    given = facts(job, board(switch, *ways))
    finding = found(fuse_known, given)

    assert finding.verdict is Verdict.UNKNOWN
    for name in ("demand", "main switch", "RCD A", "RCD B"):
        assert name in finding.message
    for check in (demand_against_fuse, main_switch_not_overloaded, rccb_not_overloaded):
        assert list(check(given)) == []


def test_a_time_delayed_rcd_ahead_asks_a_better_electrode() -> None:
    """100 mA: 500 Ω, Table 41.5."""
    delayed = device(Kind.RCCB, in_a=100, idn_a=0.1, rcd_type="A", time_delayed=True)
    job = home([raw_circuit()], supply={"system": "TT"}, earthing={"electrode_ohm": 600})
    ahead = board(Item("incomer-rcd", Role.INCOMER_RCD, delayed, "RCD"), way("sockets", rcbo()))

    assert verdict(electrode, facts(job)) is Verdict.PASS
    assert found(electrode, facts(job, ahead)).limit == 500
    assert verdict(electrode, facts(job, ahead)) is Verdict.FAIL


@pytest.mark.parametrize(
    ("csa_mm2", "fuse_a", "expected"),
    [
        (25, 100, Verdict.PASS),
        (16, 60, Verdict.PASS),
        (35, 160, Verdict.FAIL),
    ],
)
def test_tails_carry_their_fuse(csa_mm2: float, fuse_a: float, expected: Verdict) -> None:
    """Method C, 16 mm² 87 A, 25 mm² 114 A: Table 4D1A, from memory."""
    supply = {"tails": {"csa_mm2": csa_mm2, "length_m": 1}, "cutout_fuse_a": fuse_a}

    assert verdict(tails_carry_the_fuse, facts(home([raw_circuit()], supply=supply))) is expected


@pytest.mark.parametrize(
    ("fuse_a", "logged_a", "expected"),
    [
        (100, None, Verdict.PASS),
        (60, None, Verdict.ADVISE),
        (60, 45, Verdict.PASS),
    ],
)
def test_demand_is_guidance(fuse_a: float, logged_a: float | None, expected: Verdict) -> None:
    showers = [raw_circuit("shower", id=f"s{n}", load={"power_w": 9500}) for n in range(2)]
    logged = {"demand_logged_a": logged_a, "demand_logged_source": "logger"} if logged_a else {}
    job = home(showers, supply={"cutout_fuse_a": fuse_a}, **logged)

    assert verdict(demand_against_fuse, facts(job)) is expected


@pytest.mark.parametrize(
    ("supply", "expected"),
    [
        ({"ipf_a": 5000}, Verdict.PASS),
        ({"ipf_a": 15_000}, Verdict.PASS),
        ({"ipf_a": 17_000}, Verdict.FAIL),
        ({"ipf_a": 15_000, "cutout_fuse_standard": "unknown"}, Verdict.UNKNOWN),
        ({"ipf_a": 15_000, "cutout_fuse_standard": "BS 3036"}, Verdict.UNKNOWN),
        ({"ipf_a": 15_000, "service_length_m": 1}, Verdict.UNKNOWN),
        ({"ipf_a": 15_000, "phases": 3}, Verdict.UNKNOWN),
    ],
)
def test_sixteen_kiloamperes_hold_only_under_their_conditions(
    supply: dict[str, object], expected: Verdict
) -> None:
    """Fuse kind and rating, one phase, 2 m of service: trade association's bulletin of 2018."""
    job = home([raw_circuit(phase="L1")], supply=supply)

    assert verdict(fault_rating, facts(job, board(way("sockets", rcbo())))) is expected


@pytest.mark.parametrize(
    ("fuse_a", "ways", "expected"),
    [
        (80, 6, Verdict.PASS),
        (100, 6, Verdict.FAIL),
        (100, 4, Verdict.PASS),
        (None, 4, Verdict.PASS),
    ],
)
def test_the_main_switch_against_the_fuse_or_the_devices_below(
    fuse_a: float | None, ways: int, expected: Verdict
) -> None:
    """536.4.202: a switch of 80 A behind 100 A does where 4 x 20 A are all that it feeds."""
    switch = Item("main-switch", Role.MAIN_SWITCH, device(Kind.MAIN_SWITCH, in_a=80), "Switch")
    circuits = [raw_circuit(id=f"c{n}") for n in range(ways)]
    job = home(circuits, supply={"cutout_fuse_a": fuse_a})
    below = [way(f"c{n}", rcbo(in_a=20)) for n in range(ways)]

    assert verdict(main_switch_not_overloaded, facts(job, board(switch, *below))) is expected


@pytest.mark.parametrize(
    ("check", "changes", "expected"),
    [
        (submain.loop_disconnects, {}, Verdict.PASS),
        (submain.loop_disconnects, {"length_m": 200}, Verdict.FAIL),
        (submain.cable_carries_the_fuse, {}, Verdict.PASS),
        (submain.cable_carries_the_fuse, {"fuse_a": 80}, Verdict.FAIL),
        (submain.volt_drop, {}, Verdict.PASS),
        (submain.volt_drop, {"length_m": 200}, Verdict.FAIL),
        (submain.concealed_cable, {"concealed": "yes"}, Verdict.PASS),
        (submain.concealed_cable, {"concealed": "no"}, Verdict.NOT_APPLICABLE),
        (
            submain.concealed_cable,
            {"concealed": "yes", "cable": "flat twin and earth"},
            Verdict.FAIL,
        ),
        (submain.concealed_cable, {"cable": "flat twin and earth"}, Verdict.UNKNOWN),
        (
            submain.concealed_cable,
            {"concealed": "yes", "cable": "tails in conduit", "rcd_ahead": "yes"},
            Verdict.PASS,
        ),
    ],
)
def test_the_distribution_circuit(check: Any, changes: dict[str, Any], expected: Verdict) -> None:  # noqa: ANN401 - a check
    job = home(
        [raw_circuit("shower", load={"power_w": 9500})], supply={"submain": SUBMAIN | changes}
    )

    assert verdict(check, facts(job)) is expected


@pytest.mark.parametrize(
    ("rcd_ahead", "expected"),
    [("yes", Verdict.PASS), ("no", Verdict.FAIL), (None, Verdict.UNKNOWN)],
)
def test_on_tt_a_distribution_circuit_needs_an_rcd_ahead(
    rcd_ahead: str | None, expected: Verdict
) -> None:
    supply = {"system": "TT", "submain": {**SUBMAIN, "rcd_ahead": rcd_ahead}}

    assert (
        verdict(submain.loop_disconnects, facts(home([raw_circuit()], supply=supply))) is expected
    )


def _ev(**declared: object) -> dict[str, Any]:
    return raw_circuit("EV point", ev=declared)


@pytest.mark.parametrize(
    ("fitted", "expected"),
    [
        (rcbo(), Verdict.PASS),
        (rcbo(poles=1), Verdict.FAIL),
        (rcbo(idn_a=0.1), Verdict.FAIL),
        (device(Kind.MCB), Verdict.FAIL),
    ],
)
def test_a_charging_point_has_an_rcd_of_its_own(fitted: Any, expected: Verdict) -> None:  # noqa: ANN401 - a device
    """722.531.3, from memory."""
    given = facts(home([_ev()]), board(way("ev-point", fitted)))

    assert verdict(charging_point_rcd, given) is expected


@pytest.mark.parametrize(
    ("declared", "fitted", "expected"),
    [
        ({"dc_detection": "yes"}, "A", Verdict.PASS),
        ({"dc_detection": "no"}, "A", Verdict.FAIL),
        ({}, "A", Verdict.UNKNOWN),
        ({"dc_detection": "no"}, "B", Verdict.PASS),
    ],
)
def test_a_charging_points_dc_is_seen(
    declared: dict[str, str], fitted: str, expected: Verdict
) -> None:
    given = facts(home([_ev(**declared)]), board(way("ev-point", rcbo(rcd_type=fitted))))

    assert verdict(charging_point_dc, given) is expected


@pytest.mark.parametrize("declared", [{}, {"dc_detection": "no"}])
@pytest.mark.parametrize("fitted", ["AC", "A", "F"])
def test_a_blinded_rcd_is_one_finding(declared: dict[str, str], fitted: str) -> None:
    given = facts(home([_ev(**declared)]), board(way("ev-point", rcbo(rcd_type=fitted))))

    assert [f.check for f in (*charging_point_dc(given), *type_suits(given))] == ["ev.dc"]


@pytest.mark.parametrize("fitted", [device(Kind.MCB), rcbo(idn_a=0.1)])
def test_a_missing_rcd_is_one_finding(fitted: Any) -> None:  # noqa: ANN401 - a device
    given = facts(home([_ev(dc_detection="yes")]), board(way("ev-point", fitted)))
    checks = (charging_point_rcd, charging_point_dc, required, type_suits)
    failing = [f for run in checks for f in run(given) if f.verdict is Verdict.FAIL]

    assert [f.check for f in failing] == ["ev.rcd"]


@pytest.mark.parametrize(
    ("system", "declared", "expected"),
    [
        ("TN-C-S", {"outdoors": "yes", "pen_protection": "yes"}, Verdict.PASS),
        ("TN-C-S", {"outdoors": "yes", "pen_protection": "no"}, Verdict.FAIL),
        ("TN-C-S", {"outdoors": "yes"}, Verdict.UNKNOWN),
        ("TN-C-S", {"outdoors": "no"}, Verdict.NOT_APPLICABLE),
        ("TT", {"outdoors": "yes"}, Verdict.NOT_APPLICABLE),
    ],
)
def test_a_broken_pen(system: str, declared: dict[str, str], expected: Verdict) -> None:
    """722.411.4.1 (i) to (v): IET journal, issue 79."""
    job = home([_ev(**declared)], supply={"system": system})

    assert verdict(charging_point_pen, facts(job)) is expected


@pytest.mark.parametrize(
    ("declared", "expected"),
    [(True, Verdict.PASS), (False, Verdict.FAIL), (None, Verdict.UNKNOWN)],
)
def test_what_is_fed_from_both_sides_is_made_for_it(
    declared: bool | None,  # noqa: FBT001 - a column
    expected: Verdict,
) -> None:
    """530.3.201: charity's guidance on bidirectional devices."""
    pv = raw_circuit("PV", source={"power_w": 3600, "dc_separated": "yes"})
    given = facts(home([pv]), board(way("pv", rcbo(bidirectional=declared))))

    assert verdict(direction, given) is expected


def test_notices_come_with_what_they_are_for() -> None:
    pv = raw_circuit("PV", source={"power_w": 3600})

    assert "514.15" in found(dual_supply_notice, facts(home([pv]))).rule.clause
    assert "Ev point" in found(network_operator_told, facts(home([_ev()]))).message
    assert list(dual_supply_notice(facts(home([raw_circuit()])))) == []
    assert list(network_operator_told(facts(home([raw_circuit()])))) == []


@pytest.mark.parametrize(
    ("powers_w", "phases", "asks_first"),
    [((3600,), 1, False), ((3600, 3000), 1, True), ((11_000,), 3, False), ((12_000,), 3, True)],
)
def test_generation_over_16_amperes_a_phase_asks_first(
    powers_w: tuple[float, ...], phases: int, *, asks_first: bool
) -> None:
    """3.68 kW a phase may be told afterwards: the network operators' rule, from memory."""
    sources = [
        raw_circuit("PV", id=f"pv{n}", phases=phases, source={"power_w": power_w})
        for n, power_w in enumerate(powers_w)
    ]
    cable = {"type": "swa 70", "line_mm2": 6, "cpc_mm2": 6, "length_m": 10, "method": "C"}
    job = home([{**source, "cable": cable} for source in sources], supply={"phases": phases})

    assert ("Apply" in found(network_operator_told, facts(job)).remedy) is asks_first


@pytest.mark.parametrize(
    ("fuse_standard", "cpc_mm2", "expected"),
    [
        ("BS 88-2", 16, Verdict.PASS),
        ("BS 88-2", 2.5, Verdict.ADVISE),
        ("MCB B", 2.5, Verdict.PASS),
    ],
)
def test_the_distribution_circuits_protective_conductor(
    fuse_standard: str, cpc_mm2: float, expected: Verdict
) -> None:
    """√(I²t)/k: at 0.35 Ω and 2 m no more than 230/0.35 A for 5 s, k 143: at most 10.3 mm²."""
    changed = {"fuse_standard": fuse_standard, "cpc_mm2": cpc_mm2, "length_m": 2}
    job = home([raw_circuit()], supply={"submain": {**SUBMAIN, **changed}})
    finding = found(submain.protective_conductor_survives, facts(job))

    assert finding.verdict is expected
    assert (finding.limit or 0) <= 230 / 0.35 * 5**0.5 / 143
