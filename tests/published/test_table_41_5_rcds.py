"""RCDs and electrodes: Table 41.5 as quoted in two trade sources, and worked cases.

Forum thread 52683 p. 2 and a trade body's answer "TT … 8.7 ohms" (300 mA gives 167 Ω);
forum thread 108875 quoting the On-Site Guide p. 78; a loop tester's manual p. 17.
"""

import pytest

from boardwright.circuits.fault import rcd_zs_max_ohm
from tests.circuits.build import EDITION

TOUCH_V = EDITION.number("touch_voltage_v")


@pytest.mark.parametrize(
    ("idn_a", "printed"), [(0.01, 5000), (0.03, 1667), (0.1, 500), (0.3, 167), (0.5, 100)]
)
def test_largest_electrode_for_an_rcd(idn_a: float, printed: int) -> None:
    assert round(rcd_zs_max_ohm(TOUCH_V, idn_a)) == printed


def test_two_hundred_ohms_take_an_rcd_of_250_milliamperes() -> None:
    """On-Site Guide p. 78, quoted in forum thread 108875."""
    assert rcd_zs_max_ohm(TOUCH_V, 0.250) == 200


def test_a_tested_electrode_passes_by_far() -> None:
    """Loop tester's manual p. 17: 12.74 Ω, 30 mA, limit 1667 Ω; RA·IdN is 0.382 V."""
    electrode_ohm = 12.74

    assert rcd_zs_max_ohm(TOUCH_V, 0.03) > electrode_ohm
    assert electrode_ohm * 0.03 == pytest.approx(0.382, abs=0.0005)


def test_an_electrode_of_twenty_ohms() -> None:
    """Electrical Installation Guide, chapter F, from memory: 50/20 = 2.5 A."""
    assert TOUCH_V / 20 == 2.5


def test_ten_rcbos_may_let_300_milliamperes_flow() -> None:
    """IET forum thread 24992: 10 x 30 mA, so RA at most 167 Ω."""
    assert round(rcd_zs_max_ohm(TOUCH_V, 10 * 0.03)) == 167
