"""Conductor temperature and the factors that follow from it.

BS 7671 Appendix 4, section 6 (formula from memory); IEC 60364-5-52 Table B.52.14; and a cable
maker's technical page of correction factors on a base of 45 °C.
"""

from math import sqrt

import pytest

from boardwright.circuits.capacity import ca_factor
from boardwright.circuits.volt_drop import conductor_c, ct_factor
from tests.circuits.build import EDITION


def test_a_cooker_cable_half_loaded() -> None:
    """32 A on 47 A, 30 °C around it: 48.54 °C."""
    assert conductor_c(ib_a=32, it_a=47) == pytest.approx(48.54, abs=0.005)


@pytest.mark.parametrize(("share", "at_c"), [(0, 30), (0.5, 40), (1, 70)])
def test_limit_cases_of_the_temperature(share: float, at_c: float) -> None:
    assert conductor_c(ib_a=share * 20, it_a=20) == pytest.approx(at_c)


@pytest.mark.parametrize(("ib_a", "it_a"), [(13, 20), (20, 27), (32, 47), (41.3, 64)])
def test_ct_is_the_resistance_at_that_temperature(ib_a: float, it_a: float) -> None:
    """Ct of section 6.1 is (230 + t)/(230 + 70): the same formula, written otherwise."""
    warm_c = conductor_c(ib_a, it_a)

    assert ct_factor(ib_a, it_a, ca_factor=1, cg_factor=1) == pytest.approx((230 + warm_c) / 300)


@pytest.mark.parametrize(
    ("ambient_c", "printed"),
    [(25, 1.04), (35, 0.96), (40, 0.91), (45, 0.87), (50, 0.82), (55, 0.76), (60, 0.71)],
)
def test_factors_for_90_degree_insulation(ambient_c: float, printed: float) -> None:
    """IEC 60364-5-52 Table B.52.14, from memory; formula √((90 - a)/60)."""
    assert EDITION.table("ca_90").cell(f"{ambient_c:g}", "factor") == printed
    assert sqrt((90 - ambient_c) / 60) == pytest.approx(printed, abs=0.005)


@pytest.mark.parametrize(
    ("ambient_c", "printed"), [(35, 1.18), (40, 1.10), (50, 0.89), (55, 0.77), (60, 0.63)]
)
def test_the_formula_on_another_base(ambient_c: float, printed: float) -> None:
    """A cable maker's page, base 45 °C, limit 70 °C: the formula behind every such table."""
    assert round(sqrt((70 - ambient_c) / (70 - 45)), 2) == printed


@pytest.mark.parametrize("ambient_c", [35, 40, 45, 50, 55])
def test_the_tables_factor_is_the_formulas(ambient_c: float) -> None:
    """Table 4B1 for 70 °C, √((70 - a)/40); at 25 °C the table's 1.03 is lower on purpose."""
    assert ca_factor(EDITION, ambient_c) == pytest.approx(sqrt((70 - ambient_c) / 40), abs=0.006)
    assert ca_factor(EDITION, 25) < sqrt(45 / 40)
