"""Basic Electrical Installation Work: pp. 250-251 (adiabatic), 298-302 (cable size, volt drop)."""

import pytest

from boardwright.circuits.capacity import ca_factor, required_it_a
from boardwright.circuits.fault import adiabatic_mm2
from boardwright.circuits.volt_drop import drop_per_a_m, volt_drop_limit_v
from tests.circuits.build import EDITION, only, raw_circuit


def test_first_adiabatic_example() -> None:
    """230 V over 1.15 Ω is 200 A; 0.4 s; k 115: 1.10 mm², 1.5 accepted."""
    least_mm2 = adiabatic_mm2(current_a=230 / 1.15, time_s=0.4, k_factor=115)

    assert round(least_mm2, 2) == 1.10
    assert least_mm2 <= 1.5


def test_second_adiabatic_example() -> None:
    """90 A; 0.4 s; k 115: 0.49 mm²."""
    assert round(adiabatic_mm2(current_a=90, time_s=0.4, k_factor=115), 2) == 0.49


def test_cable_for_a_six_kilowatt_load() -> None:
    """26.09 A, device of 32 A, 35 °C: It at least 34.04 A, so 10 mm² by method A, not 6 mm²."""
    needed_a = required_it_a(in_a=32, factor=ca_factor(EDITION, 35))
    load = {"power_w": 6000}
    six, ten = (
        only(
            raw_circuit(
                "fixed appliance",
                load=load,
                wanted={"in_a": 32},
                cable={
                    "type": "singles",
                    "line_mm2": csa_mm2,
                    "cpc_mm2": 2.5,
                    "length_m": 10,
                    "method": "A",
                    "ambient_c": 35,
                },
            )
        )
        for csa_mm2 in (6, 10)
    )

    assert round(needed_a, 2) == 34.04
    assert round(six.ib_a, 2) == 26.09
    assert (six.it_a, ten.it_a) == (34, 46)
    assert six.it_a < needed_a <= ten.it_a
    assert six.iz_a < six.in_a <= ten.iz_a
    assert drop_per_a_m(EDITION, 10, 1) == 4.4e-3


@pytest.mark.parametrize(
    ("phases", "lighting", "printed"),
    [(1, True, 6.9), (1, False, 11.5), (3, True, 12), (3, False, 20)],
)
def test_limits_of_volt_drop(phases: int, lighting: bool, printed: float) -> None:  # noqa: FBT001 - a column
    """3 % and 5 %; a list of limits prints 6.9, 11.5 and 20 V."""
    limit_v = volt_drop_limit_v(EDITION, u0_v=230, phases=phases, lighting=lighting)

    assert limit_v == pytest.approx(printed)
