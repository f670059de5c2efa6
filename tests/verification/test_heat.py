"""Heat in the enclosure: rated diversity by the maker or the standard's default, neighbours."""

from dataclasses import replace

import pytest

from boardwright.board.results import Arrangement, Item, Placement, Role, Scheme
from boardwright.catalogue.devices import Kind
from boardwright.core.findings import Known, Verdict
from boardwright.verification.facts import Facts
from boardwright.verification.heat import (
    diversity_factor,
    heavy_neighbours,
    loss_w,
    rated_diversity,
)
from tests.circuits.build import home, raw_circuit
from tests.verification.circuit_facts import board, device, facts, found, rcbo, verdict


def _way(name: str, *, in_a: float, ib_a: float, lasts: bool = True) -> Item:
    fitted = rcbo(id=f"rcbo-{name}", in_a=in_a, loss_w=4.0)
    return Item(
        f"way-{name}", Role.CIRCUIT, fitted, name, circuit_id=name, ib_a=ib_a, continuous=lasts
    )


def _placed(*items: Item, modules: tuple[int, ...]) -> Facts:
    plan = board(*items)
    places = tuple(
        Placement(item, 0, module, module, 0, 0)
        for item, module in zip(items, modules, strict=True)
    )
    arrangement = Arrangement(Scheme.NEW_BOARD, plan.enclosure, places, 0, (), proven=True, gap=0)
    return replace(facts(home([raw_circuit()]), plan), arrangement=arrangement)


@pytest.mark.parametrize(
    ("count", "factor"),
    [(1, 1.0), (2, 0.8), (3, 0.8), (4, 0.7), (5, 0.7), (6, 0.6), (9, 0.6), (10, 0.5), (30, 0.5)],
)
def test_the_default_goes_by_the_number_of_circuits(count: int, factor: float) -> None:
    """BS EN 61439-3 Table 101, from memory."""
    plan = board(*(_way(f"c{n}", in_a=20, ib_a=5) for n in range(count)))
    found_factor, rule = diversity_factor(facts(home([raw_circuit()]), plan), plan)

    assert found_factor == factor
    assert rule.known is Known.MEMORY


def test_the_makers_factor_goes_first() -> None:
    plan = board(*(_way(f"c{n}", in_a=20, ib_a=5) for n in range(10)), rdf=0.8)

    assert diversity_factor(facts(home([raw_circuit()]), plan), plan)[0] == 0.8


@pytest.mark.parametrize(
    ("in_a", "ib_a", "lasts", "expected"),
    [
        (32, 32, True, Verdict.ADVISE),
        (40, 32, True, Verdict.PASS),
        (32, 25.6, True, Verdict.PASS),
        (32, 32, False, Verdict.PASS),
    ],
)
def test_a_charging_point_of_32_a_wants_more_than_its_own_rating(
    in_a: float, ib_a: float, *, lasts: bool, expected: Verdict
) -> None:
    """Two circuits: 0.8 of the rating for hours; 25.6 A on 32 A, 32 A on 40 A."""
    plan = board(_way("ev", in_a=in_a, ib_a=ib_a, lasts=lasts), _way("l", in_a=6, ib_a=1))
    finding = found(rated_diversity, facts(home([raw_circuit()]), plan))

    assert finding.verdict is expected
    assert ("ev: " in finding.message) is (expected is Verdict.ADVISE)


def test_loss_falls_with_the_square_of_the_load() -> None:
    """BS EN 60898-1: loss per pole at rated current; half the current, a quarter of the loss."""
    assert loss_w(_way("c", in_a=32, ib_a=16)) == pytest.approx(1.0)
    switch = Item("main-switch", Role.MAIN_SWITCH, device(Kind.MAIN_SWITCH, loss_w=4), "Switch")
    assert loss_w(switch) == 4


@pytest.mark.parametrize(
    ("modules", "expected"), [((0, 1), Verdict.ADVISE), ((0, 2), Verdict.PASS)]
)
def test_heavy_neighbours_are_named(modules: tuple[int, int], expected: Verdict) -> None:
    """Spacing of heavy continuous loads: IET journal on rated diversity; the figure is practice."""
    pair = (_way("ev", in_a=40, ib_a=32), _way("pump", in_a=32, ib_a=20))
    finding = found(heavy_neighbours, _placed(*pair, modules=modules))

    assert finding.verdict is expected
    assert "ev" in finding.message
    assert "pump" in finding.message


def test_a_light_load_beside_a_heavy_one_is_no_neighbour_to_speak_of() -> None:
    pair = (_way("ev", in_a=40, ib_a=32), _way("lights", in_a=6, ib_a=2))

    assert list(heavy_neighbours(_placed(*pair, modules=(0, 1)))) == []
    short = (_way("ev", in_a=40, ib_a=32), _way("shower", in_a=45, ib_a=41, lasts=False))
    assert list(heavy_neighbours(_placed(*short, modules=(0, 1)))) == []


def test_a_board_that_stays_is_not_judged() -> None:
    plan = board(_way("ev", in_a=32, ib_a=32), scheme=Scheme.SEPARATE_BOX)

    assert list(rated_diversity(facts(home([raw_circuit()]), plan))) == []
    assert verdict(rated_diversity, facts(home([raw_circuit()]), board())) is Verdict.PASS
