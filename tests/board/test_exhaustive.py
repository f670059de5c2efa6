"""Random boards of every kind against every lawful arrangement there is.

Comb and busbar, one to three rails, RCD sections, an RCD for all, ways that stay, weights at
random: legality and price are written from the words of docs/arrangement.md, apart from the
program's own.
"""

from itertools import islice

import pytest

from boardwright.board.arrange import arrange
from boardwright.board.legal import faults
from tests.board.boards import cost, place, starts_of
from tests.board.drawn import small_board
from tests.board.exhaustive import every_order, lawful


@pytest.mark.parametrize("seed", range(40))
def test_the_search_finds_the_cheapest_and_of_equals_the_first(seed: int) -> None:
    _compare(seed)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(40, 110))
def test_the_search_finds_the_cheapest_of_hundreds_of_boards(seed: int) -> None:
    _compare(seed)


def _compare(seed: int) -> None:
    plan, wishes = small_board(seed)
    priced = [(cost(plan, starts, wishes), starts) for starts in every_order(plan)]

    found = arrange(plan, wishes)

    # What the search leaves out cannot stand: there is no lawful order of all.
    assert bool(found.left_out) is not bool(priced)
    if priced:
        paid = sum(wish.cost for wish in found.preferences)
        assert (paid, starts_of(plan, found)) == min(priced)
        assert found.proven
        assert lawful(plan, starts_of(plan, found))
    assert faults(found) == ()


@pytest.mark.parametrize("seed", range(40))
def test_the_judge_refuses_no_order_that_is_lawful_by_the_page(seed: int) -> None:
    plan, _ = small_board(seed)

    for starts in islice(every_order(plan), 50):
        assert faults(place(plan, starts)) == ()
