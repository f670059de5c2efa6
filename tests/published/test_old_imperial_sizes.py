"""Old imperial sizes: a trade wiki's table of areas, and the resistance of IEC 60028 copper."""

import pytest

from boardwright.circuits.conductor import r20_ohm_per_m
from boardwright.circuits.imperial import strands_mm2
from tests.circuits.build import EDITION

OHM_MM2_PER_KM = 17.241


@pytest.mark.parametrize(
    ("written", "area_mm2", "ohm_per_km"),
    [
        ("1/.044", 0.981, 17.58),
        ("3/.029", 1.278, 13.49),
        ("7/.029", 2.983, 5.780),
        ("7/.044", 6.867, 2.511),
    ],
)
def test_copper_and_resistance(written: str, area_mm2: float, ohm_per_km: float) -> None:
    found_mm2 = strands_mm2(written) or 0

    assert found_mm2 == pytest.approx(area_mm2, abs=0.0005)
    assert OHM_MM2_PER_KM / found_mm2 == pytest.approx(ohm_per_km, rel=0.0005)


@pytest.mark.parametrize(("written", "ohm_per_km"), [("3/.029", 13.49), ("7/.044", 2.511)])
def test_the_metric_size_below_never_flatters(written: str, ohm_per_km: float) -> None:
    assert 1000 * r20_ohm_per_m(EDITION, strands_mm2(written) or 0) > ohm_per_km


@pytest.mark.parametrize("written", ["2.5", "7/29", "7/.", "a/.029", "7/.029 twin", ""])
def test_other_sizes_are_left_alone(written: str) -> None:
    assert strands_mm2(written) is None
