"""The device a circuit asks for, and what disconnects a fault."""

import pytest

from boardwright.circuits.results import AfddNeed, FaultProtection, RcdNeed
from tests.circuits.build import home, only, planned, raw_circuit

RADIAL_4 = {"line_mm2": 4, "cpc_mm2": 1.5, "length_m": 20, "method": "C"}


@pytest.mark.parametrize(
    ("circuit", "in_a"),
    [
        (raw_circuit(), 20),
        (raw_circuit(cable=RADIAL_4), 32),
        (raw_circuit(topology="ring"), 32),
        (raw_circuit("lighting"), 6),
        (raw_circuit("immersion heater", load={"power_w": 3000}), 16),
        (raw_circuit("fixed appliance", load={"ib_a": 22}), 25),
        (raw_circuit("cooker", wanted={"in_a": 32}), 32),
    ],
)
def test_the_usual_device_is_taken(circuit: dict[str, object], in_a: float) -> None:
    """Common practice, no source; rings and radials: On-Site Guide, conventional circuits."""
    assert only(circuit).in_a == in_a


def test_the_usual_device_gives_way_to_a_poor_cable() -> None:
    cable = {"line_mm2": 2.5, "cpc_mm2": 1.5, "length_m": 20, "method": "103"}
    result = only(raw_circuit("immersion heater", load={"power_w": 2000}, cable=cable))

    # 13.5 A by method 103: not the usual 16 A, but the 10 A that carries 8.7 A.
    assert result.in_a == 10


def test_on_tt_the_rcd_disconnects_and_its_limit_counts() -> None:
    result = only(raw_circuit(), supply={"system": "TT", "ze_ohm": 120})

    assert result.fault_protection is FaultProtection.RCD
    assert result.zs_max_ohm == pytest.approx(50 / 0.03)
    assert result.disconnection_s == 0.2
    assert result.protection.poles == 2


def test_on_tt_without_a_reading_there_is_no_loop() -> None:
    result = only(raw_circuit(), supply={"system": "TT", "ze_ohm": None})

    assert result.zs_ohm is None
    assert result.adiabatic_mm2 is None


def test_on_tt_the_electrode_and_the_source_stand_in_for_ze() -> None:
    """21 ohm at the source: forum thread on the earth loop of a TT supply."""
    plan = planned(
        home(
            [raw_circuit()], supply={"system": "TT", "ze_ohm": None}, earthing={"electrode_ohm": 80}
        )
    )

    assert plan.origin.zdb_ohm == 101
    assert plan.origin.zdb_assumed


def test_a_missing_ze_is_taken_at_the_declared_maximum_and_said() -> None:
    origin = planned(home([raw_circuit()], supply={"ze_ohm": None, "system": "TN-S"})).origin

    assert (origin.ze_ohm, origin.zdb_ohm, origin.zdb_assumed) == (None, 0.8, True)


def test_in_tn_a_high_loop_is_left_to_the_rcd() -> None:
    cable = {"line_mm2": 1.5, "cpc_mm2": 1.0, "length_m": 220, "method": "C"}
    result = only(raw_circuit("lighting", cable=cable))

    assert (result.zs_ohm or 0) > result.breaker_zs_max_ohm
    assert result.fault_protection is FaultProtection.RCD


def test_without_a_protective_conductor_nothing_is_promised() -> None:
    cable = {"line_mm2": 1.5, "cpc_mm2": 0, "length_m": 20, "method": "C"}
    result = only(raw_circuit("lighting", cable=cable))

    assert result.zs_ohm is None
    assert result.r1r2_20c_ohm is None


@pytest.mark.parametrize(
    ("serves", "in_a", "time_s"),
    [("sockets", 32, 0.4), ("cooker", 32, 0.4), ("shower", 45, 5), ("sub-board", 32, 5)],
)
def test_disconnection_time_by_circuit(serves: str, in_a: float, time_s: float) -> None:
    """411.3.2.2 to .4; 0.4 s and 5 s: examination guide's article on the 80 % rule."""
    assert only(raw_circuit(serves, wanted={"in_a": in_a})).disconnection_s == time_s


def test_every_reason_for_an_rcd_is_told() -> None:
    circuit = raw_circuit("lighting", bathroom=True)
    circuit["cable"] = {**circuit["cable"], "concealed": "yes"}
    device = only(circuit).protection

    assert device.rcd_need is RcdNeed.REQUIRED
    assert [reason.rpartition("(")[2] for reason in device.rcd_reasons] == [
        "411.3.4)",
        "701.411.3.3)",
        "522.6.202)",
    ]


def test_armour_protects_a_hidden_cable_by_itself() -> None:
    cable = {
        "type": "swa 70",
        "line_mm2": 6,
        "cpc_mm2": 6,
        "length_m": 9,
        "method": "C",
        "concealed": "yes",
    }

    assert only(raw_circuit("heat pump", cable=cable)).protection.rcd_need is RcdNeed.NOT_REQUIRED


@pytest.mark.parametrize(
    ("building", "need"),
    [
        ("ordinary", AfddNeed.RECOMMENDED),
        ("higher-risk residential", AfddNeed.REQUIRED),
        ("house in multiple occupation", AfddNeed.REQUIRED),
        ("student", AfddNeed.REQUIRED),
        ("care home", AfddNeed.REQUIRED),
    ],
)
def test_arc_fault_detection_by_class_of_building(building: str, need: AfddNeed) -> None:
    """421.1.7: landlords' association note on A2; forum thread on the draft of A4."""
    premises = {"kind": "flat", "building_class": building}

    assert only(raw_circuit(), premises=premises).protection.afdd is need
    assert only(raw_circuit("lighting"), premises=premises).protection.afdd is AfddNeed.NONE


@pytest.mark.parametrize(
    ("circuit", "rcd_type"),
    [
        (raw_circuit(), "A"),
        (raw_circuit("heat pump"), "F"),
        (raw_circuit("heat pump", maker_rcd_type="B"), "B"),
        (raw_circuit("EV point"), "B"),
        (raw_circuit("EV point", ev={"dc_detection": "yes"}), "A"),
        (raw_circuit("PV", source={"power_w": 3600, "dc_separated": "yes"}), "A"),
    ],
)
def test_the_rcd_type_follows_the_equipment(circuit: dict[str, object], rcd_type: str) -> None:
    """531.3.3, 722.531.3.101, 712.531.3.5.1, from memory."""
    assert only(circuit).protection.rcd_type == rcd_type


def test_a_source_that_may_feed_dc_and_needs_no_rcd_gets_a_breaker() -> None:
    device = only(raw_circuit("battery", source={"power_w": 3680})).protection

    assert (device.standard, device.rcd_type, device.idn_a) == ("MCB", "", None)
    assert device.bidirectional


def test_a_source_behind_a_hidden_cable_keeps_an_rcd_of_type_b() -> None:
    circuit = raw_circuit("battery", source={"power_w": 3680})
    circuit["cable"] = {**circuit["cable"], "concealed": "yes"}

    assert only(circuit).protection.rcd_type == "B"
