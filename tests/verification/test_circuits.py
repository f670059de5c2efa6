"""Checks on circuits: overload, method, volt drop, loop, cpc."""

from typing import Any

import pytest

from boardwright.circuits import judged_fault
from boardwright.core.findings import Known, Sense, Verdict
from boardwright.verification.circuits import (
    cable_agrees_with_readings,
    method_known,
    overload,
    volt_drop,
)
from boardwright.verification.circuits_fault import (
    faults_near_the_board,
    live_conductors_survive,
    loop_disconnects,
    measured_loop,
    protective_conductor_survives,
)
from boardwright.verification.work import site_of
from tests.circuits.build import home, raw_circuit
from tests.verification.circuit_facts import facts, found, verdict

SHOWER = raw_circuit(
    "shower",
    load={"power_w": 9500},
    wanted={"in_a": 45},
    cable={"line_mm2": 10, "cpc_mm2": 4, "length_m": 15},
)


def _with(circuit: dict[str, Any], **cable: object) -> dict[str, Any]:
    return {**circuit, "cable": {**circuit["cable"], **cable}}


@pytest.mark.parametrize(
    ("method", "expected"),
    [("C", Verdict.PASS), ("102", Verdict.PASS), ("101", Verdict.FAIL)],
)
def test_a_shower_depends_on_its_cables_method(method: str, expected: Verdict) -> None:
    """10 mm²: 64, 47, 36 A by methods C, 102, 101; 32 A by 103: Table 4D5."""
    finding = found(overload, facts(home([_with(SHOWER, method=method)])))

    assert finding.verdict is expected
    assert "433.1.1" in finding.rule.clause
    assert "Table 4D5" in finding.rule.clause


def test_a_method_that_decides_is_not_known_and_tells_both_figures() -> None:
    finding = found(method_known, facts(home([SHOWER])))

    assert finding.verdict is Verdict.UNKNOWN
    assert "64.0 A" in finding.message
    assert "32.0 A" in finding.message
    assert "loft" in finding.remedy
    assert list(overload(facts(home([SHOWER])))) == []


def test_a_ring_too_thin_for_any_method_is_told_once() -> None:
    """433.1.204: 2.5 mm² at least, wherever the cable lies."""
    cable = {"line_mm2": 1.5, "cpc_mm2": 1.0, "length_m": 40}
    given = facts(home([raw_circuit(topology="ring", cable=cable, wanted={"in_a": 32})]))

    assert verdict(overload, given) is Verdict.FAIL
    assert list(method_known(given)) == []


def test_a_method_that_decides_nothing_is_advice() -> None:
    small = raw_circuit("lighting", cable={"line_mm2": 1.5, "cpc_mm2": 1.0, "length_m": 20})

    assert verdict(method_known, facts(home([small]))) is Verdict.ADVISE


def test_a_cable_too_small_by_every_method_fails_even_unseen() -> None:
    small = {**SHOWER, "cable": {"line_mm2": 4, "cpc_mm2": 1.5, "length_m": 15}}

    assert verdict(overload, facts(home([small]))) is Verdict.FAIL
    assert list(method_known(facts(home([small])))) == []


def test_a_capacity_from_memory_makes_the_finding_one_from_memory() -> None:
    """C of 10 mm² was not seen, 100 of 10 mm² was."""
    clipped, covered = (
        found(overload, facts(home([_with(SHOWER, method=method)]))) for method in ("C", "100")
    )

    assert clipped.rule.known is Known.MEMORY
    assert covered.rule.known is Known.FOUND


def test_a_fixed_load_that_cannot_overload_is_advice() -> None:
    """433.3.1, from memory: 41.3 A on a cable of 42.5 A behind 45 A."""
    shower = _with(SHOWER, line_mm2=16, method="103")

    assert verdict(overload, facts(home([shower]))) is Verdict.ADVISE


def test_a_load_over_its_device_fails() -> None:
    finding = found(overload, facts(home([{**_with(SHOWER, method="C"), "wanted": {"in_a": 40}}])))

    assert finding.verdict is Verdict.FAIL
    assert (finding.limit, round(finding.value or 0, 1)) == (40, 41.3)


