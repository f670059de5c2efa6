"""The ways that a person gave hold where the rail allows them, and never make a board illegal."""

from __future__ import annotations

from pathlib import Path

import pytest

from boardwright.board.legal import faults
from boardwright.catalogue.load import load_catalogue
from boardwright.core.errors import InputErrors
from boardwright.core.findings import Verdict
from boardwright.design import Design, design
from boardwright.job.edit import Edit, edited
from boardwright.job.read import parse_job
from boardwright.standards.load import load_edition

EXAMPLES = Path(__file__).parents[2] / "examples"


def placed(name: str, **ways: int) -> Design:
    """Return the design of an example whose devices a person placed."""
    text = (EXAMPLES / f"{name}.yaml").read_text()
    edits = [Edit(f"wishes.ways.{key.replace('_', '-')}", way) for key, way in ways.items()]
    job = parse_job(edited(text, edits, name), name)
    return design(job, load_catalogue(), load_edition(job.edition))


def way(result: Design, item: str) -> int:
    return result.chosen.arrangement.placement(item).way


def said(result: Design) -> dict[str, Verdict]:
    return {f.subject_id: f.verdict for f in result.findings if f.check == "board.way_wished"}


def test_a_circuit_and_the_spd_stand_where_they_were_placed() -> None:
    result = placed("semi", boiler=4, spd=6)

    assert (way(result, "way-boiler"), way(result, "spd-backup"), way(result, "spd")) == (4, 6, 7)
    assert faults(result.chosen.arrangement) == ()
    assert said(result) == {"boiler": Verdict.PASS, "spd": Verdict.PASS}


def test_a_way_that_the_rail_forbids_is_told_and_nothing_else_suffers() -> None:
    # The last ways stay free on a packed board, so nothing can start there.
    result = placed("semi", boiler=16)

    assert faults(result.chosen.arrangement) == ()
    assert result.chosen.arrangement.left_out == ()
    assert said(result) == {"boiler": Verdict.ADVISE}


def test_ways_that_exclude_each_other_are_told_of_each() -> None:
    # The back-up on way 4 and the SPD behind it take the ways 4 to 6.
    result = placed("semi", boiler=5, spd=4)

    assert faults(result.chosen.arrangement) == ()
    assert result.chosen.arrangement.left_out == ()
    assert Verdict.ADVISE in said(result).values()


def test_a_circuit_stays_behind_the_rcd_of_its_section() -> None:
    free = placed("semi-split")
    behind = next(
        p for p in free.chosen.arrangement.placements if p.item.section and p.item.circuit_id
    )

    result = placed("semi-split", **{behind.item.circuit_id.replace("-", "_"): 1})

    assert faults(result.chosen.arrangement) == ()
    assert said(result)[behind.item.circuit_id] is Verdict.ADVISE


@pytest.mark.parametrize("ways", [{"nobody": 3}, {"boiler": 3, "cooker": 3}, {"boiler": 0}])
def test_a_way_of_nobody_or_of_two_is_no_job(ways: dict[str, int]) -> None:
    with pytest.raises(InputErrors, match=r"wishes\.ways"):
        placed("semi", **ways)
