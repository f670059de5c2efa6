"""Leads of an SPD: published worked example and published limits.

A maker's tip page on low-voltage SPDs: Up 1.5 kV, leads 0.6 m + 0.7 m at 1 kV a metre give 2.8 kV,
within category III (4 kV), beyond category II (2.5 kV). A guide to surge protection in domestic
dwellings: 0.5 m preferred, never over 1 m. The words for and against are ours.
"""

from dataclasses import replace

import pytest

from boardwright.core.findings import Verdict
from boardwright.verification.spd import leads_short, level_at_the_board
from boardwright.wiring.results import SpdLeads
from tests.spd.samples import EDITION, home
from tests.verification.spd_samples import choice, facts, one

JOB = home()
CHOICE = choice(JOB)


def test_the_published_example_of_2800_v() -> None:
    given = facts(JOB, CHOICE, leads=SpdLeads(line_m=0.6, neutral_m=0.1, pe_m=0.7))

    level, leads = one(level_at_the_board, given), one(leads_short, given)

    assert CHOICE.candidate is not None
    assert CHOICE.candidate.device.spd is not None
    assert CHOICE.candidate.device.spd.up_v == 1500
    assert (level.value, level.limit, level.verdict) == (2800, 2500, Verdict.FAIL)
    assert EDITION.number("uw.category_iii_v") > 2800
    assert (leads.value, leads.limit, leads.verdict) == (1.3, 1.0, Verdict.FAIL)


def test_a_quarter_metre_each_passes() -> None:
    given = facts(JOB, CHOICE, leads=SpdLeads(line_m=0.25, neutral_m=0.2, pe_m=0.25))

    level = one(level_at_the_board, given)

    assert (level.value, level.verdict) == (2000, Verdict.PASS)
    assert one(leads_short, given).verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("total_m", "verdict", "limit_m"),
    [
        (0.5, Verdict.PASS, 0.5),
        (0.7, Verdict.ADVISE, 0.5),
        (1.0, Verdict.ADVISE, 0.5),
        (1.2, Verdict.FAIL, 1.0),
    ],
)
def test_lead_length(total_m: float, verdict: Verdict, limit_m: float) -> None:
    leads = SpdLeads(line_m=total_m / 2, neutral_m=0.1, pe_m=total_m / 2)

    found = one(leads_short, facts(JOB, CHOICE, leads=leads))

    assert (found.verdict, found.limit) == (verdict, limit_m)
    assert bool(found.remedy) is (verdict is not Verdict.PASS)
    if verdict is Verdict.FAIL:
        assert "earth bar" in found.remedy


def test_the_neutral_branch_counts_as_the_line_s() -> None:
    """The same guide: the neutral's path is held to the same length, each with the earth lead."""
    leads = SpdLeads(line_m=0.1, neutral_m=0.9, pe_m=0.2)

    assert one(leads_short, facts(JOB, CHOICE, leads=leads)).value == pytest.approx(1.1)


def test_an_assumed_length_is_unknown_until_it_is_too_long() -> None:
    leads = SpdLeads(line_m=0.1, neutral_m=0.1, pe_m=0.1, assumed=True)
    long = replace(leads, line_m=1.5)

    assert one(leads_short, facts(JOB, CHOICE, leads=leads)).verdict is Verdict.UNKNOWN
    assert one(leads_short, facts(JOB, CHOICE, leads=long)).verdict is Verdict.FAIL


def test_0_7_m_shows_its_effect_on_the_level() -> None:
    leads = SpdLeads(line_m=0.35, neutral_m=0.1, pe_m=0.35)

    level = one(level_at_the_board, facts(JOB, CHOICE, leads=leads))

    assert (level.value, level.limit, level.verdict) == (2200, 2000, Verdict.ADVISE)
