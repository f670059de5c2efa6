"""Random boards of every kind against every lawful arrangement there is.

Comb and busbar, one to three rails, RCD sections, an RCD for all, ways that stay, weights at
random: legality and price are written from the words of docs/arrangement.md, apart from the
program's own.
"""

import random
from itertools import islice

import pytest

from boardwright.board.arrange import arrange
from boardwright.board.legal import faults
from boardwright.board.results import Role
from tests.board.boards import cost, place, starts_of
from tests.board.drawn import small_board
from tests.board.exhaustive import every_order, lawful


@pytest.mark.parametrize("seed", range(40))
def test_the_search_finds_the_cheapest_and_of_equals_the_first(seed: int) -> None:
    assert _found(seed) == _best(seed)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(40, 110))
def test_the_search_finds_the_cheapest_of_many_boards(seed: int) -> None:
    # The larger of these boards have too many columns for the first among equals to be sought.
    assert _found(seed)[0] == _best(seed)[0]


NONE = (-1, ())
"""What stands for a board that has no lawful order of all its devices."""


def _best(seed: int) -> tuple[float, tuple[int, ...]]:
    """Return cost and places of the cheapest of all orders, the first of those that cost it."""
    plan, wishes = small_board(seed)
    return min(((cost(plan, s, wishes), s) for s in every_order(plan)), default=NONE)


def _found(seed: int) -> tuple[float, tuple[int, ...]]:
    """Return cost and places that the search finds; the cost is negative where it is no answer."""
    plan, wishes = small_board(seed)
    found = arrange(plan, wishes)
    if found.left_out:
        return NONE
    starts = starts_of(plan, found)
    sound = found.proven and lawful(plan, starts) and not faults(found)
    return sum(wish.cost for wish in found.preferences) if sound else -2.0, starts


@pytest.mark.parametrize("seed", range(30))
def test_ways_that_a_person_gave_are_held_and_the_rest_is_the_cheapest(seed: int) -> None:
    plan, wishes = small_board(seed)
    orders = list(every_order(plan))
    if not orders:
        assert arrange(plan, wishes).left_out
        return
    draw = random.Random(seed)
    wanted = draw.choice(orders)
    free = [k for k, i in enumerate(plan.items) if i.circuit_id and i.fixed_module is None]
    held = draw.sample(free, min(len(free), 2))
    switch = sum(i.device.modules for i in plan.items if i.role is Role.MAIN_SWITCH)
    ways = {plan.items[k].circuit_id: wanted[k] - switch + 1 for k in held}
    asked = wishes.model_copy(update={"ways": ways})

    found = arrange(plan, asked)

    kept = [o for o in orders if all(o[k] == wanted[k] for k in held)]
    assert all(starts_of(plan, found)[k] == wanted[k] for k in held)
    assert sum(paid.cost for paid in found.preferences) == min(cost(plan, o, asked) for o in kept)


@pytest.mark.parametrize("seed", range(40))
def test_the_judge_refuses_no_order_that_is_lawful_by_the_page(seed: int) -> None:
    plan, _ = small_board(seed)

    for starts in islice(every_order(plan), 50):
        assert faults(place(plan, starts)) == ()
