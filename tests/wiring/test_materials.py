"""What goes on the van, counted by hand."""

import pytest

from boardwright.board.arrange import arrange
from boardwright.wiring.results import Origin
from boardwright.wiring.wire import wire
from tests.board.homes import edition, home, planned, spd_for
from tests.wiring.boards import picture, spare_ways, wired


def test_reels_hold_every_new_lead_with_waste_in_half_metres() -> None:
    wiring = wired(picture(3))
    found = {m.id: m for m in wiring.materials}
    tails_m = 1.5 + 0.112

    assert found["conductor-25-brown"].count == 2.0
    assert found["conductor-25-brown"].count >= tails_m * 1.15
    assert found["conductor-4-brown"].count == 0.5
    assert not any("2.5" in name for name in found), "cores of cables are not cut from a reel"


def test_devices_are_counted_and_the_main_switch_comes_with_its_enclosure() -> None:
    found = {m.id: m for m in wired(picture(3)).materials}

    assert found["rcbo"].count == 3
    assert found["picture"].unit == "piece"


def test_a_board_as_found_needs_only_the_spd_and_its_back_up() -> None:
    names = {m.id for m in wired(spare_ways(3)).materials}

    assert {"spd", "mcb"} <= names
    assert not {"rcbo", "picture", "gland"} & names


def test_the_device_of_a_new_circuit_on_a_board_as_found_is_bought() -> None:
    found = {m.id: m.count for m in wired(spare_ways(3, new=1)).materials}

    assert found["rcbo"] == 1


@pytest.mark.parametrize(("ways", "blanks"), [(3, 8), (11, None)])
def test_blanks_fill_the_spare_modules(ways: int, blanks: int | None) -> None:
    found = {m.id: m.count for m in wired(picture(ways)).materials}

    assert found.get("blank") == blanks


def test_the_cores_of_a_submain_are_there_already_and_not_bought() -> None:
    job = home("flat")
    board = planned(job)

    wiring = wire(arrange(board, job.wishes), job, spd_for(job, board.enclosure), edition())

    submain = [c for c in wiring.conductors if c.begin.terminal.startswith(("meter.", "met."))]
    assert [c.id for c in submain] == ["earthing", "tail-n", "tail-l"]
    assert all(c.origin is Origin.EXISTING and c.step for c in submain)
    reels = [m for m in wiring.materials if m.id.startswith("conductor-")]
    # What is cut stays inside the board: the submain is 22 m long, the enclosure 0.4 m wide.
    assert reels
    assert all(m.count < 2 for m in reels)