@pytest.mark.parametrize(
    ("line_mm2", "method", "in_a", "expected"),
    [
        (2.5, "C", 32, Verdict.PASS),
        (2.5, "102", 32, Verdict.PASS),
        (2.5, "101", 32, Verdict.FAIL),
        (1.5, "C", 32, Verdict.FAIL),
        (2.5, "C", 40, Verdict.FAIL),
    ],
)
def test_a_ring_has_a_rule_of_its_own(
    line_mm2: float, method: str, in_a: float, expected: Verdict
) -> None:
    """433.1.204: 2.5 mm², 30 or 32 A, Iz at least 20 A: trade encyclopaedia on 433.1.5."""
    ring = _with(raw_circuit(topology="ring", wanted={"in_a": in_a}), line_mm2=line_mm2)
    finding = found(overload, facts(home([_with(ring, method=method)])))

    assert finding.verdict is expected
    assert "433.1.204" in finding.rule.clause


@pytest.mark.parametrize(
    ("circuit", "length_m", "expected"),
    [
        (raw_circuit(load={"ib_a": 20}), 31, Verdict.PASS),
        (raw_circuit(load={"ib_a": 20}), 40, Verdict.FAIL),
        (raw_circuit(), 40, Verdict.UNKNOWN),
        (raw_circuit("lighting", load={"ib_a": 5}), 90, Verdict.FAIL),
    ],
)
def test_volt_drop_fails_only_for_a_load_that_is_known(
    circuit: dict[str, Any], length_m: float, expected: Verdict
) -> None:
    assert verdict(volt_drop, facts(home([_with(circuit, length_m=length_m)]))) is expected


def test_the_true_temperature_may_save_the_volt_drop() -> None:
    """18 mV/A/m x 20 A x 33 m is 11.88 V; Ct 0.9398 makes 11.16 V of it."""
    finding = found(volt_drop, facts(home([_with(raw_circuit(load={"ib_a": 20}), length_m=33)])))

    assert finding.verdict is Verdict.PASS
    assert finding.value == pytest.approx(11.88 * 0.9398, abs=0.002)


@pytest.mark.parametrize(("read_ohm", "quiet"), [(0.39, True), (0.42, True), (0.60, False)])
def test_a_reading_far_from_the_cable_is_told(read_ohm: float, quiet: bool) -> None:  # noqa: FBT001 - a column
    """20 m of 2.5/1.5 give 0.390 Ω; a quarter of it either way is common practice, no source."""
    findings = list(
        cable_agrees_with_readings(facts(home([raw_circuit(readings={"r1r2_ohm": read_ohm})])))
    )

    assert (findings == []) is quiet


@pytest.mark.parametrize(
    ("supply", "cable", "expected", "clause"),
    [
        ({}, {}, Verdict.PASS, "411.4.4"),
        ({}, {"cpc_mm2": 0}, Verdict.FAIL, "411.3.1.1"),
        ({}, {"length_m": 70}, Verdict.ADVISE, "411.4.5"),
        ({"system": "TT", "ze_ohm": 90}, {}, Verdict.PASS, "411.5.3"),
        ({"system": "TT", "ze_ohm": 1700}, {}, Verdict.FAIL, "411.5.3"),
        ({"ze_ohm": None}, {}, Verdict.PASS, "411.4.4"),
    ],
)
def test_what_disconnects_an_earth_fault(
    supply: dict[str, object], cable: dict[str, object], expected: Verdict, clause: str
) -> None:
    ring = _with(raw_circuit(wanted={"in_a": 32}), **cable)
    # Of a circuit as found without a protective conductor the gate speaks.
    new = {**ring, "existing": "cpc_mm2" not in cable}
    finding = found(loop_disconnects, facts(home([new], supply=supply)))

    assert finding.verdict is expected
    assert clause in finding.rule.clause


def test_an_electrode_not_read_is_said_once_by_the_gate() -> None:
    given = facts(home([raw_circuit()], supply={"system": "TT", "ze_ohm": None}))

    assert list(loop_disconnects(given)) == []
    assert judged_fault.loop(
        given.job.circuits[0], given.plan.circuits[0], site_of(given)
    ).verdict is (Verdict.UNKNOWN)


def test_loops_that_wait_for_ze_are_one_finding() -> None:
    cookers = [
        _with(
            raw_circuit("cooker", id=f"c{n}", wanted={"in_a": 32, "standard": "MCB"}), length_m=30
        )
        for n in range(3)
    ]
    supply = {"system": "TN-S", "ze_ohm": None}
    finding = found(loop_disconnects, facts(home(cookers, supply=supply)))

    assert finding.verdict is Verdict.UNKNOWN
    assert finding.message.count("Cooker: Zs") == 3


def test_a_breaker_without_rcd_fails_on_a_high_loop() -> None:
    cooker = raw_circuit("cooker", wanted={"in_a": 32, "standard": "MCB"})
    finding = found(loop_disconnects, facts(home([_with(cooker, length_m=70)])))

    assert finding.verdict is Verdict.FAIL
    assert finding.limit == pytest.approx(1.3656, abs=0.0001)


