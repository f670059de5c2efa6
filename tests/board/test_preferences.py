"""The weights of the board's preferences: named in the job, told in the answer, on the page."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from boardwright.board.arrange import arrange
from boardwright.board.preferences import PREFERENCES
from boardwright.core.errors import BoardwrightError
from boardwright.job.board import Preferences, Wishes
from boardwright.job.read import parse_job
from tests.board.boards import BACKUP, SPD, SWITCH, board, circuit
from tests.board.homes import home, planned
from tests.job.homes import HOME

PAGE = (Path(__file__).parents[2] / "docs" / "arrangement.md").read_text()
ROWS = {
    key: (wish, int(weight))
    for key, wish, weight in re.findall(
        r"^\| `(\w+)` \| ([^|]+) \| [^|]+ \| (\d+) \|$", PAGE, re.MULTILINE
    )
}


def test_the_page_lists_every_key_of_the_job() -> None:
    assert set(ROWS) == set(Preferences.model_fields)


def test_the_answer_names_each_wish_with_the_words_and_weight_of_the_page() -> None:
    job = home("semi-split")

    told = {p.key: (p.name, p.weight) for p in arrange(planned(job), job.wishes).preferences}

    assert told == ROWS


def test_without_sections_their_balance_is_not_told_of() -> None:
    job = home("semi")

    told = {paid.key for paid in arrange(planned(job), job.wishes).preferences}

    assert told == {wish.key for wish in PREFERENCES}


def test_another_weight_gives_another_order() -> None:
    small = circuit("small", 6, found_way=1)
    large = circuit("large", 40, found_way=2)
    plan = board([SWITCH, BACKUP, SPD, small, large])

    usual = arrange(plan, Wishes())
    kept = arrange(plan, Wishes(preferences=Preferences(order_kept=200)))

    assert usual.placement("way-large").way < usual.placement("way-small").way
    assert kept.placement("way-small").way < kept.placement("way-large").way


def test_a_short_cable_draws_its_way_to_where_it_comes_in() -> None:
    """Three ways; the small circuit was first. With little free core it stays there."""
    first = circuit("first", 6, found_way=1)
    others = [circuit("b", 32, found_way=2), circuit("c", 32, found_way=3)]
    short = replace(first, reach_mm=258.0 - 30.0 + 20.0)

    def way_of(item: object) -> int:
        plan = board([SWITCH, BACKUP, SPD, item, *others])  # type: ignore[list-item]
        return arrange(plan, Wishes()).placement("way-first").way

    assert way_of(first) == 6
    assert way_of(short) == 4


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("{spd_neer: 5}", "spd_near"),
        ("{spd_near: 1001}", "from 0 to 1000"),
        ("{spd_near: -1}", "from 0 to 1000"),
        ("{order_kept: 2.5}", "whole number"),
    ],
)
def test_a_weight_that_cannot_be_is_told_with_its_field(written: str, said: str) -> None:
    wishes = "wishes: {board: compare"
    assert wishes in HOME
    text = HOME.replace(wishes, f"{wishes}, preferences: {written}")

    with pytest.raises(BoardwrightError) as raised:
        parse_job(text, "home.yaml")

    assert "wishes.preferences" in str(raised.value)
    assert said in str(raised.value)
