"""The checks on the wires: each can pass, and each can be made to fail."""

from dataclasses import replace

import pytest

from boardwright.core.findings import Finding, Verdict
from boardwright.verification.wiring import (
    bend_room_mm,
    bends_wide_enough,
    cores_reach,
    every_terminal_joined,
    lanes_not_crowded,
    makers_leads_reach,
    terminals_take_their_conductors,
)
from tests.wiring.boards import (
    MAIN_SWITCH,
    NEUTRAL_BAR,
    Home,
    arrangement,
    delayed,
    enclosure,
    facts,
    item,
    picture,
    split,
    way,
    wired,
    without,
)


def verdicts(found: list[Finding]) -> set[Verdict]:
    return {finding.verdict for finding in found}


def test_the_picture_passes() -> None:
    given = facts(picture())
    for run in (terminals_take_their_conductors, every_terminal_joined, cores_reach):
        assert verdicts(list(run(given))) == {Verdict.PASS}, run.__name__
    assert verdicts(list(makers_leads_reach(given))) == {Verdict.PASS}
    assert verdicts(list(lanes_not_crowded(given))) == {Verdict.PASS}


def test_a_conductor_too_thick_for_its_terminal_fails() -> None:
    bar = NEUTRAL_BAR.model_copy(update={"capacity_mm2": 10.0, "first_capacity_mm2": 10.0})
    board = picture(1)
    small = arrangement(
        [(p.module, p.item) for p in board.placements],
        enclosure(bars=(bar, board.enclosure.bars[1])),
    )

    found = list(terminals_take_their_conductors(facts(small)))

    (failed,) = [f for f in found if f.verdict is Verdict.FAIL]
    assert (failed.value, failed.limit) == (16, 10)


def test_unlike_conductors_in_one_terminal_are_left_to_the_maker() -> None:
    """Different sizes together are where a clamp fails: practice.md 3, question 16."""
    found = {f.subject_id: f for f in terminals_take_their_conductors(facts(delayed()))}

    assert found["main-switch.L-out"].verdict is Verdict.ADVISE
    assert "16 + 4" in found["main-switch.L-out"].message


@pytest.mark.parametrize("name", ["spd-pe", "n-link", "tail-l", "x-c0-n", "n-c1"])
def test_a_missing_conductor_is_seen(name: str) -> None:
    board = picture(2)
    gone = next(c for c in wired(board).conductors if c.id == name)
    given = facts(board, wiring=without(wired(board), name))

    found = [f for f in every_terminal_joined(given) if f.verdict is Verdict.FAIL]

    names = {f.subject_id for f in found}
    assert names
    assert names <= set(gone.terminals)


def test_a_board_without_neutral_bar_leaves_terminals_open() -> None:
    board = arrangement(
        [(0, item("main-switch", picture().placements[0].item.role, MAIN_SWITCH)), (2, way("c0"))],
        enclosure(bars=()),
    )
    found = {f.subject_id for f in every_terminal_joined(facts(board)) if f.verdict is Verdict.FAIL}

    assert {"main-switch.N-out", "way-c0.N-in"} <= found


@pytest.mark.parametrize(
    ("reach_mm", "verdict"),
    [(600.0, Verdict.PASS), (60.0, Verdict.FAIL), (None, Verdict.UNKNOWN)],
)
def test_free_core_length_decides(reach_mm: float | None, verdict: Verdict) -> None:
    given = facts(picture(2), Home(reach_mm=reach_mm))

    assert verdicts(list(cores_reach(given))) == {verdict}


def test_a_makers_lead_that_is_too_short_fails() -> None:
    board = picture(1)
    short = replace(next(c for c in wired(board).conductors if c.id == "n-c0"), length_mm=451)
    given = facts(board, wiring=replace(wired(board), conductors=(short,)))

    assert verdicts(list(makers_leads_reach(given))) == {Verdict.FAIL}


def test_a_step_is_one_curve_over_its_height() -> None:
    """Two arcs of radius R shift by d over h where h² = 4Rd - d²: plane geometry."""
    board = picture(1)
    lead = next(c for c in wired(board).conductors if c.id == "earthing")
    step_mm = abs(lead.path[1][0] - lead.path[2][0])
    height_mm = lead.path[0][1] - lead.path[-1][1]

    radius_mm = bend_room_mm(lead)

    assert height_mm**2 == pytest.approx(4 * radius_mm * step_mm - step_mm**2)


def test_tight_bends_of_thick_conductors_are_advised() -> None:
    """Least radius 3 and 4 times the diameter up to 10 mm and above: cable makers, from memory."""
    (found,) = bends_wide_enough(facts(split()))

    assert found.verdict is Verdict.ADVISE
    assert found.value is not None
    assert found.limit is not None
    assert found.value < found.limit


def test_crowded_lanes_are_advised() -> None:
    """Least pitch 3.0 mm: the project's page on its look, "Routes"."""
    board = picture(3)
    lead = next(c for c in wired(board).conductors if c.id == "n-link")
    moved = replace(lead, id="other", path=tuple((x, y - 2, z) for x, y, z in lead.path))
    given = facts(board, wiring=replace(wired(board), conductors=(lead, moved)))

    (found,) = lanes_not_crowded(given)

    assert found.verdict is Verdict.ADVISE
    assert found.value == 2.0
