"""Fault currents and touch voltage: a trade association's 16 kA bulletin, and Ohm's law."""

import pytest

from boardwright.circuits.conductor import loop_20c_ohm
from boardwright.circuits.fault import fault_a, fault_behind_a, least_fault_a, touch_voltage_v
from tests.circuits.build import EDITION, only, raw_circuit


def test_two_metres_of_service_bring_the_main_under_sixteen_kiloamperes() -> None:
    """Bulletin "16 kA conditional rating", December 2018: 19.6 kA at the main, over 2 m to 16 kA.

    Our sum of resistances: 2 m of 25 mm² give 15.7 kA, of 35 mm² 16.6 kA.
    """
    fault_a = {
        csa: fault_behind_a(230, 19_600, loop_20c_ohm(EDITION, csa, csa, 2)) for csa in (25, 35)
    }

    assert fault_a[25] == pytest.approx(15_700, abs=50)
    assert fault_a[35] == pytest.approx(16_600, abs=50)
    assert fault_a[25] < EDITION.number("conditional.ipf_max_a")


def test_three_metres_of_tails() -> None:
    """16 kA at the origin, 3 m of 25 mm²: 12.275 kA, resistive sum."""
    added_ohm = loop_20c_ohm(EDITION, 25, 25, 3)

    assert fault_behind_a(230, 16_000, added_ohm) == pytest.approx(12_275, abs=0.5)


def test_a_loop_of_fifteen_hundredths() -> None:
    """230 V through 0.15 Ω: 1533 A, and 0.95 of it at the lowest voltage."""
    assert fault_a(230, 0.15) == pytest.approx(1533, abs=0.5)
    assert least_fault_a(0.95, 230, 0.15) == pytest.approx(0.95 * 1533.33, abs=0.01)


def test_touch_voltage_of_ten_metres() -> None:
    """Ze 0.35, R1 0.0741, R2 0.1210 Ω: 421.94 A and 51.05 V."""
    zs_ohm = 0.35 + loop_20c_ohm(EDITION, 2.5, 1.5, 10)

    assert 230 / zs_ohm == pytest.approx(421.94, abs=0.06)
    assert touch_voltage_v(230, zs_ohm, 0.1210) == pytest.approx(51.05, abs=0.01)


def test_a_ring_reads_a_quarter_in_its_middle() -> None:
    """Derivation sheet on ring tests: 80 m of 2.5/1.5 give 0.3902 Ω at the far point."""
    cable = {"line_mm2": 2.5, "cpc_mm2": 1.5, "length_m": 80, "method": "C"}
    result = only(raw_circuit(topology="ring", cable=cable))

    assert result.r1r2_20c_ohm == pytest.approx(0.3902, abs=0.00005)
