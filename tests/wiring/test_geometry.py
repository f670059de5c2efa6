"""Lengths measured by hand, and the frame's own rules."""

import math

import pytest

from boardwright.wiring.geometry import bands, corner_radii_mm, path_length_mm
from tests.wiring.boards import picture

Z = 30.0


def test_an_arch_measured_by_hand() -> None:
    """Legs of 18, a span of 17.8, bends of 5: straight parts 13, 7.8, 13 and half a circle."""
    path = ((88.1, 168.0, Z), (88.1, 186.0, Z), (105.9, 186.0, Z), (105.9, 168.0, Z))

    by_hand_mm = 13 + 7.8 + 13 + math.pi * 5

    assert path_length_mm(path, csa_mm2=6) == pytest.approx(by_hand_mm)


def test_a_short_step_shares_its_middle() -> None:
    """A step of 8 leaves no straight part between two bends of 4: a quarter each of two circles."""
    path = ((0.0, 0.0, Z), (0.0, 20.0, Z), (8.0, 20.0, Z), (8.0, 40.0, Z))

    assert corner_radii_mm(path, csa_mm2=16) == (4.0, 4.0)
    assert path_length_mm(path, csa_mm2=16) == pytest.approx(16 + 16 + math.pi * 4)


def test_a_slant_is_measured_along_its_arcs() -> None:
    """A turn of φ with radius r replaces 2 r tan(φ/2) by r φ: the geometry of a fillet."""
    path = ((0.0, 0.0, Z), (0.0, 30.0, Z), (30.0, 60.0, Z))
    turn = math.pi / 4

    by_hand_mm = 30 + 30 * math.sqrt(2) - 3 * (2 * math.tan(turn / 2) - turn)

    assert path_length_mm(path, csa_mm2=2.5) == pytest.approx(by_hand_mm)


def test_a_straight_path_is_its_own_length() -> None:
    assert path_length_mm(((0.0, 0.0, Z), (0.0, 50.0, Z)), csa_mm2=4) == 50


def test_the_strips_of_the_picture() -> None:
    """Below the neutral bar, up to the busbar, up to the earth bar, above it."""
    found = [(round(b.low_mm, 1), round(b.high_mm, 1)) for b in bands(picture())]

    assert found == [(0, 25), (34, 73), (168, 205), (214, 258)]
