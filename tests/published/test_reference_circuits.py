"""Four complete circuits worked by hand from the published tables, Ze 0.35 Ω.

Resistances: IEC 60228; mV/A/m and capacities: Table 4D5; limits: Table 41.3; hot = 1.20 times;
fault at 230 V, 0.1 s, k 115. And a power-flow library's answers for the same loops.
"""

import pytest

from boardwright.circuits.results import CircuitResult
from tests.circuits.build import Raw, only, raw_circuit

SHOWER = raw_circuit(
    "shower",
    load={"power_w": 9500},
    wanted={"in_a": 45},
    cable={"line_mm2": 10, "cpc_mm2": 4, "length_m": 15, "method": "C"},
)
COOKER = raw_circuit(
    "cooker",
    load={"ib_a": 32},
    wanted={"in_a": 32},
    cable={"line_mm2": 6, "cpc_mm2": 2.5, "length_m": 12, "method": "C"},
)
IMMERSION = raw_circuit(
    "immersion heater",
    load={"power_w": 3000},
    wanted={"in_a": 16},
    cable={"line_mm2": 2.5, "cpc_mm2": 1.5, "length_m": 14, "method": "101"},
)
RADIAL = raw_circuit(
    load={"ib_a": 20},
    wanted={"in_a": 20},
    cable={"line_mm2": 2.5, "cpc_mm2": 1.5, "length_m": 25, "method": "C"},
)

#       Ib      Iz  Vd     R1+R2   Zs cold Zs hot  limit I fault S
ROWS = (
    (SHOWER, (41.304, 64, 2.726, 0.0966, 0.4466, 0.4659, 0.97, 493.6, 1.357)),
    (COOKER, (32.0, 47, 2.803, 0.1259, 0.4759, 0.5011, 1.37, 459.0, 1.262)),
    (IMMERSION, (13.043, 17, 3.287, 0.2731, 0.6231, 0.6778, 2.73, 339.3, 0.933)),
    (RADIAL, (20.0, 27, 9.000, 0.4877, 0.8377, 0.9353, 2.19, 245.9, 0.676)),
)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: str(row[0]["serves"]))
def test_a_complete_circuit(row: tuple[Raw, tuple[float, ...]]) -> None:
    circuit, printed = row
    ib_a, iz_a, drop_v, r1r2_ohm, cold_ohm, hot_ohm, limit_ohm, fault_a, least_mm2 = printed
    result = only(circuit)
    zs_ohm = result.zs_ohm or 0

    assert result.ib_a == pytest.approx(ib_a, abs=0.0005)
    assert result.iz_a == iz_a
    assert result.volt_drop_v == pytest.approx(drop_v, abs=0.0006)
    assert result.r1r2_20c_ohm == pytest.approx(r1r2_ohm, abs=0.00005)
    assert 0.35 + (result.r1r2_20c_ohm or 0) == pytest.approx(cold_ohm, abs=0.00006)
    assert zs_ohm == pytest.approx(hot_ohm, abs=0.00006)
    assert result.zs_max_ohm == pytest.approx(limit_ohm, abs=0.005)
    assert 230 / zs_ohm == pytest.approx(fault_a, abs=0.06)
    assert result.adiabatic_mm2 == pytest.approx(least_mm2, abs=0.0006)


@pytest.mark.parametrize(
    ("ze_ohm", "line_mm2", "cpc_mm2", "length_m", "ik1_a"),
    [
        (0.35, 10, 4, 15, 468.96),
        (0.35, 2.5, 1.5, 20, 267.04),
        (0.80, 1.5, 1.0, 40, 97.13),
        (0.35, 6, 2.5, 12, 436.08),
    ],
)
def test_least_fault_current_against_a_power_flow_library(
    ze_ohm: float, line_mm2: float, cpc_mm2: float, length_m: float, ik1_a: float
) -> None:
    """A power-flow library's one-phase fault, least case, cmin 0.95, conductors at 70 °C."""
    assert _fault(ze_ohm, line_mm2, cpc_mm2, length_m).ipf_min_a == pytest.approx(ik1_a, abs=0.006)


def _fault(ze_ohm: float, line_mm2: float, cpc_mm2: float, length_m: float) -> CircuitResult:
    cable = {"line_mm2": line_mm2, "cpc_mm2": cpc_mm2, "length_m": length_m, "method": "C"}
    return only(raw_circuit("cooker", cable=cable), supply={"ze_ohm": ze_ohm})


@pytest.mark.parametrize(
    ("ib_a", "csa_mm2", "length_m", "library_v"),
    [
        (9500 / 230, 10, 15, 2.721),
        (10000 / 230, 10, 20, 3.819),
        (7200 / 230, 6, 12, 2.777),
        (460 / 230, 1.5, 30, 1.742),
        (32, 6, 25, 5.914),
        # Its three-phase load flow, 9.2 kW on one line of three and the neutral.
        (40, 10, 20, 3.569),
    ],
)
def test_volt_drop_against_a_power_flow_library(
    ib_a: float, csa_mm2: float, length_m: float, library_v: float
) -> None:
    """Same library, load flow; within 1.5 %, the rounding of the tabulated mV/A/m."""
    cable = {"line_mm2": csa_mm2, "cpc_mm2": 1.5, "length_m": length_m, "method": "C"}
    result = only(raw_circuit("fixed appliance", load={"ib_a": ib_a}, cable=cable))

    assert result.volt_drop_v == pytest.approx(library_v, rel=0.015)
