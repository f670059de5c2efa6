"""Checks on RCDs: duty, type, leakage, neutrals, AFDD."""

from typing import Any

import pytest

from boardwright.board.results import Item, Role, Scheme
from boardwright.catalogue.devices import Kind
from boardwright.circuits.rcd import trip_chance
from boardwright.core.findings import Verdict
from boardwright.gate.judge import judge
from boardwright.verification.rcd import (
    arc_faults,
    leakage_fits,
    left_as_found,
    neutrals_separate,
    required,
    sum_on_electrode,
    type_suits,
)
from boardwright.verification.rcd_division import division, selectivity
from tests.circuits.build import EDITION, home, leaking, raw_circuit
from tests.verification.circuit_facts import board, device, facts, found, rcbo, verdict, way

AS_FOUND: dict[str, Any] = {
    "ways": 8,
    "devices": [{"way": 1, "kind": "MCB", "in_a": 32, "curve": "B", "circuit": "sockets"}],
}


def test_sockets_without_an_rcd_fail() -> None:
    job = home([raw_circuit()])
    breaker = board(way("sockets", device(Kind.MCB, in_a=20)))

    assert verdict(required, facts(job)) is Verdict.PASS
    assert verdict(required, facts(job, breaker)) is Verdict.FAIL
    assert verdict(required, facts(job, board(way("sockets", rcbo())))) is Verdict.PASS


def test_an_rcd_of_100_milliamperes_is_not_enough() -> None:
    given = facts(home([raw_circuit()]), board(way("sockets", rcbo(idn_a=0.1))))
    finding = found(required, given)

    assert finding.verdict is Verdict.FAIL
    assert (finding.value, finding.limit) == (0.1, 0.03)


def test_nothing_asked_is_not_applicable() -> None:
    assert verdict(required, facts(home([raw_circuit("boiler")]))) is Verdict.NOT_APPLICABLE


def test_a_socket_in_the_cookers_unit_counts_as_a_socket() -> None:
    cooker = raw_circuit("cooker", load={"ib_a": 20, "with_socket": True})

    assert "411.3.3" in found(required, facts(home([cooker]))).rule.clause


@pytest.mark.parametrize(
    ("circuit", "fitted", "expected"),
    [
        (raw_circuit(), "AC", Verdict.FAIL),
        (raw_circuit(), "A", Verdict.PASS),
        (raw_circuit("heat pump", maker_rcd_type="B"), "A", Verdict.FAIL),
        (raw_circuit("heat pump", maker_rcd_type="B"), "B", Verdict.PASS),
        (raw_circuit("heat pump"), "F", Verdict.UNKNOWN),
        (raw_circuit("EV point", ev={"dc_detection": "yes"}), "AC", Verdict.FAIL),
        (raw_circuit("EV point", ev={"dc_detection": "yes"}), "A", Verdict.PASS),
    ],
)
def test_the_type_must_see_what_the_load_makes(
    circuit: dict[str, Any], fitted: str, expected: Verdict
) -> None:
    """531.3.3: IET journal article on changes to RCD testing; the rest from memory."""
    given = facts(home([circuit]), board(way(circuit["id"], rcbo(rcd_type=fitted))))

    assert verdict(type_suits, given) is expected


@pytest.mark.parametrize(
    ("readings", "count", "expected"),
    [
        ({}, 2, Verdict.PASS),
        ({}, 3, Verdict.ADVISE),
        ({"leakage_a": 0.0105}, 1, Verdict.FAIL),
        ({"leakage_a": 0.0085}, 3, Verdict.PASS),
    ],
)
def test_leakage_against_thirty_per_cent(
    readings: dict[str, float], count: int, expected: Verdict
) -> None:
    """3.5 mA each, 9 mA allowed: instrument maker's note of 2018. A reading beats the estimate."""
    kit = [{"id": "kit", "kind": "kit", "count": count}]
    job = home([raw_circuit(appliances=kit, readings=readings)])

    assert verdict(leakage_fits, facts(job, catalogue=leaking(3.5e-3))) is expected


