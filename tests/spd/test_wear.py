"""How often surges come and how long a duty lasts: laws, limits and words."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from boardwright.catalogue.devices import SpdData
from boardwright.core.errors import FieldError
from boardwright.job.supply import SurgeEnvironment
from boardwright.spd.ranges import Range, spread
from boardwright.spd.strikes import (
    Exposure,
    chance_above,
    direct_per_year,
    exposure,
    near_per_year,
    place_of,
    strike_law,
)
from boardwright.spd.wear import Duty, duty, duty_ranges, exponent_of, life_years, wear
from boardwright.spd.wear_words import how_long, how_often
from boardwright.spd.withstand import Wave
from tests.spd.samples import EDITION, spd

LAW = strike_law(EDITION)
HERE = Exposure(ng_per_km2_year=0.5, line_m=300, strokes_factor=1, size_factor=1)
DUTY = Duty(once_8x20_a=40_000, once_10x350_a=3_000, exponent_factor=4)
DENSITIES = st.floats(min_value=0.05, max_value=20)


def _outside(**fields: object) -> SurgeEnvironment:
    known = {"lv_overhead_m": 200, "lv_underground_m": 0, "hv_overhead_m": 800}
    known |= {"hv_underground_m": 0}
    given_fields = {"setting": "rural", "ng_per_km2_year": 0.5} | known | fields
    return SurgeEnvironment.model_validate(given_fields)


def _data(device_id: str = "ravel-spd-t2", **fields: object) -> SpdData:
    data = spd(device_id, **fields).spd
    assert data is not None
    return data


def _life(environment: SurgeEnvironment, data: SpdData | None = None) -> Range:
    return wear(environment, data or _data(), EDITION).life_years


def _drawn(ranges: Mapping[str, Range], normal: Iterable[float]) -> dict[str, float]:
    """Return one value of each figure; 1.645 deviations lie between its middle and its ends."""
    pairs = zip(ranges.items(), normal, strict=True)
    return {
        name: each.middle * (each.high / each.low) ** (z / 2 / 1.645) for (name, each), z in pairs
    }


@pytest.mark.parametrize("size_a", [0.0, 100.0, 1000.0, 20_000.0])
def test_the_strikes_beside_the_line_are_the_integral_over_the_distance(size_a: float) -> None:
    """SciPy's adaptive quadrature, over the distance itself and not over its logarithm."""
    strike_a = size_a / (LAW.share_near_ratio * HERE.size_factor)
    ends_m = (LAW.strip_direct_m / 2, LAW.strip_near_m / 2)
    width_m = 2 * quad(lambda d: chance_above(strike_a * d / ends_m[0], LAW), *ends_m, limit=500)[0]
    expected = HERE.ng_per_km2_year * HERE.line_m * width_m * 1e-6

    assert near_per_year(size_a, HERE, LAW) == pytest.approx(expected, rel=2e-4)


def test_of_all_sizes_both_together_are_the_whole_strip() -> None:
    """IEC 62305-2, A.5: 4000 m of width, whatever the line itself takes of it."""
    both = direct_per_year(0, HERE, LAW) + near_per_year(0, HERE, LAW)

    assert both == pytest.approx(0.5 * 4000 * 300e-6, rel=1e-4)


@given(DENSITIES, DENSITIES)
@settings(max_examples=20, deadline=None)
def test_more_flashes_never_make_it_last_longer(one: float, other: float) -> None:
    few, many = (_life(_outside(ng_per_km2_year=ng)) for ng in sorted((one, other)))

    assert many.low <= few.low * (1 + 1e-9)
    assert many.high <= few.high * (1 + 1e-9)


@given(st.integers(min_value=0, max_value=500))
@settings(max_examples=15, deadline=None)
def test_overhead_never_wears_less_than_the_same_length_of_cable(length_m: int) -> None:
    rest = {"hv_overhead_m": 500, "lv_overhead_m": 0, "lv_underground_m": 0}
    air = _life(_outside(**(rest | {"lv_overhead_m": length_m})))
    ground = _life(_outside(**(rest | {"lv_underground_m": length_m})))

    assert air.low <= ground.low * (1 + 1e-9)


@given(st.floats(min_value=10, max_value=1e5), st.floats(min_value=10, max_value=1e5))
@settings(deadline=None)
def test_a_larger_surge_is_never_more_frequent(one_a: float, other_a: float) -> None:
    small_a, large_a = sorted((one_a, other_a))

    assert near_per_year(large_a, HERE, LAW) <= near_per_year(small_a, HERE, LAW) * (1 + 1e-9)
    assert direct_per_year(large_a, HERE, LAW) <= direct_per_year(small_a, HERE, LAW)


def test_twice_the_flashes_halve_the_life() -> None:
    twice = replace(HERE, ng_per_km2_year=1.0)

    assert life_years(twice, DUTY, LAW) == pytest.approx(life_years(HERE, DUTY, LAW) / 2)


def test_the_finer_the_classes_the_same_the_life() -> None:
    """The sum over classes against the integral of the same by SciPy, over the logarithm."""

    def used(log_a: float) -> float:
        a, step = math.exp(log_a), 1e-4
        slopes = (
            (rate(a, HERE, LAW) - rate(a * (1 + step), HERE, LAW)) * DUTY.used_ratio(a, wave) / step
            for rate, wave in ((near_per_year, Wave.SHORT), (direct_per_year, Wave.LONG))
        )
        return sum(slopes)

    whole = quad(used, math.log(1), math.log(1e7), limit=400, points=[math.log(3_000)])[0]

    assert life_years(HERE, DUTY, LAW) == pytest.approx(1 / whole, rel=0.01)


