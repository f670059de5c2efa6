"""Insulation of several circuits in parallel: the sum of reciprocals (643.3.2, Table 64)."""

import pytest

from boardwright.core.findings import Verdict
from boardwright.gate.judge import judge
from boardwright.gate.wiring import parallel_mohm
from boardwright.job.job import Job
from tests.circuits.build import EDITION, home, raw_circuit


@pytest.mark.parametrize(
    ("read_mohm", "together_mohm"),
    [((50, 20, 100, 5), 3.571), ((200,) * 10, 20.0), ((10, 2, 0.9), 0.5844)],
)
def test_the_sum_of_reciprocals(read_mohm: tuple[float, ...], together_mohm: float) -> None:
    assert parallel_mohm(read_mohm) == pytest.approx(together_mohm, abs=0.0005)


def _home(*read_mohm: float) -> Job:
    return home(
        [
            raw_circuit(id=f"c{n}", readings={"insulation_mohm": mohm})
            for n, mohm in enumerate(read_mohm)
        ]
    )


@pytest.mark.parametrize(
    ("read_mohm", "told"), [((200, 200), []), ((2, 2, 2), [Verdict.ADVISE]), ((10, 2, 0.9), [])]
)
def test_what_no_single_circuit_shows_is_told(
    read_mohm: tuple[float, ...], told: list[Verdict]
) -> None:
    """Three circuits of 2 MΩ make 0.67 MΩ at the board; one of 0.9 MΩ fails by itself."""
    found = judge(_home(*read_mohm), EDITION)

    assert [f.verdict for f in found if f.check == "gate.insulation.together"] == told
