"""What goes into an enclosure, and what is said where something is missing."""

from dataclasses import replace

import pytest

from boardwright.board.arrange import arrange
from boardwright.board.legal import faults
from boardwright.board.plan import plan_board
from boardwright.board.results import BoardPlan, Role, Scheme
from boardwright.circuits.results import AfddNeed
from boardwright.job.board import ExistingDevice
from tests.board.boards import catalogue
from tests.board.homes import circuit_plan, home, planned, spd_for, wishing, with_board
from tests.board.test_offer import HALF_FULL


def _roles(board: BoardPlan) -> list[Role]:
    return [item.role for item in board.items]


@pytest.mark.parametrize("name", ["semi", "semi-split", "cottage", "flat"])
def test_every_circuit_has_a_device_that_the_maker_allows(name: str) -> None:
    job = home(name)

    board = planned(job)

    assert board.missing == ()
    ways = [item for item in board.items if item.role is Role.CIRCUIT]
    assert [item.circuit_id for item in ways] == [circuit.id for circuit in job.circuits]
    for item in board.items:
        assert board.enclosure.family in item.device.permitted_families
    plan = circuit_plan(job)
    for item in ways:
        asked = plan.circuit(item.circuit_id).protection
        assert (item.device.in_a, item.device.curve) == (asked.in_a, asked.curve)
        assert item.section or item.device.idn_a == asked.idn_a


@pytest.mark.parametrize("name", ["semi", "semi-split", "cottage", "flat", "three-phase"])
def test_the_homes_are_arranged_legally_and_proven(name: str) -> None:
    found = arrange(planned(home(name)), home(name).wishes)

    assert faults(found) == ()
    assert found.proven
    assert found.left_out == ()
    assert found.spare_modules >= home(name).wishes.spare_ways


def test_a_metal_board_on_tt_gets_a_time_delayed_rcd_ahead_of_all() -> None:
    board = planned(home("cottage"), enclosure_id="ravel-r1-18")

    (incomer,) = [item for item in board.items if item.role is Role.INCOMER_RCD]
    assert incomer.device.time_delayed
    fuse_a = home("cottage").supply.cutout_fuse_a
    assert incomer.device.in_a is not None
    assert fuse_a is not None
    assert incomer.device.in_a >= fuse_a
    found = arrange(board, home("cottage").wishes)
    # Ahead of it stand the main switch and the SPD, and nothing else.
    way = found.placement("incomer-rcd").way
    ahead = {p.item.role for p in found.placements if p.way < way}
    assert ahead <= {Role.MAIN_SWITCH, Role.SPD, Role.SPD_BACKUP}


def test_an_insulated_incoming_side_needs_none() -> None:
    board = planned(home("cottage"), enclosure_id="tarn-t3-22-ii")

    assert Role.INCOMER_RCD not in _roles(board)
    assert any("Class II" in reason for reason in board.reasons)


def test_on_tn_there_is_none() -> None:
    assert Role.INCOMER_RCD not in _roles(planned(home("semi")))


def test_a_split_board_has_an_rcd_and_a_bar_for_each_section() -> None:
    board = planned(home("semi-split"))

    rcds = [item for item in board.items if item.role is Role.SECTION_RCD]
    bars = {bar.section for bar in board.enclosure.bars if bar.section}
    assert [item.id for item in rcds] == ["rcd-a", "rcd-b"]
    assert {item.section for item in rcds} == bars


def test_a_board_without_section_bars_is_no_split_board() -> None:
    board = planned(home("semi-split"), enclosure_id="ravel-r1-24")

    assert any("no neutral bar for each section" in reason for reason in board.missing)


def test_a_rating_that_nobody_makes_is_missing_by_name() -> None:
    job = home("semi")
    plan = circuit_plan(job)
    odd = replace(plan.circuits[0], protection=replace(plan.circuits[0].protection, in_a=33.0))
    plan = replace(plan, circuits=(odd, *plan.circuits[1:]))
    enclosure = catalogue().enclosures["ravel-r1-24"]

    board = plan_board(Scheme.NEW_BOARD, enclosure, job, plan, spd_for(job, enclosure), catalogue())

    (missing,) = board.missing
    assert missing.startswith(f"{job.circuits[0].name}: no RCBO B33")


def test_an_afdd_stands_where_the_law_asks_for_one() -> None:
    job = home("flat")
    plan = circuit_plan(job)
    asked = {c.id for c in plan.circuits if c.protection.afdd is AfddNeed.REQUIRED}
    asked |= {c.id for c in job.circuits if c.wanted.afdd == "yes"}

    fitted = {i.circuit_id for i in planned(job).items if i.device.kind.value == "AFDD"}

    assert asked
    assert fitted == asked


def test_a_board_too_small_says_by_how_much() -> None:
    board = planned(wishing(home("semi"), enclosure="ravel-r1-12"))

    assert "4 too many" in board.missing[0]


def test_fewer_spare_ways_than_wished_for_send_on_to_the_next_size() -> None:
    job = home("semi")

    assert planned(job, enclosure_id="ravel-r1-16").missing[0].startswith("Spare ways: 0 modules")
    assert planned(job, enclosure_id="ravel-r1-18").missing == ()
    # Where no larger one is made there is nothing to be sent on to.
    assert planned(wishing(job, spare_ways=40), enclosure_id="ravel-r1-24").missing == ()


def test_the_box_holds_the_spd_alone() -> None:
    board = planned(home("cottage"), Scheme.SEPARATE_BOX)

    assert set(_roles(board)) <= {Role.SPD, Role.SPD_BACKUP}
    assert board.enclosure.purpose == "SPD box"


def test_in_spare_ways_all_that_was_found_stays() -> None:
    job = wishing(with_board(home("cottage"), HALF_FULL), board="keep")

    board = planned(job, Scheme.SPARE_WAYS)
    found = arrange(board, job.wishes)

    assert faults(found) == ()
    kept = {p.item.found_way: p.way for p in found.placements if p.item.role is Role.AS_FOUND}
    assert kept == {1: 1, 2: 2, 3: 3, 5: 5, 6: 6}
    assert found.placement("spd").way >= 7


def test_free_ways_in_the_wrong_places_are_told_of() -> None:
    devices = tuple(ExistingDevice(way=way, kind="MCB", in_a=16, curve="B") for way in (2, 4, 6, 9))
    existing = HALF_FULL.model_copy(update={"devices": devices})
    job = wishing(with_board(home("cottage"), existing), board="keep")
    enclosure = catalogue().enclosures["ravel-r1-12"]
    wide = spd_for(wishing(job, spd="ravel-spd-t12"), enclosure)
    assert wide.candidate is not None
    assert wide.candidate.device.modules == 3

    board = plan_board(Scheme.SPARE_WAYS, enclosure, job, circuit_plan(job), wide, catalogue())

    assert board.missing == ("Ways: no run of free ways is wide enough for SPD",)


def test_a_wish_that_cannot_be_met_is_told() -> None:
    board = planned(wishing(home("semi"), maker="Elder", hand="either"))

    assert board.missing == ()
    assert any(reason.startswith("Elder was wished for") for reason in board.reasons)


def test_on_three_phases_every_one_phase_way_has_its_phase() -> None:
    job = home("three-phase")

    board = planned(job)

    for item in board.items:
        if item.role is Role.CIRCUIT and item.device.phases == 1:
            assert item.phase == (job.circuit(item.circuit_id).phase or item.phase)
            assert item.phase in {"L1", "L2", "L3"}
