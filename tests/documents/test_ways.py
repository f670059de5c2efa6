"""The order of the ways on paper: every wish with its weight and cost, and how far proved."""

from __future__ import annotations

from dataclasses import replace

import pytest

from boardwright.board.arrange import arrange
from boardwright.design import Design
from boardwright.documents.lists import ways
from tests.board.test_given_up import WISHES, hard
from tests.documents.golden import example


def _with(design: Design, **changed: object) -> Design:
    order = replace(design.chosen.arrangement, **changed)  # type: ignore[arg-type]
    variants = (replace(design.chosen, arrangement=order), *design.variants[1:])
    return replace(design, variants=variants)


@pytest.mark.slow
def test_every_wish_stands_there_with_weight_and_cost_and_the_sum() -> None:
    design = example("semi-split")
    text = ways.build(design)

    for wish in design.chosen.arrangement.preferences:
        (line,) = [line for line in text.splitlines() if line.startswith(wish.name)]
        figures = line.removeprefix(wish.name).replace(",", "").split()
        assert float(figures[0]) == wish.weight
        assert float(figures[0]) * float(figures[1]) == float(figures[2]) == wish.cost
    total = sum(wish.cost for wish in design.chosen.arrangement.preferences)
    assert f"{total:,.0f}" in next(x for x in text.splitlines() if x.startswith("Together"))
    assert "Proven: no legal order pays less." in text


@pytest.mark.slow
def test_every_device_stands_in_the_order_of_its_way() -> None:
    design = example("three-phase")
    lines = ways.build(design).splitlines()
    by_way = sorted(design.chosen.arrangement.placements, key=lambda p: p.way)

    places = [next(n for n, line in enumerate(lines) if p.item.label in line) for p in by_way]

    assert places == sorted(places)


@pytest.mark.slow
def test_an_order_that_is_not_proven_says_how_far_it_is() -> None:
    given_up = arrange(hard(), WISHES, nodes=1)

    text = ways.build(_with(example("semi"), note=given_up.note, proven=False))

    assert f"not proven: another may pay up to {given_up.gap:.1%} less" in text
