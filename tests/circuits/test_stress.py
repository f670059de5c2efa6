"""How hard a fault heats conductors behind a breaker and behind a fuse."""

from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.circuits.fault import adiabatic_mm2
from boardwright.circuits.judged_fault import protective_conductor
from boardwright.circuits.origin import origin_of
from boardwright.circuits.site import Site
from boardwright.circuits.stress import Overcurrent, overcurrent_stress
from boardwright.core.findings import Verdict
from tests.circuits.build import EDITION, NOTHING, home, only, raw_circuit

CALM = settings(deadline=None, derandomize=True)
REWIRABLE = {
    "load": {"ib_a": 24},
    "wanted": {"in_a": 30, "standard": "BS 3036"},
    "cable": {"line_mm2": 6, "cpc_mm2": 2.5, "length_m": 12, "method": "C"},
}
AS_FOUND = {"wishes": {"board": "keep"}, "existing_board": {"ways": 6}}


def test_a_breaker_trips_at_once() -> None:
    """√(I²t)/k of the reference shower: 493.6 A for 0.1 s ask 1.357 mm² at k 115."""
    stress = overcurrent_stress(
        Overcurrent("RCBO", "B", 45), 0.4659, limit_s=5, u0_v=230, edition=EDITION
    )

    assert adiabatic_mm2(stress.current_a, stress.time_s, 115) == pytest.approx(1.357, abs=0.001)
    assert not stress.bounded


def test_a_rewirable_fuse_lets_no_more_through_than_at_its_own_current() -> None:
    """30 A of BS 3036 opens in 0.4 s at 230·0.95/1.04 = 210 A (Table 41.2, from memory).

    A fault of 456 A for all of 0.4 s would ask 2.5 mm²; no fuse lets that pass.
    """
    result = only(raw_circuit("cooker", **REWIRABLE), **AS_FOUND)
    opens_a = 230 * 0.95 / 1.04

    assert result.adiabatic_mm2 == pytest.approx(opens_a * sqrt(0.4) / 115)
    assert 230 / (result.zs_ohm or 1) > 2 * opens_a


def test_such_a_cooker_is_not_failed_for_its_cpc() -> None:
    job = home([raw_circuit("cooker", **REWIRABLE)], **AS_FOUND)
    site = Site(job, origin_of(job, 0, EDITION), NOTHING, EDITION)

    assert protective_conductor(site.assessed(job.circuits[0]), site).verdict is Verdict.PASS


@CALM
@given(
    st.sampled_from((("BS 3036", 30.0), ("BS 88-3", 32.0), ("BS 88-3", 100.0), ("BS 88-2", 63.0))),
    st.floats(0.05, 3),
    st.sampled_from((0.4, 5.0)),
)
def test_a_fuses_bound_is_never_above_the_fault_for_all_its_time(
    fuse: tuple[str, float], zs_ohm: float, limit_s: float
) -> None:
    stress = overcurrent_stress(
        Overcurrent(fuse[0], "", fuse[1]), zs_ohm, limit_s=limit_s, u0_v=230, edition=EDITION
    )

    assert stress.energy_a2s <= (230 / zs_ohm) ** 2 * limit_s * (1 + 1e-12)
    assert stress.current_a <= 230 / zs_ohm


@pytest.mark.parametrize(
    ("in_a", "energy_a2s"),
    [(16, 1000), (20, 1800), (25, 3000), (32, 5000), (40, 9000), (50, 16_000), (63, 27_000)],
)
def test_a_gg_fuse_lets_less_through_in_a_strong_fault(in_a: float, energy_a2s: float) -> None:
    """IEC 60269-1 Table 7, largest pre-arcing I²t, from memory: below our bound at every rating."""
    stress = overcurrent_stress(
        Overcurrent("BS 88-2", "", in_a), 0.05, limit_s=5, u0_v=230, edition=EDITION
    )

    assert stress.bounded
    assert stress.energy_a2s > energy_a2s
