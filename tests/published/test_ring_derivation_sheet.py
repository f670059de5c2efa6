"""What a ring reads at its sockets: a derivation sheet on ring tests, and a journal on behaviour.

Behaviour as in the IET journal's article on ring continuity, March 2022.
"""

import pytest

from boardwright.circuits.conductor import r20_ohm
from boardwright.circuits.ring import crossed_ohm, due_ratio, uncrossed_ohm
from boardwright.circuits.ring_readings import RingReadings, expected_of, judge_ring
from boardwright.core.findings import Verdict
from tests.circuits.build import EDITION

ALONG = (0.0, 0.1, 0.25, 0.5)


def _by_ohms_law(one_ohm: float, other_ohm: float, along: float) -> float:
    """Crossed ends make two parallel loops at a socket: each the way round by both conductors."""
    near_ohm = along * one_ohm + (1 - along) * other_ohm
    far_ohm = (1 - along) * one_ohm + along * other_ohm
    return near_ohm * far_ohm / (near_ohm + far_ohm)


@pytest.mark.parametrize(
    ("line_mm2", "length_m", "r1_ohm", "r2_ohm", "printed"),
    [
        (2.5, 80, 0.5928, 0.9680, (0.3677, 0.3758, 0.3846, 0.3902)),
        (4, 100, 0.4610, 1.2100, (0.3338, 0.3640, 0.3968, 0.4178)),
    ],
)
def test_a_whole_ring(
    line_mm2: float, length_m: float, r1_ohm: float, r2_ohm: float, printed: tuple[float, ...]
) -> None:
    assert r20_ohm(EDITION, line_mm2, length_m) == pytest.approx(r1_ohm, abs=0.00005)
    assert r20_ohm(EDITION, 1.5, length_m) == pytest.approx(r2_ohm, abs=0.00005)
    for along, ohm in zip(ALONG, printed, strict=True):
        assert crossed_ohm(r1_ohm, r2_ohm, along) == pytest.approx(ohm, abs=0.0001)
        assert crossed_ohm(r1_ohm, r2_ohm, along) == pytest.approx(
            _by_ohms_law(r1_ohm, r2_ohm, along)
        )


def test_a_spread_of_a_quarter_is_no_fault() -> None:
    """4/1.5 mm², 100 m: 0.33 at the board, 0.42 in the middle. "All within 0.05" would fail it."""
    sockets = tuple(crossed_ohm(0.461, 1.21, along) for along in ALONG)
    read = RingReadings(4, 1.5, 0.461, 0.461, 1.21, line_cpc_ohm=sockets)

    assert sockets[-1] / sockets[0] == pytest.approx(1.25, abs=0.005)
    assert {finding.verdict for finding in judge_ring(read, EDITION)} == {Verdict.PASS}


@pytest.mark.parametrize(("along", "reads_ohm"), [(0.1, 0.1067), (0.25, 0.2223), (0.5, 0.2964)])
def test_a_leg_joined_to_itself(along: float, reads_ohm: float) -> None:
    """2·r·x·(1 − x): the mistake reads as a whole ring does in the middle, and nowhere else."""
    assert uncrossed_ohm(0.5928, along) == pytest.approx(reads_ohm, abs=0.00005)
    assert crossed_ohm(0.5928, 0.5928, along) == pytest.approx(0.2964)


def test_that_mistake_is_found() -> None:
    wrong = tuple(uncrossed_ohm(0.5928, along) for along in (0.1, 0.25, 0.5))
    read = RingReadings(2.5, 1.5, 0.5928, 0.5928, 0.968, line_neutral_ohm=wrong)
    (found,) = (f for f in judge_ring(read, EDITION) if f.check == "ring.sockets")

    assert found.verdict is Verdict.FAIL
    assert "0.2964" not in found.message
    assert "crossed" in found.remedy


def test_a_spur_reads_higher_than_its_neighbours() -> None:
    """Several trade notes: one socket higher than the others is a spur, or a loose joint."""
    read = RingReadings(2.5, 1.5, 0.59, 0.59, 0.968, line_neutral_ohm=(0.30, 0.29, 0.38))
    (found,) = (f for f in judge_ring(read, EDITION) if f.check == "ring.sockets")

    assert found.verdict is Verdict.ADVISE
    assert "0.38 Ω" in found.message


def test_the_middle_is_a_quarter_of_both_ends() -> None:
    expected = expected_of(RingReadings(2.5, 1.5, 0.6, 0.6, 0.98), EDITION)

    assert expected.line_neutral_ohm == pytest.approx((0.6 + 0.6) / 4)
    assert expected.line_cpc_middle_ohm == pytest.approx((0.6 + 0.98) / 4)
    assert expected.line_cpc_ends_ohm == pytest.approx(0.6 * 0.98 / 1.58)
    assert due_ratio(EDITION, 2.5, 1.5) == pytest.approx(1.633, abs=0.0005)
