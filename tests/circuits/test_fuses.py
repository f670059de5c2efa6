"""What becomes of a fuse as found: common practice, no source."""

import pytest

from boardwright.circuits.results import CircuitResult
from tests.circuits.build import Raw, only, raw_circuit

KEPT: Raw = {"existing_board": {"ways": 6, "kind": "rewirable fuses"}, "wishes": {"board": "keep"}}


def _behind(in_a: float, line_mm2: float = 6, **changes: object) -> CircuitResult:
    cable = {"line_mm2": line_mm2, "cpc_mm2": 2.5, "length_m": 10, "method": "C"}
    wanted = {"in_a": in_a, "standard": "BS 3036"}
    load = {"power_w": 6000}
    return only(raw_circuit("cooker", load=load, wanted=wanted, cable=cable), **changes)


@pytest.mark.parametrize(("fuse_a", "breaker_a"), [(5, 6), (15, 16), (20, 20), (30, 32), (45, 45)])
def test_on_a_new_board_the_next_breaker_takes_its_place(fuse_a: float, breaker_a: float) -> None:
    result = _behind(fuse_a)

    assert (result.in_a, result.protection.standard) == (breaker_a, "RCBO")
    assert result.protection.idn_a == 0.03


def test_a_cable_that_does_not_bear_it_takes_a_smaller_one() -> None:
    """2.5 mm² clipped carries 27 A (Table 4D5): 32 A is too much behind a fuse of 30 A."""
    result = _behind(30, line_mm2=2.5)

    assert result.in_a <= result.iz_a == pytest.approx(27)


def test_without_the_fuse_its_factor_goes() -> None:
    """0.725 belongs to the rewirable fuse, 433.1.202; 6 mm² clipped carries 47 A (Table 4D5)."""
    assert _behind(30).iz_a == pytest.approx(47)
    assert _behind(30, **KEPT).iz_a == pytest.approx(47 * 0.725)


def test_on_the_board_as_found_it_stays() -> None:
    result = _behind(30, **KEPT)

    assert (result.in_a, result.protection.standard) == (30, "BS 3036")
