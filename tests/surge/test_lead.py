"""Leads: the simple rule, and the inductance behind it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardwright.core.errors import FieldError
from boardwright.surge.lead import (
    effective_up_switching_v,
    effective_up_v,
    inductive_drop_v,
    mutual_h,
    pair_h_per_m,
    radius_m,
    steepest_8x20_a_per_s,
    straight_wire_h,
)


def test_a_makers_tip_page_1_5_kv_with_0_6_and_0_7_m_is_2_8_kv() -> None:
    """Found: a maker's low-voltage SPD tip page; fails 2.5 kV, passes 4.0 kV."""
    up_v = effective_up_v(1500, leads_m=0.6 + 0.7, drop_v_per_m=1000)

    assert up_v == pytest.approx(2800)
    assert 2500 < up_v < 4000
    assert effective_up_v(1500, leads_m=0.5, drop_v_per_m=1000) == pytest.approx(2000)


def test_a_gap_has_fired_before_its_leads_drop() -> None:
    """IEC 62305-4 (memory): the larger of the two for a switching device."""
    assert effective_up_switching_v(1500, leads_m=1.0, drop_v_per_m=1000) == 1500
    assert effective_up_switching_v(1500, leads_m=2.0, drop_v_per_m=1000) == 2000


@pytest.mark.parametrize(
    ("length_m", "csa_mm2", "henry"),
    [(0.25, 6, 0.2446e-6), (0.5, 6, 0.5584e-6), (1.0, 6, 1.2555e-6), (0.5, 16, 0.5094e-6)],
)
def test_straight_wire(length_m: float, csa_mm2: float, henry: float) -> None:
    """Bulletin of the Bureau of Standards, vol. 4 (1908), eq. 11; figures derived."""
    assert straight_wire_h(length_m, csa_mm2) == pytest.approx(henry, abs=1e-10)


@pytest.mark.parametrize(
    ("csa_mm2", "spacing_m", "henry_per_m"),
    [(6, 0.02, 1.067e-6), (6, 0.1, 1.713e-6), (6, 0.3, 2.152e-6), (2.5, 0.005, 0.6761e-6)],
)
def test_pair_of_wires(csa_mm2: float, spacing_m: float, henry_per_m: float) -> None:
    """Textbook two-wire line, µ0/π·acosh(D/2r); figures derived."""
    assert pair_h_per_m(csa_mm2, spacing_m) == pytest.approx(henry_per_m, rel=5e-4)


def test_the_short_pair_formula_is_2_percent_high_for_cable_cores() -> None:
    """Derived: 0.6895 against 0.6761 µH/m for 2.5 mm² cores 5 mm apart."""
    short = 0.4e-6 * np.log(0.005 / radius_m(2.5))

    assert short == pytest.approx(0.6895e-6, rel=5e-4)
    assert short / pair_h_per_m(2.5, 0.005) == pytest.approx(1.02, abs=0.002)


def test_own_less_mutual_is_half_the_loop_of_a_long_pair() -> None:
    """Limit case: for l over D the two straight-wire formulas make the pair's."""
    length_m, spacing_m = 200.0, 0.1
    loop = 2 * (straight_wire_h(length_m, 6) - mutual_h(length_m, spacing_m)) / length_m

    assert loop == pytest.approx(pair_h_per_m(6, spacing_m), rel=2e-3)


def test_mutual_inductance_by_neumanns_double_integral() -> None:
    """Outside check: Neumann's integral by SciPy."""
    from scipy.integrate import dblquad

    length_m, spacing_m = 0.4, 0.05
    integral, _ = dblquad(
        lambda x, y: 1 / np.hypot(x - y, spacing_m), 0, length_m, 0, length_m, epsabs=1e-9
    )

    assert mutual_h(length_m, spacing_m) == pytest.approx(1e-7 * integral, rel=1e-6)


def test_one_metre_at_10_ka_drops_1_5_kv_at_its_steepest() -> None:
    """Derived: 1 µH/m and 1.491 kA/µs; the rule of 1 kV/m is no upper bound."""
    drop_v = inductive_drop_v(1e-6, steepest_8x20_a_per_s(10e3))

    assert drop_v == pytest.approx(1491, rel=1e-3)


def test_a_wire_shorter_than_it_is_thick_is_refused() -> None:
    with pytest.raises(FieldError, match=r"length_m: found 0.005, expected more than"):
        straight_wire_h(0.005, 6)
    with pytest.raises(FieldError, match="spacing_m"):
        pair_h_per_m(16, 0.004)


@given(
    length_m=st.floats(0.05, 3), more_m=st.floats(0.01, 3), csa_mm2=st.sampled_from([4, 6, 10, 16])
)
def test_inductance_grows_faster_than_length(
    length_m: float, more_m: float, csa_mm2: float
) -> None:
    short = straight_wire_h(length_m, csa_mm2) / length_m
    long = straight_wire_h(length_m + more_m, csa_mm2) / (length_m + more_m)

    assert long > short
