"""k from first principles: IEC 60949:1988, lecture "Permissible short-circuit current".

K = √(Qc(β+20)/ρ20) is 225.669 for copper there; k = K √(ln((β+θf)/(β+θi))).
"""

from math import log, sqrt

import pytest

from boardwright.circuits.fault import adiabatic_mm2, longest_time_s
from tests.circuits.build import EDITION

BETA = 234.5


def _k(initial_c: float, final_c: float) -> float:
    material = sqrt(3.45e-3 * (BETA + 20) / 17.241e-6)
    assert material == pytest.approx(225.669, abs=0.0005)
    return material * sqrt(log((BETA + final_c) / (BETA + initial_c)))


@pytest.mark.parametrize(
    ("row", "column", "initial_c", "final_c", "exact"),
    [
        ("flat twin and earth", "protective", 70, 160, 114.84),
        ("separate 70", "protective", 30, 160, 142.69),
        ("swa 90", "protective", 90, 250, 142.87),
        ("separate 90", "protective", 30, 250, 175.57),
    ],
)
def test_k_of_the_tables_is_the_formulas(
    row: str, column: str, initial_c: float, final_c: float, exact: float
) -> None:
    """Tables 54.2 and 54.3 print 115, 143, 143, 176."""
    assert _k(initial_c, final_c) == pytest.approx(exact, abs=0.01)
    assert EDITION.table("k").rows[row][column] == round(exact)


def test_ninety_five_square_millimetres_for_a_second() -> None:
    """Same lecture: 95 mm², 90 to 250 °C, 1 s: 13.6 kA."""
    assert adiabatic_mm2(13_573, 1, _k(90, 250)) == pytest.approx(95, rel=1e-4)


def test_longest_time_of_one_square_millimetre() -> None:
    """434.5.2: 1.0 mm², 500 A, k 115: 0.0529 s."""
    assert longest_time_s(csa_mm2=1, current_a=500, k_factor=115) == pytest.approx(
        0.05290, abs=5e-6
    )


@pytest.mark.parametrize(
    ("csa_mm2", "energy_a2s"), [(1, 13225), (1.5, 29756), (2.5, 82656), (4, 211_600), (6, 476_100)]
)
def test_energy_a_cpc_bears(csa_mm2: float, energy_a2s: float) -> None:
    """k²S² with k 115."""
    assert longest_time_s(csa_mm2, 1, 115) == pytest.approx(energy_a2s, abs=0.5)
