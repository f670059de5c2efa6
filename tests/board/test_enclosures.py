"""The enclosures that ship with the program: to scale, nothing outside, nothing in the way."""

import pytest
from pydantic import ValidationError

from boardwright.board.results import DEVICE_HEIGHT_MM
from boardwright.catalogue.devices import MODULE_MM
from boardwright.catalogue.enclosures import Bar, EnclosureType
from tests.board.boards import catalogue

ENCLOSURES = tuple(catalogue().enclosures.values())
UNITS = tuple(e for e in ENCLOSURES if e.purpose == "consumer unit")


@pytest.mark.parametrize("enclosure", ENCLOSURES, ids=lambda e: e.id)
def test_devices_bars_and_edges_keep_apart(enclosure: EnclosureType) -> None:
    half_mm = DEVICE_HEIGHT_MM / 2

    for bar in enclosure.bars:
        beside = bar.x_mm + bar.length_mm <= min(rail.x_mm for rail in enclosure.rails)
        for rail in enclosure.rails:
            assert beside or abs(bar.y_mm - rail.y_mm) >= half_mm + 20, bar.id
        assert 15 <= bar.y_mm <= enclosure.height_mm - 15
        assert bar.x_mm >= 15
        assert bar.x_mm + bar.length_mm <= enclosure.width_mm - 15
    for busbar in enclosure.busbars:
        rail = enclosure.rails[busbar.rail]
        below_mm = rail.y_mm - busbar.below_rail_mm
        bars_mm = [b.y_mm for b in enclosure.bars if b.conductor != "L" and b.y_mm < rail.y_mm]
        assert rail.y_mm - half_mm > below_mm > max(bars_mm)


@pytest.mark.parametrize("enclosure", UNITS, ids=lambda e: e.id)
def test_each_rail_has_what_its_ways_need(enclosure: EnclosureType) -> None:
    """A busbar on every rail; on further ones a lug that feeds it, at the busbar's height."""
    for number, rail in enumerate(enclosure.rails):
        assert any(busbar.rail == number for busbar in enclosure.busbars)
        lugs = [b for b in enclosure.bars if b.conductor == "L" and b.rail == number]
        assert len(lugs) == (number > 0)
        for lug in lugs:
            drops_mm = [b.below_rail_mm for b in enclosure.busbars if b.rail == number]
            assert lug.y_mm == rail.y_mm - drops_mm[0]


@pytest.mark.parametrize("enclosure", ENCLOSURES, ids=lambda e: e.id)
def test_the_rail_stands_in_the_middle(enclosure: EnclosureType) -> None:
    rail = enclosure.rails[0]

    right_mm = enclosure.width_mm - rail.x_mm - rail.modules * MODULE_MM

    assert right_mm == pytest.approx(rail.x_mm, abs=0.06)


@pytest.mark.parametrize("enclosure", UNITS, ids=lambda e: e.id)
def test_bars_have_a_terminal_for_every_way(enclosure: EnclosureType) -> None:
    switch = catalogue().devices[enclosure.main_switch].modules
    ways = enclosure.modules - switch
    earth = sum(b.count for b in enclosure.bars if b.conductor == "PE")
    neutral = sum(b.count for b in enclosure.bars if b.conductor == "N")

    # The earthing conductor and the main bonding come on top of the ways; the neutral of the
    # main switch on top of theirs.
    assert earth >= ways + 2
    assert neutral >= ways + 1


@pytest.mark.parametrize("enclosure", UNITS, ids=lambda e: e.id)
def test_terminal_1_and_the_tails_are_on_the_side_of_the_main_switch(
    enclosure: EnclosureType,
) -> None:
    middle_mm = enclosure.width_mm / 2
    tails = next(entry for entry in enclosure.entries if entry.purpose == "tails")
    last_mm = tails.at_mm + (tails.count - 1) * tails.pitch_mm

    for bar in (b for b in enclosure.bars if not b.section and b.count > 1):
        near_mm = abs(bar.terminal_x_mm(1) - tails.at_mm)
        assert near_mm < abs(bar.terminal_x_mm(bar.count) - tails.at_mm)
    assert (max(tails.at_mm, last_mm) < middle_mm) is (enclosure.hand == "left")


@pytest.mark.parametrize("enclosure", UNITS, ids=lambda e: e.id)
def test_cables_of_circuits_enter_above_modules(enclosure: EnclosureType) -> None:
    rail = enclosure.rails[0]
    entry = next(e for e in enclosure.entries if e.purpose == "circuits")

    for k in range(entry.count):
        steps = (entry.at_mm + k * entry.pitch_mm - rail.x_mm) / MODULE_MM - 0.5
        assert steps == pytest.approx(round(steps), abs=0.01)


def test_a_bar_is_numbered_from_the_end_named() -> None:
    left = Bar(id="b", conductor="N", x_mm=100, y_mm=30, pitch_mm=10, count=4)
    right = left.model_copy(update={"numbered_from": "right"})

    assert [left.terminal_x_mm(n) for n in (1, 4)] == [105, 135]
    assert [right.terminal_x_mm(n) for n in (1, 4)] == [135, 105]


def test_a_rail_longer_than_its_enclosure_is_refused_by_name() -> None:
    raw = catalogue().enclosures["ravel-r1-16"].model_dump()

    with pytest.raises(ValidationError, match=r"ravel-r1-16: rail 0 reaches 328\.4"):
        EnclosureType.model_validate({**raw, "width_mm": 300.0})
