"""Two gG fuses in line: a fuse maker's application guidance, 1.6 to 1 by rated current.

IEC 60269-1 Table 7, from memory: 63 A lets 27 000 A²s through at most while 100 A does not open
under 27 000; 80 A lets 46 000 through, under which 100 A opens.
"""

import pytest

from boardwright.core.findings import Verdict
from boardwright.verification.submain import fuses_are_selective
from tests.circuits.build import home, raw_circuit
from tests.verification.circuit_facts import facts


@pytest.mark.parametrize(
    ("fuse_a", "standard", "cutout_a", "expected"),
    [
        (63, "BS 88-2", 100, [Verdict.PASS]),
        (80, "BS 88-2", 100, [Verdict.ADVISE]),
        (40, "BS 88-2", 60, [Verdict.ADVISE]),
        (32, "BS 88-2", 60, [Verdict.PASS]),
        (63, "MCB C", 100, []),
        (63, "BS 88-2", None, []),
    ],
)
def test_the_smaller_blows_alone(
    fuse_a: float, standard: str, cutout_a: float | None, expected: list[Verdict]
) -> None:
    submain = {
        "cable": "swa 90", "line_mm2": 16, "cpc_mm2": 16, "length_m": 20,
        "fuse_a": fuse_a, "fuse_standard": standard,
    }  # fmt: skip
    job = home([raw_circuit()], supply={"submain": submain, "cutout_fuse_a": cutout_a})

    assert [f.verdict for f in fuses_are_selective(facts(job))] == expected
