"""Cut lengths and the SPD's leads, added up by hand."""

import math

import pytest

from boardwright.wiring.results import Conductor
from tests.wiring.boards import Home, beside, delayed, picture, spd_type, wired


def by_id(conductors: tuple[Conductor, ...]) -> dict[str, Conductor]:
    return {c.id: c for c in conductors}


def test_the_spd_leads_of_the_picture_added_up_by_hand() -> None:
    """Tap at the tooth, body of the back-up, arch to the SPD; neutral and earth to their bars.

    Which leads count: line tap to back-up to SPD and SPD to earth bar, the branch alone (the
    guide to surge protection in dwellings and the note on lengths that surge.md cites).
    """
    leads = wired(picture()).spd_leads
    assert leads is not None

    tooth_mm, body_mm, screws_mm = 50 - 34.5, 69.0, 7.5 + 7.5
    arch_mm = 8.0 + 17.8 + 8.0 - 2 * (2 - math.pi / 2) * 3
    earth_mm = (205 - 168) + 8.9 - 2 * (2 - math.pi / 2) * 4.45 + 7.5 + 4.5
    neutral_mm = (84 - 34) + 7.5 + 4.5
    assert leads.line_m * 1000 == pytest.approx(tooth_mm + body_mm + arch_mm + screws_mm)
    assert leads.pe_m * 1000 == pytest.approx(earth_mm)
    assert leads.neutral_m * 1000 == pytest.approx(neutral_mm)
    assert leads.total_m == leads.line_m + leads.pe_m


def test_earth_terminals_on_the_far_side_make_longer_leads() -> None:
    """The pin-out decides: a lead round the end of the rail instead of straight up."""
    near = wired(picture(spd=spd_type(earth="top"))).spd_leads
    far = wired(picture(spd=spd_type(earth="bottom"))).spd_leads

    assert near is not None
    assert far is not None
    assert far.pe_m > near.pe_m + 2 * 0.084


def test_leads_to_a_box_count_their_whole_way() -> None:
    """0.8 m outside each: line and earth together are past 1 m before they enter the box."""
    leads = wired(beside(), Home(box_lead_m=0.8)).spd_leads

    assert leads is not None
    assert leads.total_m > 1.6
    assert not leads.assumed


def test_an_unsurveyed_way_to_a_box_is_marked_assumed() -> None:
    leads = wired(beside()).spd_leads

    assert leads is not None
    assert leads.assumed


def test_without_an_own_back_up_the_line_begins_at_the_main_switch() -> None:
    found = wired(delayed())
    line = by_id(found.conductors)["spd-l"]

    assert line.begin.terminal == "main-switch.L-out"
    assert found.spd_leads is not None
    assert found.spd_leads.backup_m == 0
    assert found.spd_leads.line_m * 1000 == pytest.approx(line.route_mm + 15)


def test_cut_lengths_added_up_by_hand() -> None:
    """Route, both strips, allowance; tails and earthing conductor with their way outside."""
    found = by_id(wired(picture()).conductors)

    assert found["spd-n"].length_mm == pytest.approx(50 + 12 + 12 + 5)
    assert found["tail-l"].length_mm == pytest.approx(1500 + (258 - 168) + 12 + 10)
    assert found["earthing"].length_mm > 2000
    assert found["n-c0"].length_mm == pytest.approx(found["n-c0"].route_mm + 12)


def test_every_end_in_the_board_has_torque_and_strip() -> None:
    outside = ("meter.", "met.", "board.", "cable-")
    ends = [end for c in wired(picture()).conductors for end in (c.begin, c.end)]

    assert all((e.torque_nm is None) == e.terminal.startswith(outside) for e in ends)
    assert all((e.strip_mm is None) == e.terminal.startswith(outside) for e in ends)


def test_earth_comes_before_neutral_before_line_before_the_tails() -> None:
    """Order of wiring: practice.md 1.7, steps 8 to 10."""
    steps = by_id(wired(picture()).conductors)
    order = (
        "busbar",
        "earthing",
        "spd-pe",
        "x-c0-pe",
        "n-link",
        "spd-n",
        "n-c0",
        "x-c0-l",
        "spd-l",
    )
    numbers = [steps[name].step for name in (*order, "tail-n")]

    assert numbers == sorted(numbers)
    assert min(numbers) > 0
    assert steps["tail-l"].step > steps["tail-n"].step


def test_the_same_board_gives_the_same_wires() -> None:
    assert wired(picture()) == wired(picture())
