"""Earth electrodes by BS 7430: an earthing report that quotes it, and its table of rods in line."""

from math import log, pi

import numpy as np
import pytest

from boardwright.circuits.electrode import (
    Rods,
    crowding_factor,
    dry_ohm,
    largest_idn_a,
    most_ohm,
    plate_ohm,
    rod_ohm,
    rods_needed,
    rods_ohm,
    soil_of_ohm_m,
    strip_ohm,
)
from tests.circuits.build import EDITION


def test_a_rod_of_three_metres() -> None:
    """Earthing report to BS 7430: 55 Ω·m, 3 m, 25 mm: printed 17.12 Ω."""
    assert rod_ohm(55, 3, 0.025) == pytest.approx(17.12, abs=0.005)


def test_nine_rods_and_a_published_slip() -> None:
    """The same report prints 1.99 Ω for nine rods: it takes λ as 1, which is that of two rods.

    For nine in line λ is 3.66 by its sum, about 3.61 in the table: 2.26 and 2.25 Ω; without any
    interaction it would be 1.90.
    """
    one_ohm = rod_ohm(55, 3, 0.025)
    share = 55 / (2 * pi * one_ohm * 10)

    assert share == pytest.approx(0.0511, abs=0.00005)
    assert one_ohm * (1 + crowding_factor(2) * share) / 9 == pytest.approx(1.99, abs=0.0095)
    assert rods_ohm(55, Rods(3, 0.025, 9, 10)) == pytest.approx(2.25, abs=0.01)
    assert one_ohm / 9 == pytest.approx(1.902, abs=0.0005)


@pytest.mark.parametrize(("count", "printed"), [(2, 1.0), (3, 1.66), (4, 2.15), (5, 2.54)])
def test_crowding_of_rods_in_line(count: int, printed: float) -> None:
    """BS 7430, table of λ, from memory: printed within 1 % of (1/n)·Σ 1/|i − j|."""
    assert crowding_factor(count) == pytest.approx(printed, rel=0.012)


@pytest.mark.parametrize(("length_m", "reads_ohm"), [(1.2, 71.58), (2.4, 40.39)])
def test_the_trades_rods_in_garden_soil(length_m: float, reads_ohm: float) -> None:
    """100 Ω·m, 16 mm: worked from the formula of BS 7430."""
    assert rod_ohm(100, length_m, 0.016) == pytest.approx(reads_ohm, abs=0.005)


def test_a_second_rod_does_not_halve_the_reading() -> None:
    """Two of 2.4 m at 4.8 m: 21.85 Ω and not 20.19, worked from BS 7430."""
    assert rods_ohm(100, Rods(2.4, 0.016, 2, 4.8)) == pytest.approx(21.85, abs=0.005)


def test_a_plate_of_a_square_metre() -> None:
    """ρ/4·√(π/A), BS 7430 from memory: 100 Ω·m give 44.31 Ω."""
    assert plate_ohm(100, 1) == pytest.approx(44.31, abs=0.005)


def test_a_strip_is_its_mean_potential_and_that_of_its_mirror() -> None:
    """Mathematics: a line source in even soil, its image above the ground, averaged on its length.

    The closed form drops terms of depth over length; over 20 m they are under 3 %.
    """
    length_m, width_m, depth_m = 20.0, 0.025, 0.6
    at = (np.arange(4000) + 0.5) * length_m / 4000

    def mean_per_m(apart_m: float) -> float:
        """Mean of ∫ dx'/√((x − x')² + d²) along the line, divided by its length."""
        along = np.arcsinh(at / apart_m) + np.arcsinh((length_m - at) / apart_m)
        return float(along.mean())

    numeric_ohm = 100 / (4 * pi * length_m) * (mean_per_m(width_m / 4) + mean_per_m(2 * depth_m))

    assert strip_ohm(100, length_m, width_m, depth_m) == pytest.approx(numeric_ohm, rel=0.03)


def test_a_rod_is_its_mean_potential_with_its_mirror() -> None:
    """Mathematics again: mirrored in the ground's surface, a rod is one of twice its length."""
    length_m, radius_m = 2.4, 0.008
    at = (np.arange(4000) + 0.5) * length_m / 4000
    along = np.arcsinh((length_m + at) / radius_m) + np.arcsinh((length_m - at) / radius_m)
    numeric_ohm = 100 / (4 * pi * length_m) * float(along.mean())

    assert rod_ohm(100, length_m, 2 * radius_m) == pytest.approx(numeric_ohm, rel=0.005)
    assert log(8 * length_m / (2 * radius_m)) > 1


def test_a_reading_speaks_of_its_soil() -> None:
    assert soil_of_ohm_m(rod_ohm(137, 1.5, 0.016), 1.5, 0.016) == pytest.approx(137)


def test_the_seasonal_margin_decides_how_many_rods() -> None:
    """RA·IΔn ≤ 50 V (411.5.3) and 200 Ω as stable (Table 41.5 note 2), a dry season's factor 2."""
    rod = Rods(1.2, 0.016, 1, 2.4)
    needed = rods_needed(300, rod, most_ohm(0.03, EDITION) / 2)

    assert most_ohm(0.03, EDITION) == 200
    assert most_ohm(0.5, EDITION) == 100
    assert needed == 3
    assert dry_ohm(rods_ohm(300, Rods(1.2, 0.016, needed, 2.4)), EDITION) <= 200
    assert dry_ohm(rods_ohm(300, Rods(1.2, 0.016, needed - 1, 2.4)), EDITION) > 200
    assert largest_idn_a(200, EDITION) == pytest.approx(0.25)
    assert rods_needed(100_000, rod, 100) is None