def test_in_borne_fifteen_times_is_the_duty_and_imax_once() -> None:
    """IEC 61643-11, operating duty test, from memory; 15 = 2^3.907 for Imax twice In."""
    made = duty(_data(), {"count": 15, "long_ratio": 10})

    assert made.exponent_factor == pytest.approx(3.907, abs=5e-4)
    assert exponent_of(15, 20_000, 40_000) == made.exponent_factor
    assert 15 * made.used_ratio(20_000, Wave.SHORT) == pytest.approx(1)
    assert made.used_ratio(40_000, Wave.SHORT) == 1
    assert made.used_ratio(60_000, Wave.SHORT) == 1


def test_a_type_1_is_judged_by_its_own_long_surge() -> None:
    made = duty(_data("ravel-spd-t12"), {"count": 15})

    assert made.once_10x350_a == 12_500
    assert "long_ratio" not in duty_ranges(_data("ravel-spd-t12"), EDITION)


@pytest.mark.parametrize("imax_a", [None, 20_000])
def test_without_an_imax_above_in_the_exponent_is_assumed(imax_a: float | None) -> None:
    data = _data(imax_8x20_a=imax_a)
    made = duty(data, {"count": 15, "exponent_factor": 4, "long_ratio": 10})

    assert "exponent_factor" in duty_ranges(data, EDITION)
    assert made.once_8x20_a == pytest.approx(20_000 * 15**0.25)


def test_ranges_of_a_product_add_by_squares() -> None:
    """A product of log-normal figures: its logarithm's deviations add by squares, exactly."""
    ranges = {"a": Range(1, 9), "b": Range(2, 8), "c": Range(5, 5)}
    found = spread(lambda v: v["a"] / v["b"] * v["c"], ranges)
    deviation = math.hypot(math.log(3), math.log(2))

    assert found.middle == pytest.approx(3 / 4 * 5)
    assert math.log(found.high / found.low) == pytest.approx(2 * deviation)


@pytest.mark.parametrize("device_id", ["ravel-spd-t2", "ravel-spd-t12", "tarn-spd-t12"])
def test_four_hundred_drawn_homes_have_the_same_band(device_id: str) -> None:
    """Log-normal draws by NumPy, 5 % and 95 % of their lives: within a half of the first order."""
    data, outside = _data(device_id), _outside()
    ranges = {**place_of(outside, EDITION).ranges, **duty_ranges(data, EDITION)}
    draws = np.random.default_rng(7).standard_normal((400, len(ranges)))
    drawn = [_drawn(ranges, row) for row in draws]
    lives = [life_years(exposure(values), duty(data, values), LAW) for values in drawn]
    found = wear(outside, data, EDITION).life_years

    low, high = np.percentile(lives, [5, 95])
    assert 1 / 1.5 < found.low / low < 1.5
    assert 1 / 1.5 < found.high / high < 1.5


def test_what_is_not_known_widens_the_range_and_is_named() -> None:
    known = wear(_outside(), _data(), EDITION)
    less = wear(_outside(ng_per_km2_year=None, lv_overhead_m=None), _data(), EDITION)

    assert known.place.assumed == ()
    assert len(less.place.assumed) == 2
    assert less.life_years.high / less.life_years.low > (
        known.life_years.high / known.life_years.low
    )


def test_a_home_without_any_line_is_one_nobody_looked_at() -> None:
    place = place_of(_outside(lv_overhead_m=0, hv_overhead_m=0), EDITION)

    assert "1000 m of line not known" in place.assumed[0]
    assert place.ranges["line_m"] == Range(100, 1000)


@pytest.mark.parametrize("ng", [-0.5, 0.0, 51.0, math.nan, math.inf])
def test_a_flash_density_of_no_place_is_refused(ng: float) -> None:
    impossible = _outside().model_copy(update={"ng_per_km2_year": ng})

    with pytest.raises(FieldError, match=r"ng_per_km2_year: found .*above 0 and at most 50"):
        place_of(impossible, EDITION)


@pytest.mark.parametrize(
    ("field", "value"), [("ng_per_km2_year", -1.0), ("line_m", -1.0), ("line_m", math.nan)]
)
def test_an_exposure_that_cannot_be_is_refused(field: str, value: float) -> None:
    with pytest.raises(FieldError, match="surge_environment"):
        replace(HERE, **{field: value})


@pytest.mark.parametrize("size_a", [-1.0, math.nan])
def test_a_size_that_cannot_be_is_refused(size_a: float) -> None:
    with pytest.raises(FieldError, match="size_a"):
        near_per_year(size_a, HERE, LAW)


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (20, 90, "decades"),
        (20, 900, "decades to centuries"),
        (0.5, 5, "months to years"),
        (500, 50_000, "centuries to more than a thousand years"),
    ],
)
def test_a_life_is_told_in_words(low: float, high: float, words: str) -> None:
    assert how_long(Range(low, high)) == words


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (6, 8, "several times a year"),
        (0.2, 0.5, "once in some years"),
        (0.002, 0.05, "once in some decades to centuries"),
        (0.0001, 0.05, "once in some decades to less than once in a thousand years"),
    ],
)
def test_a_rate_is_told_in_words(low: float, high: float, words: str) -> None:
    assert how_often(Range(low, high)) == words