@pytest.mark.parametrize(("leakage_a", "expected"), [(0.009, Verdict.PASS), (0.0091, Verdict.FAIL)])
def test_nine_milliamperes_read_are_what_thirty_should_bear(
    leakage_a: float, expected: Verdict
) -> None:
    """Instrument maker's leakage note, 2018: 30 % of 30 mA (531.3.2). The gate says no more."""
    job = home([raw_circuit(readings={"leakage_a": leakage_a})])
    said_by_the_gate = [f for f in judge(job, EDITION) if f.rule.clause == "531.3.2"]

    assert verdict(leakage_fits, facts(job)) is expected
    assert said_by_the_gate == []


@pytest.mark.parametrize(("leakage_a", "told"), [(0.009, False), (0.0105, True)])
def test_a_reading_is_told_where_no_rcd_is_fitted(leakage_a: float, told: bool) -> None:  # noqa: FBT001 - a column
    job = home([raw_circuit(readings={"leakage_a": leakage_a})])
    given = facts(job, board(way("sockets", device(Kind.MCB))))

    assert [f.verdict for f in leakage_fits(given)] == [Verdict.ADVISE] * told


def test_leakage_of_a_section_is_that_of_all_its_circuits() -> None:
    circuits = [
        raw_circuit(id=f"c{n}", appliances=[{"id": f"k{n}", "kind": "kit"}]) for n in range(6)
    ]
    job = home(circuits, wishes={"division": "split load"})
    findings = list(leakage_fits(facts(job, catalogue=leaking(3.5e-3))))

    assert [finding.subject for finding in findings] == ["Section A", "Section B"]
    assert all(finding.verdict is Verdict.ADVISE for finding in findings)


@pytest.mark.parametrize(
    ("electrode_ohm", "expected"),
    [(150, Verdict.PASS), (180, Verdict.ADVISE)],
)
def test_ten_rcbos_on_one_electrode(electrode_ohm: float, expected: Verdict) -> None:
    """IET forum thread 24992: 10 x 30 mA, RA at most 167 Ω; advice, no rule of its own."""
    circuits = [raw_circuit(id=f"c{n}") for n in range(10)]
    job = home(circuits, supply={"system": "TT"}, earthing={"electrode_ohm": electrode_ohm})

    assert verdict(sum_on_electrode, facts(job)) is expected


def test_the_electrode_is_no_question_on_tn() -> None:
    assert list(sum_on_electrode(facts(home([raw_circuit()])))) == []


def _lights(**readings: object) -> list[dict[str, Any]]:
    return [
        raw_circuit("lighting", id="up", readings=readings),
        raw_circuit("lighting", id="down", readings={"neutral_separate": "yes"}),
    ]


@pytest.mark.parametrize(
    ("existing", "readings", "quiet"),
    [
        (True, {"shares_neutral_with": "down"}, True),
        (False, {}, True),
        (False, {"shares_neutral_with": "down"}, False),
        (False, {"neutral_separate": "no"}, False),
    ],
)
def test_a_new_circuit_has_its_own_neutral_and_the_gate_asks_the_others(
    *, existing: bool, readings: dict[str, object], quiet: bool
) -> None:
    """Shared neutrals trip RCBOs: IET forum thread 108069."""
    up, down = _lights(**readings)
    findings = list(neutrals_separate(facts(home([{**up, "existing": existing}, down]))))

    assert (findings == []) is quiet
    assert all(finding.verdict is Verdict.FAIL for finding in findings)


