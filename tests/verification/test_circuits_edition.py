"""The edition against the day of the design.

A2 and A3 were withdrawn on 15 October 2026, A4 was published on 15 April 2026: inspection firm's
article on A4; IET journal, issue 109.
"""

from dataclasses import replace
from datetime import date

import pytest

from boardwright.core.findings import Verdict
from boardwright.standards.load import load_edition
from boardwright.verification.edition import in_force
from tests.circuits.build import home, raw_circuit
from tests.verification.circuit_facts import facts, found


@pytest.mark.parametrize(
    ("edition", "day", "expected"),
    [
        ("bs7671_2018_a4", date(2026, 11, 20), Verdict.PASS),
        ("bs7671_2018_a4", date(2026, 4, 14), Verdict.ADVISE),
        ("bs7671_2018_a2_a3", date(2026, 10, 15), Verdict.PASS),
        ("bs7671_2018_a2_a3", date(2026, 10, 16), Verdict.FAIL),
    ],
)
def test_the_edition_was_in_force(edition: str, day: date, expected: Verdict) -> None:
    given = replace(facts(home([raw_circuit()], designed_on=day)), edition=load_edition(edition))

    assert found(in_force, given).verdict is expected
