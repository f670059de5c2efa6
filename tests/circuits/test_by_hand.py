"""Circuits of the textbook kind, and a thousand at random, against a calculation of its own."""

import random

import pytest

from boardwright.circuits.plan import plan_circuits
from boardwright.circuits.results import CircuitResult
from tests.circuits.build import EDITION, NOTHING, Raw, home, only, raw_circuit
from tests.circuits.by_hand import CA, CARRIES, CI, FUSES, METHODS, PAIRS, Case, by_hand

TEXTBOOK = {
    "shower of 10.5 kW on 10 mm² clipped": Case(10, "C", 22, 10_500 / 230, 50, sockets=False),
    "radial of 25 m with three others in insulation": Case(
        2.5, "C", 25, 14, 16, beside=3, insulated_mm=400
    ),
    "immersion heater in a warm loft": Case(
        2.5, "100", 18, 3000 / 230, 16, sockets=False, ambient_c=40
    ),
    "long lights in a stud wall": Case(1, "103", 40, 4, 6, sockets=False),
    "cooker behind a rewirable fuse": Case(
        6, "A", 12, 24, 30, standard="BS 3036", sockets=False, ze_ohm=0.2
    ),
    "heat pump on curve C": Case(6, "C", 20, 5000 / 230, 32, curve="C", sockets=False),
    "shower behind a cartridge fuse on TN-S": Case(
        10, "102", 17, 40, 45, standard="BS 88-3", sockets=False, system="TN-S", ze_ohm=0.8
    ),
    "welder on curve D": Case(16, "C", 12, 40, 50, curve="D", sockets=False, ze_ohm=0.1),
    "sockets on TT": Case(4, "A", 30, 20, 25, system="TT", ze_ohm=95),
}


LOGGED: Raw = {"demand_logged_a": 4, "demand_logged_source": "a clamp, one week"}


def _result(case: Case) -> CircuitResult:
    cable = {
        "line_mm2": case.size_mm2,
        "cpc_mm2": PAIRS[case.size_mm2],
        "length_m": case.length_m,
        "method": case.method,
        "grouped_with": case.beside,
        "ambient_c": case.ambient_c,
        "insulated_mm": case.insulated_mm,
    }
    circuit = raw_circuit(
        "sockets" if case.sockets else "fixed appliance",
        cable=cable,
        load={"ib_a": case.ib_a},
        wanted={"in_a": case.in_a, "standard": case.standard, "curve": case.curve},
    )
    around: Raw = {"supply": {"system": case.system, "ze_ohm": case.ze_ohm}}
    if case.standard in FUSES:
        around |= {"wishes": {"board": "keep"}, "existing_board": {"ways": 6}}
    return only(circuit, **around)


def _found(case: Case) -> dict[str, float]:
    result = _result(case)
    return {name: getattr(result, name) for name in by_hand(case)}


@pytest.mark.parametrize("name", TEXTBOOK)
def test_a_textbook_circuit(name: str) -> None:
    assert _found(TEXTBOOK[name]) == pytest.approx(by_hand(TEXTBOOK[name]), rel=1e-9)


@pytest.mark.parametrize("seed", range(10))
def test_a_hundred_circuits_at_random(seed: int) -> None:
    draw = random.Random(seed)
    for _ in range(100):
        standard = draw.choice(("RCBO", "MCB", *FUSES))
        # A fuse of 45 or 60 A has no loop for 0.4 s: it feeds something fixed.
        fuse = standard in FUSES
        in_a = draw.choice(tuple(FUSES[standard][1]) if fuse else (6, 10, 16, 20, 32, 40, 50))
        in_a = in_a if not fuse or in_a in FUSES[standard][0] else 45
        system = draw.choice(("TN-S", "TN-C-S", "TT"))
        case = Case(
            size_mm2=draw.choice(tuple(CARRIES)),
            method=draw.choice(METHODS),
            length_m=round(draw.uniform(1, 80), 1),
            ib_a=round(draw.uniform(0.5, in_a), 2),
            in_a=in_a,
            standard=standard,
            curve=draw.choice("BCD"),
            sockets=draw.random() < 0.5 and not (fuse and in_a > 32),
            beside=draw.randrange(9),
            ambient_c=draw.choice(tuple(CA)),
            insulated_mm=draw.choice(tuple(CI)),
            system=system,
            ze_ohm=round(draw.uniform(5, 200) if system == "TT" else draw.uniform(0.05, 0.9), 3),
        )

        assert _found(case) == pytest.approx(by_hand(case), rel=1e-9), case


def test_a_ring_at_its_far_point() -> None:
    """78 m of 2.5/1.5 mm²: 26 A through a quarter of its loop; Ze 0.8 Ω (On-Site Guide's rule)."""
    cable = {"line_mm2": 2.5, "cpc_mm2": 1.5, "length_m": 78, "method": "A"}
    ring = raw_circuit(topology="ring", cable=cable, wanted={"in_a": 32})
    result = only(ring, supply={"system": "TN-S", "ze_ohm": 0.8})

    assert result.volt_drop_v == pytest.approx(18 * 26 * 78 / 4 / 1000)
    assert result.zs_ohm == pytest.approx(0.8 + 1.2 * (7.41 + 12.10) * 78 / 4 / 1000)


def test_a_cooker_with_a_socket_draws_by_its_allowance() -> None:
    """12 kW: 10 A, 30 % of the other 42.17 A, and 5 A for the socket: 27.65 A (Table 6.2)."""
    load = {"power_w": 12_000, "with_socket": True}

    assert only(raw_circuit("cooker", load=load)).ib_a == pytest.approx(27.652, abs=0.0005)


def test_a_three_phase_motor() -> None:
    """11 kW on three lines: 15.94 A; 9.5 mV/A/m over 30 m, 20 V of 400 V allowed (Table 4D1B)."""
    cable = {"type": "swa 70", "line_mm2": 4, "cpc_mm2": 4, "length_m": 30, "method": "C"}
    motor = raw_circuit(
        "fixed appliance", phases=3, cable=cable, load={"power_w": 11_000},
        wanted={"in_a": 20, "curve": "C"},
    )  # fmt: skip
    result = only(motor, supply={"phases": 3, "ze_ohm": 0.3})

    assert result.volt_drop_v == pytest.approx(9.5 * 11_000 / 690 * 30 / 1000)
    assert result.volt_drop_limit_v == 20
    assert result.zs_max_ohm == pytest.approx(230 * 0.95 / 200)


@pytest.mark.parametrize(("phases", "before_v"), [(1, 2.8 * 4 * 25 / 1000), (3, 2.4 * 4 * 25e-3)])
def test_lights_behind_a_submain_lose_volts_twice(phases: int, before_v: float) -> None:
    """16 mm² over 25 m, then 1.5 mm² over 20 m at 4 A; of three phases 1/√3 (Table 4D1B)."""
    submain = {
        "cable": "swa 70", "line_mm2": 16, "cpc_mm2": 16, "length_m": 25,
        "fuse_a": 63, "fuse_standard": "BS 88-2",
    }  # fmt: skip
    lights = raw_circuit(
        "lighting", load={"ib_a": 4}, phase="L1" if phases == 3 else None,
        cable={"line_mm2": 1.5, "cpc_mm2": 1, "length_m": 20, "method": "C"},
    )  # fmt: skip
    job = home([lights], supply={"phases": phases, "submain": submain}, **LOGGED)
    plan = plan_circuits(job, NOTHING, EDITION)
    seen_v = before_v / (3**0.5 if phases == 3 else 1)

    assert plan.circuits[0].volt_drop_v == pytest.approx(29 * 4 * 20 / 1000 + seen_v)