def test_an_afdd_is_advice_in_a_house_and_a_duty_in_higher_risk_buildings() -> None:
    """421.1.7: landlords' association note on A2."""
    fitted = board(way("sockets", device(Kind.AFDD, idn_a=0.03, rcd_type="A")))
    plain = board(way("sockets", rcbo()))
    tall = {"kind": "flat", "building_class": "higher-risk residential"}

    assert verdict(arc_faults, facts(home([raw_circuit()]), plain)) is Verdict.ADVISE
    assert verdict(arc_faults, facts(home([raw_circuit()]), fitted)) is Verdict.PASS
    job = home([raw_circuit()], premises=tall)
    assert verdict(arc_faults, facts(job, plain)) is Verdict.FAIL
    assert verdict(arc_faults, facts(job, fitted)) is Verdict.PASS
    assert verdict(arc_faults, facts(job)) is Verdict.UNKNOWN


def test_circuits_of_a_board_that_stays_are_not_judged_as_new_work() -> None:
    job = home([raw_circuit()], existing_board=AS_FOUND)
    given = facts(job, board(scheme=Scheme.SPARE_WAYS))

    assert list(required(given)) == []
    assert verdict(left_as_found, given) is Verdict.ADVISE


def test_an_rcd_as_found_of_type_ac_is_named() -> None:
    rccb = {"way": 2, "modules": 2, "kind": "RCCB", "in_a": 63, "idn_a": 0.03, "rcd_type": "AC"}
    found_board = {**AS_FOUND, "devices": [*AS_FOUND["devices"], rccb]}
    job = home([raw_circuit()], existing_board=found_board)
    finding = found(left_as_found, facts(job, board(scheme=Scheme.SPARE_WAYS)))

    assert "type AC" in finding.message


@pytest.mark.parametrize(
    ("leakage_a", "words"), [(0.010, "a little more may trip it"), (0.016, "at any time")]
)
def test_the_chance_of_tripping_is_told_in_words(leakage_a: float, words: str) -> None:
    """An RCD may trip from half its IdN: instrument maker's note of 2018."""
    job = home([raw_circuit(readings={"leakage_a": leakage_a})])

    assert words in found(leakage_fits, facts(job)).message


@pytest.mark.parametrize(
    ("idn_a", "delayed", "expected"),
    [(0.1, True, Verdict.PASS), (0.1, False, Verdict.ADVISE), (0.03, True, Verdict.ADVISE)],
)
def test_an_rcd_ahead_lets_those_below_trip_first(
    idn_a: float, *, delayed: bool, expected: Verdict
) -> None:
    """Time-delayed and three times the residual current: 536.4.1.4, from memory."""
    rccb = device(Kind.RCCB, in_a=100, idn_a=idn_a, rcd_type="A", time_delayed=delayed)
    ahead = Item("incomer-rcd", Role.INCOMER_RCD, rccb, "RCD")
    given = facts(home([raw_circuit()]), board(ahead, way("sockets", rcbo())))

    assert verdict(selectivity, given) is expected
    assert list(selectivity(facts(home([raw_circuit()]), board(way("sockets", rcbo()))))) == []


def test_a_divided_home_is_told_what_goes_off_together() -> None:
    rings = [
        raw_circuit(id=f"r{n}", name=f"Ring {n}", topology="ring", wanted={"in_a": 32})
        for n in range(6)
    ]
    split = home(rings, wishes={"division": "split load"})
    finding = found(division, facts(split, board()))

    assert finding.verdict is Verdict.ADVISE
    assert finding.message.startswith("Off together: Ring")
    assert verdict(division, facts(home(rings), board())) is Verdict.PASS


@pytest.mark.parametrize(
    ("leakage_a", "words"),
    [
        (0.009, "bears"),
        (0.0091, "a little more"),
        (0.0149, "a little more"),
        (0.015, "at any time"),
        (0.030, "will trip"),
    ],
)
def test_the_chance_of_tripping_in_words(leakage_a: float, words: str) -> None:
    """30 %: instrument maker's note of 2018; between half of IdN and IdN it may: BS EN 61008-1."""
    assert words in trip_chance(leakage_a, 0.03, EDITION)
