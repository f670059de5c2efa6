"""A device put on another way: judged by the legality that knows no search, priced as searched."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from boardwright.board.arrange import arrange
from boardwright.board.legal import faults
from boardwright.board.moved import Moved, moved
from boardwright.board.results import Arrangement, BoardPlan
from boardwright.catalogue.load import load_catalogue
from boardwright.core.errors import FieldError
from boardwright.design import Design, design
from boardwright.job.read import parse_job
from boardwright.standards.load import load_edition

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def home(name: str) -> Design:
    job = parse_job((EXAMPLES / f"{name}.yaml").read_text(), name)
    return design(job, load_catalogue(), load_edition(job.edition))


def put(name: str, item: str, way: int) -> Moved:
    chosen = home(name).chosen
    return moved(chosen.arrangement, chosen.board, home(name).job.wishes, item_id=item, way=way)


def order(arrangement: Arrangement) -> list[str]:
    return [p.item.id for p in arrangement.placements]


def paid(arrangement: Arrangement) -> float:
    return sum(wish.cost for wish in arrangement.preferences)


@pytest.mark.parametrize("name", ["semi", "semi-split", "three-phase", "flat"])
def test_a_device_put_where_it_stands_changes_nothing(name: str) -> None:
    before = home(name).chosen.arrangement
    for placement in before.placements:
        if placement.way:
            after = put(name, placement.item.id, placement.way)
            assert after.faults == ()
            assert after.arrangement.placements == before.placements


def test_the_others_close_up_in_the_order_they_had() -> None:
    before = order(home("semi").chosen.arrangement)

    after = order(put("semi", "way-boiler", 4).arrangement)

    assert after.index("way-boiler") == before.index("way-shower")
    assert [x for x in after if x != "way-boiler"] == [x for x in before if x != "way-boiler"]


def test_the_spd_takes_its_back_up_along() -> None:
    after = put("semi", "spd-backup", 6)

    assert after.faults == ()
    at = order(after.arrangement).index("spd-backup")
    assert order(after.arrangement)[at + 1] == "spd"
    assert after.arrangement.placement("spd-backup").way == 6


def test_what_no_rule_allows_is_told() -> None:
    # Between the back-up and the SPD nothing may stand: their lead would pass it.
    after = put("semi", "way-boiler", 2)

    assert after.faults == faults(after.arrangement)
    assert "SPD does not stand beside its back-up" in after.faults[0]


def test_on_a_comb_a_device_must_meet_a_tooth_of_its_own_phase() -> None:
    before = home("three-phase").chosen.arrangement
    one = next(p for p in before.placements if p.item.phase == "L1")

    # The next way has the tooth of another phase (the comb repeats L1, L2, L3).
    after = put("three-phase", one.item.id, one.way + 1)

    assert any("tooth" in fault or "overlap" in fault for fault in after.faults)


@pytest.mark.parametrize("name", ["semi", "semi-split", "flat"])
def test_no_legal_move_pays_less_than_the_proven_best(name: str) -> None:
    chosen = home(name).chosen
    best: BoardPlan = chosen.board
    fresh = arrange(best, home(name).job.wishes)
    tried = 0
    for placement in fresh.placements:
        for way in range(1, fresh.enclosure.modules):
            after = put(name, placement.item.id, way)
            if not after.faults and after.arrangement.preferences:
                tried += 1
                assert paid(after.arrangement) >= paid(fresh), (placement.item.id, way)
    assert tried > 20


def test_a_device_that_is_not_there_is_refused() -> None:
    with pytest.raises(FieldError):
        put("semi", "way-nobody", 3)
