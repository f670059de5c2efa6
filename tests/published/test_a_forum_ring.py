"""A ring that no one could explain: a trade forum's thread 443716, readings and diagnosis.

r1 = rn = 1.6 Ω, r2 = 4.1 Ω; crossed, 1.4 to 1.5 Ω to neutral and 1.8 to 1.9 Ω to earth, once 2.2.
The diagnosis there: an unsuitable instrument.
"""

import pytest

from boardwright.circuits.ring import lead_offset_ohm
from boardwright.circuits.ring_readings import RingReadings, expected_of, judge_ring
from boardwright.core.findings import Verdict
from tests.circuits.build import EDITION

READ = RingReadings(
    line_mm2=2.5,
    cpc_mm2=1.5,
    r1_ohm=1.6,
    rn_ohm=1.6,
    r2_ohm=4.1,
    line_neutral_ohm=(1.4, 1.45, 1.5),
    line_cpc_ohm=(1.8, 1.8, 1.85, 1.9, 2.2),
)


def test_what_a_whole_ring_would_read() -> None:
    expected = expected_of(READ, EDITION)

    assert expected.length_m == pytest.approx(215.9, abs=0.05)
    assert expected.line_neutral_ohm == pytest.approx(0.80)
    assert expected.line_cpc_middle_ohm == pytest.approx(1.425)


def test_no_offset_of_the_leads_explains_both() -> None:
    assert lead_offset_ohm(1.45, 1.6, 1.6) == pytest.approx(1.3)
    assert lead_offset_ohm(1.85, 1.6, 4.1) == pytest.approx(0.85)


def test_the_verdict_is_the_forums() -> None:
    found = {f.check: f for f in judge_ring(READ, EDITION)}

    assert found["ring.ends"].verdict is Verdict.PASS
    assert found["ring.cpc"].verdict is Verdict.ADVISE
    assert found["ring.length"].verdict is Verdict.ADVISE
    assert found["ring.leads"].verdict is Verdict.FAIL
    assert "unsuitable" in found["ring.leads"].message


def test_leads_alone_are_told_apart() -> None:
    """A whole ring of 0.50, 0.50 and 0.82 Ω, read through leads of 0.40 Ω all the way."""
    read = RingReadings(
        2.5, 1.5, 0.90, 0.90, 1.22, line_neutral_ohm=(0.65, 0.65), line_cpc_ohm=(0.73, 0.73)
    )
    (leads,) = (f for f in judge_ring(read, EDITION) if f.check == "ring.leads")

    assert leads.verdict is Verdict.ADVISE
    assert "explain it all" in leads.message
