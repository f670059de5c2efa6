"""Lightning on supply lines: rates and sizes of IEC 62305-1 and -2, and of IEEE 1243.

The country house of IEC 62305-2:2010 and the tables are from memory; the protection levels' chances
were found in a published lesson, the constants of the waves are worked out from the waves.
"""

import numpy as np
import pytest

from boardwright.spd.strikes import (
    Exposure,
    chance_above,
    direct_per_year,
    near_per_year,
    strike_law,
)
from boardwright.spd.withstand import Wave, joule_integral_a2s, shape_s
from boardwright.standards.load import load_edition
from boardwright.surge.measure import charge_as
from boardwright.surge.measure import joule_integral_a2s as integral_a2s
from boardwright.surge.waveforms import DampedSine8x20, Impulse8x20, first_stroke_10x350

EDITION = load_edition("bs7671_2018_a4")
LAW = strike_law(EDITION)
SHORT_S = np.arange(0.0, 400e-6, 5e-9)
LONG_S = np.arange(0.0, 8e-3, 20e-9)


def test_the_country_house_of_the_standard() -> None:
    """Ng 4, one buried kilometre, CI 0.5: NL 0.080 a year, NI 8.0 a year."""
    house = Exposure(ng_per_km2_year=4, line_m=0.5 * 1000, strokes_factor=1, size_factor=1)
    direct = direct_per_year(0, house, LAW)

    assert direct == pytest.approx(0.080)
    assert direct + near_per_year(0, house, LAW) == pytest.approx(8.0, rel=1e-4)


@pytest.mark.parametrize(
    ("current_ka", "chance"),
    [
        (5, 0.9914),
        (10, 0.9499),
        (20, 0.7576),
        (31, 0.5),
        (50, 0.2239),
        (100, 0.0454),
        (200, 0.0078),
    ],
)
def test_the_chance_of_a_larger_stroke(current_ka: float, chance: float) -> None:
    """IEEE: 1 / (1 + (I / 31 kA)^2.6)."""
    assert chance_above(current_ka * 1000, LAW) == pytest.approx(chance, abs=1e-4)


@pytest.mark.parametrize(("current_ka", "above"), [(3, 0.99), (5, 0.97), (10, 0.91), (16, 0.84)])
def test_the_least_currents_of_the_protection_levels_agree(current_ka: int, above: float) -> None:
    """IEC 62305-1: chance above the least current; another distribution, so within 0.05."""
    assert chance_above(current_ka * 1000, LAW) == pytest.approx(above, abs=0.05)


def test_three_sources_disagree_on_the_chance_of_100_ka() -> None:
    """IEC 62305-1: 5 % above 100 kA; CIGRE, two slopes: 3.46 %; IEEE, 4.54 %, between them."""
    assert 0.0346 < chance_above(100_000, LAW) < 0.05


@pytest.mark.parametrize(("strike_ka", "direct_ka", "near_ka"), [(100, 5, 2.5), (200, 10, 5)])
def test_the_expected_surges_are_one_share_of_the_strike(
    strike_ka: float, direct_ka: float, near_ka: float
) -> None:
    """IEC 62305-1 Table E.2, levels III-IV and I-II: the same share at 100 and at 200 kA."""
    assert LAW.share_direct_ratio * strike_ka == direct_ka
    assert LAW.share_near_ratio * strike_ka == near_ka


def test_nineteen_of_twenty_surges_are_below_10_ka() -> None:
    """An installation guide: 95 % of current surges stay below 10 kA."""
    here = Exposure(ng_per_km2_year=1, line_m=1000, strokes_factor=1, size_factor=1)
    counted = [
        direct_per_year(a, here, LAW) + near_per_year(a, here, LAW) for a in (100.0, 10_000.0)
    ]

    assert counted[1] / counted[0] < 0.05


def test_the_charges_are_those_of_the_waves() -> None:
    """Integral of the current: 17.46 µs of 8/20 (IEEE C62.45), 500.5 µs of 10/350 (62305-1)."""
    short, long = Impulse8x20(1.0).current_a(SHORT_S), first_stroke_10x350(1.0).current_a(LONG_S)

    assert EDITION.number("surge.charge_8x20_us") == pytest.approx(
        charge_as(SHORT_S, short) * 1e6, rel=1e-3
    )
    assert EDITION.number("surge.charge_10x350_us") == pytest.approx(
        charge_as(LONG_S, long / long.max()) * 1e6, rel=1e-3
    )


def test_the_constant_of_10x350_is_that_of_the_wave() -> None:
    """IEC 61643-12: 256.3 (memory); the power form of IEC 62305-1 gives 256.23."""
    current = first_stroke_10x350(1.0).current_a(LONG_S)
    whole = integral_a2s(LONG_S, current / current.max())

    assert shape_s(Wave.LONG, EDITION) == pytest.approx(whole, rel=5e-4)


def test_the_constant_of_8x20_is_of_no_wave_that_is_published() -> None:
    """14.01 (IEC 61643-12): t³ form 12.17, damped sine 14.16, its first half-wave 12.56."""
    sine = DampedSine8x20(1.0).current_a(SHORT_S)
    forward = np.where(np.arange(len(sine)) < np.argmax(sine < -1e-12), sine, 0.0)
    found = [
        integral_a2s(SHORT_S, wave) * 1e6
        for wave in (Impulse8x20(1.0).current_a(SHORT_S), sine, forward)
    ]

    assert found == pytest.approx([12.18, 14.164, 12.562], abs=0.01)
    assert min(abs(k - EDITION.number("fuse.k_8x20_us")) for k in found) > 0.1


def test_the_energy_of_iimp_is_printed_lower_than_the_wave_gives() -> None:
    """IEC 61643-11 Table 3 (memory): W/R = 0.25 Iimp², so 156 kJ/ohm at 25 kA; the wave: 160."""
    assert joule_integral_a2s(25_000, shape_s(Wave.LONG, EDITION)) == pytest.approx(
        1.025 * 0.25 * 25_000**2 * 1e-3, rel=1e-3
    )
