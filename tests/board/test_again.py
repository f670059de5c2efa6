"""Places found once serve every SPD of the same shape, and no other board."""

from dataclasses import replace

from boardwright.board.again import again
from boardwright.board.arrange import arrange
from boardwright.board.results import BoardPlan, Item
from boardwright.job.board import Wishes
from tests.board.boards import BACKUP, SPD, SWITCH, board, circuit, device

WAYS = [circuit("c0", 32), circuit("c1", 6), circuit("c2", 16)]


def _with(spd: Item, ways: list[Item] = WAYS) -> BoardPlan:
    return board([SWITCH, BACKUP, spd, *ways])


def test_another_spd_of_the_same_shape_stands_where_the_search_would_put_it() -> None:
    first = _with(SPD)
    other = replace(SPD, device=SPD.device.model_copy(update={"id": "other", "price_gbp": 99.0}))
    plan = _with(other)

    found = again(arrange(first, Wishes()), first, plan)

    assert found == arrange(plan, Wishes())
    assert found is not None
    assert found.placement("spd").item.device.id == "other"


def test_a_wider_spd_or_another_way_is_searched_for_anew() -> None:
    first = _with(SPD)
    there = arrange(first, Wishes())

    assert again(there, first, _with(replace(SPD, device=device(3, None)))) is None
    assert again(there, first, _with(SPD, [circuit("c0", 40), *WAYS[1:]])) is None
    assert again(there, first, _with(SPD, WAYS[:2])) is None
