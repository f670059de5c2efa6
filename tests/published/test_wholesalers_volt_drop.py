"""Volt drop of singles, mV/A/m: an electrical wholesaler's catalogue 2025/26, p. 489.

Single-phase from 25 mm² on: z, clipped and touching.
"""

import pytest

from boardwright.circuits.volt_drop import drop_per_a_m, volt_drop_v
from tests.circuits.build import EDITION, only, raw_circuit

SIZES = (1, 1.5, 2.5, 4, 6, 10, 16)


@pytest.mark.parametrize(
    ("csa_mm2", "printed_mv"), tuple(zip(SIZES, (44, 29, 18, 11, 7.3, 4.4, 2.8), strict=True))
)
def test_one_phase(csa_mm2: float, printed_mv: float) -> None:
    assert drop_per_a_m(EDITION, csa_mm2, 1) * 1000 == pytest.approx(printed_mv)


@pytest.mark.parametrize(
    ("csa_mm2", "printed_mv"), tuple(zip(SIZES, (38, 25, 15, 9.5, 6.4, 3.8, 2.4), strict=True))
)
def test_three_phases(csa_mm2: float, printed_mv: float) -> None:
    assert drop_per_a_m(EDITION, csa_mm2, 3) * 1000 == pytest.approx(printed_mv)


@pytest.mark.parametrize(
    ("csa_mm2", "phases", "printed_mv"), [(25, 1, 1.8), (35, 1, 1.3), (25, 3, 1.55), (35, 3, 1.1)]
)
def test_large_conductors(csa_mm2: float, phases: int, printed_mv: float) -> None:
    """Printed for touching cables 1.75 and 1.25 as well; the larger of two is kept."""
    assert drop_per_a_m(EDITION, csa_mm2, phases) * 1000 == pytest.approx(printed_mv)


def test_a_three_phase_radial() -> None:
    """11 kW, 4 mm², 20 m: 9.5 x 15.94 x 20/1000 = 3.03 V line to line, of 20 V."""
    circuit = raw_circuit(
        "fixed appliance",
        phases=3,
        load={"power_w": 11_000},
        cable={"line_mm2": 4, "cpc_mm2": 4, "length_m": 20, "method": "C"},
    )
    result = only(circuit, supply={"phases": 3})

    assert result.ib_a == pytest.approx(15.94, abs=0.005)
    assert result.volt_drop_v == pytest.approx(volt_drop_v(9.5e-3, 15.942, 20), abs=0.001)
    assert result.volt_drop_limit_v == pytest.approx(20)
