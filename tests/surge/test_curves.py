"""Varistor curves as data, and where they meet a network."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from boardwright.core.errors import FieldError
from boardwright.surge.curves import LogPoints, LogPolynomial, scaled_to_rating, voltage_v
from boardwright.surge.operating_point import arc_current_a, varistor_current_a

BLOCK_40 = LogPolynomial(2.7103342, 0.0229461, -0.0004008, 0.0036353)
POINTS = LogPoints(((1e-3, 430.0), (1e3, 720.0), (10e3, 1000.0), (20e3, 1200.0)))


@pytest.mark.parametrize("curve", [BLOCK_40, POINTS], ids=["polynomial", "points"])
@given(
    ln_current=st.floats(math.log(1e-12), math.log(1e5)),
    ohm=st.floats(1e-3, 1e6),
    guess=st.floats(-1e5, 1e5),
)
def test_every_operating_point_is_found(
    curve: LogPolynomial | LogPoints, ln_current: float, ohm: float, guess: float
) -> None:
    """The point is made from a known current, so the answer is exact."""
    current_a = math.exp(ln_current)
    open_v = ohm * current_a + voltage_v(curve, current_a)

    found_a = varistor_current_a(curve, open_v, ohm, guess)

    # With a small resistance the current hangs on the last digits of a flat curve.
    assert ohm * found_a + voltage_v(curve, found_a) == pytest.approx(open_v, rel=1e-9)
    assert found_a == pytest.approx(current_a, rel=1e-6)


@given(open_v=st.floats(-20e3, 20e3), ohm=st.floats(0.01, 1e4))
def test_polarity_of_an_operating_point(open_v: float, ohm: float) -> None:
    assert varistor_current_a(BLOCK_40, -open_v, ohm) == -varistor_current_a(BLOCK_40, open_v, ohm)


def test_the_operating_point_agrees_with_a_general_root_finder() -> None:
    """Outside check: SciPy's brentq on the current itself."""
    for open_v, ohm in ((6e3, 2.0), (20e3, 2.0), (700.0, 1.0), (500.0, 1e3)):
        root = brentq(lambda i, u=open_v, r=ohm: r * i + voltage_v(BLOCK_40, i) - u, 0, 1e5)

        assert varistor_current_a(BLOCK_40, open_v, ohm) == pytest.approx(root, rel=1e-6)


@given(open_v=st.floats(-20e3, 20e3), ohm=st.floats(0.01, 1e3))
def test_an_arc_obeys_its_own_law(open_v: float, ohm: float) -> None:
    i = arc_current_a(open_v, ohm, arc_v=25.0, arc_ohm=5e-3)

    assert ohm * i + 25.0 * i / (abs(i) + 1) + 5e-3 * i == pytest.approx(open_v, abs=1e-6)


@pytest.mark.parametrize(
    ("uc_v", "up_v", "in_8x20_a"), [(275, 1300, 20e3), (275, 1500, 5e3), (320, 1500, 10e3)]
)
def test_a_curve_pinned_to_its_ratings(uc_v: float, up_v: float, in_8x20_a: float) -> None:
    """Residual voltage at In is Up by definition (IEC 61643-11); the knee follows Uc."""
    curve = scaled_to_rating(BLOCK_40, shape_uc_v=275, uc_v=uc_v, up_v=up_v, in_8x20_a=in_8x20_a)

    assert voltage_v(curve, in_8x20_a) == pytest.approx(up_v, rel=1e-9)
    # 1 mA at 430 V for 275 V parts, ±10 % (found, a maker's table).
    assert voltage_v(curve, 1e-3) == pytest.approx(430 * uc_v / 275, rel=0.10)


def test_an_up_below_the_knee_is_refused() -> None:
    with pytest.raises(FieldError, match=r"spd.up_v: found 300"):
        scaled_to_rating(BLOCK_40, shape_uc_v=275, uc_v=275, up_v=300, in_8x20_a=5e3)


def test_a_curve_that_falls_is_refused() -> None:
    """A positive b3 bends the fit back below a microampere or so."""
    with pytest.raises(FieldError, match="curve: found 'a voltage that falls"):
        LogPolynomial(2.71, 0.026, 0.003, 0.004)


@pytest.mark.parametrize(
    "points",
    [
        (),
        ((1.0, 500.0),),
        ((1.0, 500.0), (2.0, 400.0)),
        ((2.0, 500.0), (1.0, 600.0)),
        ((0.0, 1.0), (1.0, 2.0)),
    ],
)
def test_points_that_make_no_curve_are_refused(points: tuple[tuple[float, float], ...]) -> None:
    with pytest.raises(FieldError, match=r"curve\.points"):
        LogPoints(points)


def test_points_are_met_and_carried_on() -> None:
    assert [voltage_v(POINTS, i) for i, _ in POINTS.points] == pytest.approx(
        [u for _, u in POINTS.points]
    )
    assert voltage_v(POINTS, 40e3) == pytest.approx(1200 * 1200 / 1000)
    assert voltage_v(POINTS, -1e3) == -voltage_v(POINTS, 1e3)
    assert voltage_v(POINTS, 0.0) == 0.0
