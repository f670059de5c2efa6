"""Varistor curves from a public maker library (20 mm disc and 40 mm block for 275 V).

The coefficients are published; the voltages, static points, pulse energies and
the combination-wave table were derived from them apart from this code.
"""

from typing import NamedTuple

import numpy as np
import pytest

from boardwright.surge.curves import LogPolynomial, voltage_v
from boardwright.surge.elements import Branch, Generator, Node, Varistor
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.operating_point import varistor_current_a
from boardwright.surge.solver import crest, solve
from boardwright.surge.waveforms import (
    GENERATOR_A,
    GENERATOR_B,
    GeneratorCircuit,
    Impulse8x20,
)

DISC_20 = LogPolynomial(2.7233755, 0.0258453, -0.0005746, 0.0046033)
BLOCK_40 = LogPolynomial(2.7103342, 0.0229461, -0.0004008, 0.0036353)

CURRENTS_A = (0.001, 1, 100, 1000, 5000, 10_000, 20_000)
VOLTAGES = [
    (DISC_20, (431.05, 533.83, 644.17, 782.24, 1011.49, 1196.96, 1493.28)),
    (BLOCK_40, (430.16, 517.09, 606.78, 711.49, 875.16, 1001.36, 1194.59)),
]


@pytest.mark.parametrize(("curve", "volts"), VOLTAGES, ids=["20 mm", "40 mm"])
def test_voltage_at_seven_currents(curve: LogPolynomial, volts: tuple[float, ...]) -> None:
    found = [voltage_v(curve, current_a) for current_a in CURRENTS_A]

    assert found == pytest.approx(volts, abs=0.05)


def test_the_upper_tolerance_meets_the_data_sheets_clamping_voltage() -> None:
    """20 mm 275 V at 100 A: listed 710 V (memory); 1.1 times the typical curve gives 708.6 V."""
    assert voltage_v(DISC_20.times(1.1), 100.0) == pytest.approx(708.6, abs=0.1)


@pytest.mark.parametrize(
    ("curve", "open_v", "current_a", "across_v"),
    [(DISC_20, 6000.0, 2554.0, 891.97), (BLOCK_40, 20_000.0, 9504.9, 990.28)],
)
def test_static_point_behind_two_ohm(
    curve: LogPolynomial, open_v: float, current_a: float, across_v: float
) -> None:
    """Derived: where 6 kV and 20 kV behind 2 ohm meet the curves."""
    found_a = varistor_current_a(curve, open_v, 2.0)

    assert found_a == pytest.approx(current_a, abs=0.05)
    assert voltage_v(curve, found_a) == pytest.approx(across_v, abs=0.005)


def test_two_equal_discs_share_10_ka() -> None:
    """Derived: 1011.5 V for two 20 mm parts, 1197.0 V for one."""
    pair = LogPolynomial(DISC_20.b1, DISC_20.b2, DISC_20.b3, DISC_20.b4, area_factor=2.0)

    assert voltage_v(pair, 10e3) == pytest.approx(1011.5, abs=0.05)
    assert voltage_v(DISC_20, 10e3) == pytest.approx(1197.0, abs=0.05)


@pytest.mark.parametrize(
    ("curve", "joules"),
    [(DISC_20, (81.3, 188.1, 455.5)), (BLOCK_40, (71.4, 160.5, 373.7))],
    ids=["20 mm", "40 mm"],
)
def test_energy_of_one_8x20_pulse(curve: LogPolynomial, joules: tuple[float, ...]) -> None:
    """Derived: 5, 10 and 20 kA of the cubed form."""
    t_s = np.arange(0.0, 120e-6, 20e-9)
    found = []
    for peak_a in (5e3, 10e3, 20e3):
        i = Impulse8x20(peak_a).current_a(t_s)
        u = np.array([voltage_v(curve, float(value)) for value in i])
        found.append(float(np.trapezoid(u * i, t_s)))

    # The table's pulses have the published crest of 0.99957.
    assert found == pytest.approx(joules, rel=2e-3)


class Row(NamedTuple):
    circuit: GeneratorCircuit
    open_kv: float
    curve: LogPolynomial
    lead_uh: float
    current_a: float
    varistor_v: float
    node_v: float
    energy_j: float


# 20 nH is the least loop; 60 µs window.
COMBINATION = [
    Row(GENERATOR_B, 6, DISC_20, 0.02, 2533, 890.8, 890.9, 35.9),
    Row(GENERATOR_B, 6, BLOCK_40, 0.02, 2582, 792.2, 792.4, 33.6),
    Row(GENERATOR_B, 6, BLOCK_40, 0.5, 2543, 790.6, 908.2, 33.8),
    Row(GENERATOR_B, 20, BLOCK_40, 0.02, 9477, 989.6, 991.1, 172.5),
    Row(GENERATOR_B, 20, BLOCK_40, 1.0, 9188, 983.1, 2350, 175.0),
    Row(GENERATOR_A, 6, BLOCK_40, 1.0, 2509, 789.2, 1127.9, 32.7),
]


@pytest.mark.parametrize("row", COMBINATION)
def test_combination_wave_into_a_varistor(row: Row) -> None:
    earth, line, tap = Node("rig", "PE"), Node("rig", "L"), Node("SPD", "L")
    charge_v = row.circuit.charge_for_v(row.open_kv * 1000)
    network = SurgeNetwork(
        earth,
        (
            Generator("surge", line, earth, row.circuit, charge_v),
            Branch("lead", line, tap, 0.0, row.lead_uh * 1e-6),
            Varistor("SPD", tap, earth, row.curve),
        ),
    )

    solution = solve(network, 60e-6)

    # The reference allows 1 %; the printed digits hold.
    assert crest(solution.t_s, solution.current_a("SPD")) == pytest.approx(row.current_a, rel=3e-4)
    assert solution.peak_v(tap) == pytest.approx(row.varistor_v, rel=1e-4)
    assert solution.peak_v(line) == pytest.approx(row.node_v, rel=2e-4)
    assert solution.energy_j("SPD") == pytest.approx(row.energy_j, abs=0.06)
