"""The origin: tails, submain, three phases."""

import pytest

from tests.circuits.build import home, planned, raw_circuit

SUBMAIN = {
    "fuse_a": 63,
    "fuse_standard": "BS 88-2",
    "cable": "swa 90",
    "line_mm2": 16,
    "cpc_mm2": 16,
    "length_m": 22,
}


def test_a_submain_adds_its_loop_and_its_volt_drop() -> None:
    plan = planned(home([raw_circuit("lighting")], supply={"submain": SUBMAIN}))
    plain = planned(home([raw_circuit("lighting")]))

    # 2 x 22 m x 1.15 mΩ/m x 1.20: BS EN 60228 and the working limit.
    assert plan.origin.zdb_ohm == pytest.approx(0.35 + 2 * 22 * 1.15e-3 * 1.20)
    added_v = plan.circuits[0].volt_drop_v - plain.circuits[0].volt_drop_v
    assert added_v == pytest.approx(plan.origin.submain_volt_drop_v)
    assert plan.origin.submain_volt_drop_v == pytest.approx(2.8e-3 * plan.demand.total_a * 22)


def test_a_submain_is_judged_by_its_own_fuse_at_five_seconds() -> None:
    """Table 41.4, BS 88-2 63 A: 0.78 Ω, from memory."""
    assert (
        planned(home([raw_circuit()], supply={"submain": SUBMAIN})).origin.submain_zs_max_ohm
        == 0.78
    )


def test_a_submain_takes_the_worst_method_of_its_cable() -> None:
    """Table 4D4A, 16 mm², 78 A in the ground against 89 A clipped, from memory."""
    assert planned(home([raw_circuit()], supply={"submain": SUBMAIN})).origin.submain_iz_a == 78


def test_the_fault_current_falls_along_the_submain() -> None:
    origin = planned(home([raw_circuit()], supply={"submain": SUBMAIN, "ipf_a": 3000})).origin

    loop_ohm = 230 / 3000 + 2 * 22 * 1.15e-3
    assert origin.ipf_origin_a == 3000
    assert origin.ipf_board_max_a == pytest.approx(230 / loop_ohm)


def test_three_phases_never_believe_less_than_twice_what_ze_gives() -> None:
    """The trade's doubling of the reading to neutral, from memory."""
    supply = {"phases": 3, "ze_ohm": 0.1, "ipf_a": 2300}
    origin = planned(home([raw_circuit(phase="L1")], supply=supply)).origin

    assert origin.ipf_origin_a == pytest.approx(4600)


def test_a_figure_doubled_already_is_not_doubled_again() -> None:
    supply = {"phases": 3, "ze_ohm": 0.1, "ipf_a": 4600}

    assert planned(home([raw_circuit(phase="L1")], supply=supply)).origin.ipf_origin_a == 4600


def test_three_phase_limits_and_drops_are_line_to_line() -> None:
    """20 V of 400 V: Basic Electrical Installation Work, pp. 298-302, and a list of limits."""
    heat_pump = raw_circuit("heat pump", phases=3, load={"power_w": 9000})
    result = planned(home([heat_pump], supply={"phases": 3})).circuits[0]

    assert result.volt_drop_limit_v == pytest.approx(20)
    assert result.ib_a == pytest.approx(9000 / 690)
    # 2.5 mm²: 15 mV/A/m, electrical wholesaler's catalogue 2025/26, p. 489.
    assert result.volt_drop_v == pytest.approx(15e-3 * 9000 / 690 * 20)


def test_tails_and_the_earthing_conductor_beside_them_add_to_the_loop() -> None:
    """BS EN 60228, 25 and 16 mm², 3 m, hot."""
    supply = {"tails": {"csa_mm2": 25, "length_m": 3}}
    job = home([raw_circuit()], supply=supply, earthing={"conductor_mm2": 16})

    added_ohm = 3 * (0.727e-3 + 1.15e-3) * 1.20
    assert planned(job).origin.zdb_ohm == pytest.approx(0.35 + added_ohm)
