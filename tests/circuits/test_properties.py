"""What must hold for every circuit, whatever its figures."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.circuits.build import EDITION, only, raw_circuit

# No deadline: the machine may be busy. The same draws every time.
CALM = settings(deadline=None, derandomize=True)

SIZES = ((1.0, 1.0), (1.5, 1.0), (2.5, 1.5), (4.0, 1.5), (6.0, 2.5), (10.0, 4.0), (16.0, 6.0))
LENGTHS = st.floats(min_value=1, max_value=200)


def _cable(size: int, length_m: float, method: str = "C") -> dict[str, Any]:
    line_mm2, cpc_mm2 = SIZES[size]
    return {"line_mm2": line_mm2, "cpc_mm2": cpc_mm2, "length_m": length_m, "method": method}


@CALM
@given(st.integers(0, 6), LENGTHS, LENGTHS)
def test_a_longer_cable_never_lowers_loop_or_volt_drop(size: int, one: float, other: float) -> None:
    short, long = (
        only(raw_circuit("shower", load={"power_w": 8500}, cable=_cable(size, length_m)))
        for length_m in sorted((one, other))
    )

    assert (short.zs_ohm or 0) <= (long.zs_ohm or 0)
    assert short.volt_drop_v <= long.volt_drop_v


@CALM
@given(st.integers(0, 5), LENGTHS, st.sampled_from(("100", "101", "102", "103", "A", "C")))
def test_a_larger_cable_never_does_worse(size: int, length_m: float, method: str) -> None:
    small, large = (
        only(raw_circuit("cooker", load={"ib_a": 20}, cable=_cable(s, length_m, method)))
        for s in (size, size + 1)
    )

    assert large.iz_a >= small.iz_a
    assert large.volt_drop_v <= small.volt_drop_v
    assert (large.zs_ohm or 0) <= (small.zs_ohm or 0)


@CALM
@given(st.floats(0.05, 0.8), st.floats(0.05, 0.8))
def test_a_higher_ze_moves_the_loop_and_nothing_of_the_load(one: float, other: float) -> None:
    low, high = (only(raw_circuit(), supply={"ze_ohm": ze}) for ze in sorted((one, other)))

    assert (low.zs_ohm or 0) <= (high.zs_ohm or 0)
    assert (low.ib_a, low.in_a, low.iz_a, low.volt_drop_v) == (
        high.ib_a,
        high.in_a,
        high.iz_a,
        high.volt_drop_v,
    )


@CALM
@given(st.floats(1, 10_000))
def test_the_device_never_falls_below_the_load_while_there_is_one(power_w: float) -> None:
    result = only(raw_circuit("fixed appliance", load={"power_w": power_w}))

    assert result.in_a >= result.ib_a
    assert result.ib_a == pytest.approx(power_w / 230)


@CALM
@given(st.floats(1, 2000))
def test_the_worse_of_cable_and_reading_counts(reading_mohm: float) -> None:
    read_ohm = reading_mohm / 1000
    plain = only(raw_circuit())
    read = only(raw_circuit(readings={"r1r2_ohm": read_ohm}))

    assert read.r1r2_20c_ohm == max(plain.r1r2_20c_ohm or 0, read_ohm)


def test_same_job_same_plan() -> None:
    assert only(raw_circuit("lighting")) == only(raw_circuit("lighting"))


@pytest.mark.parametrize("standard", ["BS 3036", "BS 88-3", "BS 1361", "BS 88-2", "BS 1362"])
def test_more_time_and_a_smaller_fuse_allow_a_higher_loop(standard: str) -> None:
    quick, slow = (EDITION.table(f"fuse_zs_ohm.{time}").rows[standard] for time in ("0.4", "5"))

    for cells in (quick, slow):
        ordered = [cells[rating] for rating in sorted(cells, key=float)]
        assert ordered == sorted(ordered, reverse=True)
    assert all(quick[rating] < slow[rating] for rating in quick if rating in slow)
