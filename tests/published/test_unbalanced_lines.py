"""Three unlike lines and their neutral: the formula of A722.1, from a trade forum thread."""

import cmath
from math import pi

import pytest

from boardwright.circuits.phases import unbalance_a


@pytest.mark.parametrize(
    ("lines_a", "neutral_a"),
    [((32, 10, 6), 24.25), ((20, 20, 20), 0), ((32, 0, 0), 32), ((0, 15, 15), 15)],
)
def test_what_is_left_for_the_neutral(lines_a: tuple[float, ...], neutral_a: float) -> None:
    phasors = (amps * cmath.exp(-2j * pi * k / 3) for k, amps in enumerate(lines_a))

    assert unbalance_a(*lines_a) == pytest.approx(neutral_a, abs=0.005)
    assert unbalance_a(*lines_a) == pytest.approx(abs(sum(phasors)), abs=1e-9)