def test_at_the_declared_maximum_a_high_loop_is_not_known() -> None:
    cooker = raw_circuit("cooker", wanted={"in_a": 32, "standard": "MCB"})
    supply = {"system": "TN-S", "ze_ohm": None}
    finding = found(loop_disconnects, facts(home([_with(cooker, length_m=30)], supply=supply)))

    assert finding.verdict is Verdict.UNKNOWN
    assert finding.remedy == "Measure Ze."


@pytest.mark.parametrize(
    ("zs_ohm", "expected"), [(1.09, Verdict.PASS), (1.0925, Verdict.PASS), (1.10, Verdict.FAIL)]
)
def test_a_cold_reading_is_held_against_four_fifths_unrounded(
    zs_ohm: float, expected: Verdict
) -> None:
    """0.8 x 218.5/160 = 1.0925 Ω: one list prints 1.10, which is over it."""
    read = raw_circuit("cooker", wanted={"in_a": 32}, readings={"zs_ohm": zs_ohm})

    assert verdict(measured_loop, facts(home([read]))) is expected


def test_hot_and_measured_are_never_both_reduced() -> None:
    """A design Zs of 1.3 Ω passes at the full 1.37, a reading of 1.3 Ω fails at 80 %."""
    circuit = raw_circuit("cooker", wanted={"in_a": 32}, readings={"zs_ohm": 1.3})
    given = facts(home([_with(circuit, length_m=40)]))

    assert found(loop_disconnects, given).value == pytest.approx(1.286, abs=0.001)
    assert verdict(loop_disconnects, given) is Verdict.PASS
    assert verdict(measured_loop, given) is Verdict.FAIL


@pytest.mark.parametrize(
    ("ze_ohm", "cpc_mm2", "expected"),
    [(0.35, 1.5, Verdict.PASS), (0.02, 1.5, Verdict.PASS), (0.02, 1.0, Verdict.FAIL)],
)
def test_the_cpc_bears_the_fault(ze_ohm: float, cpc_mm2: float, expected: Verdict) -> None:
    """At Ze 0.02 Ω 0.1 s of fault current asks more than the class of the breaker does."""
    circuit = _with(raw_circuit("cooker", wanted={"in_a": 32}), cpc_mm2=cpc_mm2, length_m=8)
    finding = found(
        protective_conductor_survives, facts(home([circuit], supply={"ze_ohm": ze_ohm}))
    )

    assert finding.verdict is expected
    assert finding.sense is Sense.AT_LEAST


def test_a_strong_supply_strains_small_cpcs_near_the_board() -> None:
    """On-Site Guide Table B7, from memory: 1.5 mm² to 3 kA, 2.5 mm² to 6 kA."""
    weak, strong = (
        found(faults_near_the_board, facts(home([raw_circuit()], supply={"ze_ohm": ze_ohm})))
        for ze_ohm in (0.35, 0.05)
    )

    assert weak.verdict is Verdict.PASS
    assert strong.verdict is Verdict.ADVISE
    assert "Sockets" in strong.message


def test_live_conductors_bear_what_their_device_lets_through() -> None:
    """435.1: a breaker that covers overload covers the short-circuit; else √(I²t)/k is asked."""
    covered = raw_circuit("cooker", wanted={"in_a": 20})
    thin = _with(
        raw_circuit("fixed appliance", wanted={"in_a": 63, "standard": "MCB"}),
        line_mm2=1.0,
        cpc_mm2=1.0,
        length_m=1,
    )
    supply = {"ze_ohm": 0.05}

    assert verdict(live_conductors_survive, facts(home([covered]))) is Verdict.PASS
    # 230/(0.05 + 0.0434) Ω is 2462 A; for 0.1 s that asks 6.77 mm².
    finding = found(live_conductors_survive, facts(home([thin], supply=supply)))
    assert finding.verdict is Verdict.FAIL
    assert finding.limit == pytest.approx(6.77, abs=0.01)


def test_a_ring_too_is_not_loaded_beyond_its_device() -> None:
    """433.1.1 comes before the rule for rings: 38 A on 32 A."""
    ring = raw_circuit(topology="ring", wanted={"in_a": 32}, load={"ib_a": 38})
    finding = found(overload, facts(home([ring])))

    assert finding.verdict is Verdict.FAIL
    assert (finding.value, finding.limit) == (38, 32)
