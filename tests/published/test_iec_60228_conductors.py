"""Conductors: IEC 60228, as printed in the Guide to the Wiring Regulations, 17th ed., App. 4.

Tables 4.1 (resistance at 20 °C) and 4.3 (R1+R2 of flat twin and earth); and a cable maker's
table of the factors that bring a reading to 20 °C, from IEC 60228.
"""

import pytest

from boardwright.circuits.conductor import (
    hot_factor,
    hot_ohm,
    loop_20c_ohm,
    r20_ohm,
    temperature_factor,
)
from tests.circuits.build import EDITION


@pytest.mark.parametrize(
    ("csa_mm2", "ohm_per_km"),
    [
        (1.0, 18.1),
        (1.5, 12.1),
        (2.5, 7.41),
        (4, 4.61),
        (6, 3.08),
        (10, 1.83),
        (16, 1.15),
        (25, 0.727),
        (35, 0.524),
        (50, 0.387),
    ],
)
def test_resistance_of_a_kilometre(csa_mm2: float, ohm_per_km: float) -> None:
    """Table 4.1."""
    assert r20_ohm(EDITION, csa_mm2, 1000) == ohm_per_km


@pytest.mark.parametrize(("csa_mm2", "ohm_per_km"), [(50, 0.387), (70, 0.268), (95, 0.193)])
def test_resistance_of_class_2(csa_mm2: float, ohm_per_km: float) -> None:
    """A cable maker's conductor specification, IEC 60228 class 2, plain."""
    assert r20_ohm(EDITION, csa_mm2, 1000) == ohm_per_km


@pytest.mark.parametrize(
    ("line_mm2", "cpc_mm2", "printed", "digits"),
    [
        (1.5, 1.0, 1.51, 2),
        (2.5, 1.5, 0.98, 2),
        (4, 1.5, 0.84, 2),
        (6, 2.5, 0.52, 2),
        (10, 4, 0.32, 2),
        (16, 6, 0.211, 3),
    ],
)
def test_r1_plus_r2_of_fifty_metres(
    line_mm2: float, cpc_mm2: float, printed: float, digits: int
) -> None:
    """Table 4.3, the column of 50 m."""
    r1r2_ohm = loop_20c_ohm(EDITION, line_mm2, cpc_mm2, 50)

    # 16/6 mm2 gives 0.2115: the print is half a digit down.
    assert r1r2_ohm == pytest.approx(printed, abs=0.51 * 10**-digits)


@pytest.mark.parametrize(
    ("at_c", "printed"),
    [(5, 1.064), (10, 1.042), (30, 0.962), (40, 0.926), (60, 0.862), (70, 0.833), (90, 0.781)],
)
def test_factor_that_brings_a_reading_to_20_degrees(at_c: float, printed: float) -> None:
    """Cable maker's correction table of IEC 60228."""
    assert round(1 / temperature_factor(at_c), 3) == printed


@pytest.mark.parametrize(
    ("at_c", "printed"), [(5, 1.06), (10, 1.04), (15, 1.02), (20, 1.00), (25, 0.98)]
)
def test_factor_of_the_electricians_guide(at_c: float, printed: float) -> None:
    """The Electrician's Guide, Table 8.6."""
    assert round(1 / temperature_factor(at_c), 2) == printed


@pytest.mark.parametrize(
    ("line_mm2", "cpc_mm2", "hot_mohm"),
    [
        (1.0, 1.0, 43.44),
        (1.5, 1.0, 36.24),
        (2.5, 1.5, 23.412),
        (4, 1.5, 20.052),
        (6, 2.5, 12.588),
        (10, 4, 7.728),
        (16, 6, 5.076),
    ],
)
def test_r1_plus_r2_of_a_metre_hot(line_mm2: float, cpc_mm2: float, hot_mohm: float) -> None:
    """Same book, Table 4.3, times 1.20 for 70 °C (On-Site Guide, Table I3, from memory)."""
    cold_ohm = loop_20c_ohm(EDITION, line_mm2, cpc_mm2, 1)

    assert 1000 * hot_ohm(cold_ohm, hot_factor(EDITION)) == pytest.approx(hot_mohm, abs=0.0005)


@pytest.mark.parametrize(
    ("at_c", "constant_form", "round_form"),
    [(5, 1.0626, 1.0638), (30, 0.9622, 0.9615), (70, 0.8358, 0.8333)],
)
def test_two_lawful_forms_of_the_temperature_differ(
    at_c: float, constant_form: float, round_form: float
) -> None:
    """IEC 60228: 254.5/(234.5 + T), or its table's 250/(230 + T). Ours is the latter's."""
    assert 254.5 / (234.5 + at_c) == pytest.approx(constant_form, abs=0.00005)
    assert 1 / temperature_factor(at_c) == pytest.approx(round_form, abs=0.00005)


def test_tabulated_volt_drop_agrees_with_resistance() -> None:
    """Table 4D5's mV/A/m against twice the hot resistance: within 1.5 % at every size."""
    drops = EDITION.table("volt_drop_mv_per_a_m.1").rows
    for row in ("1", "1.5", "2.5", "4", "6", "10", "16"):
        hot = 2 * r20_ohm(EDITION, float(row), 1000) * hot_factor(EDITION)
        assert drops[row]["mv"] == pytest.approx(hot, rel=0.015)


def test_twenty_two_metres_of_ring_cable() -> None:
    """Forum thread 62865 on R1+R2: 22 m of 2.5/1.5, line 0.163, cpc 0.266, together 0.429 Ω."""
    assert round(r20_ohm(EDITION, 2.5, 22), 3) == 0.163
    assert round(r20_ohm(EDITION, 1.5, 22), 3) == 0.266
    assert round(loop_20c_ohm(EDITION, 2.5, 1.5, 22), 3) == 0.429
