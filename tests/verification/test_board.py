"""The checks on the board, each seen to pass and to refuse."""

from dataclasses import replace
from typing import cast

import pytest

from boardwright.board.arrange import arrange
from boardwright.board.results import BoardPlan, Role, Scheme
from boardwright.core.findings import Finding, Verdict
from boardwright.job.job import Job
from boardwright.spd.need import surge_need
from boardwright.surge.study import SurgeStudy
from boardwright.verification import board as checks
from boardwright.verification import board_scheme as scheme_checks
from boardwright.verification.check import Check
from boardwright.verification.facts import Facts
from tests.board.boards import catalogue
from tests.board.homes import circuit_plan, edition, home, planned, spd_for, wishing, with_board
from tests.board.test_offer import HALF_FULL

# The checks of this room do not look at the surge study.
NO_STUDY = cast("SurgeStudy", None)


def _facts(job: Job, board: BoardPlan) -> Facts:
    return Facts(
        job=job,
        edition=edition(),
        catalogue=catalogue(),
        plan=circuit_plan(job),
        need=surge_need(job, edition()),
        spd=spd_for(job, board.enclosure),
        board=board,
        arrangement=arrange(board, job.wishes),
        wiring=None,
        study=NO_STUDY,
    )


def _semi(enclosure_id: str = "", **wishes: object) -> Facts:
    job = wishing(home("semi"), **wishes)
    return _facts(job, planned(job, enclosure_id=enclosure_id))


def _supply(facts: Facts, **update: object) -> Facts:
    supply = facts.job.supply.model_copy(update=update)
    return replace(facts, job=facts.job.model_copy(update={"supply": supply}))


def _enclosure(facts: Facts, **update: object) -> Facts:
    assert facts.board is not None
    changed = facts.board.enclosure.model_copy(update=update)
    return replace(facts, board=replace(facts.board, enclosure=changed))


def _one(check: Check, facts: Facts) -> Finding:
    (finding,) = check(facts)
    return finding


@pytest.mark.parametrize(
    "check",
    [
        checks.everything_fits,
        checks.every_device_is_of_the_family,
        checks.enclosure_does_not_burn,
        checks.assembly_carries_the_fuse,
        checks.main_switch_breaks_all_lines,
        checks.rail_is_legal,
        checks.spare_ways_remain,
    ],
)
def test_the_semi_passes(check: Check) -> None:
    finding = _one(check, _semi())

    assert finding.verdict is Verdict.PASS
    assert finding.remedy == ""
    assert finding.rule.clause


def test_a_board_too_small_names_the_smallest_that_would_do() -> None:
    finding = _one(checks.everything_fits, _semi("ravel-r1-12"))

    assert finding.verdict is Verdict.FAIL
    assert (finding.value, finding.limit) == (16, 12)
    assert "ravel-r1-16" in finding.remedy
    assert "Smoke alarms" in finding.message


def test_where_no_larger_board_is_made_the_spd_may_go_into_a_box() -> None:
    facts = _semi("ravel-r1-12")
    assert facts.board is not None
    largest = catalogue().enclosures["ravel-r1-2x18"]
    items = facts.board.items + facts.board.items[-1:] * 22
    crowded = replace(facts.board, enclosure=largest, items=items, missing=("Ways: full",))
    taken = sum(item.device.modules for item in crowded.items)
    assert 36 < taken <= 39, "the case is meant to overrun by less than the SPD's width"

    finding = _one(checks.everything_fits, replace(facts, board=crowded, arrangement=None))

    assert "box of its own" in finding.remedy


def test_a_board_that_stays_is_not_told_to_grow() -> None:
    job = wishing(with_board(home("cottage"), HALF_FULL), board="keep")
    facts = _facts(job, planned(job, Scheme.SPARE_WAYS))
    assert facts.board is not None
    wide = tuple(
        replace(i, device=i.device.model_copy(update={"modules": 5})) if i.id == "spd" else i
        for i in facts.board.items
    )
    board = replace(facts.board, items=wide)

    finding = _one(
        checks.everything_fits,
        replace(facts, board=board, arrangement=arrange(board, job.wishes)),
    )

    assert finding.verdict is Verdict.FAIL
    assert "box beside the board" in finding.remedy


def test_a_device_of_another_family_is_named() -> None:
    facts = _semi()
    assert facts.board is not None
    stranger = replace(facts.board.items[-1], device=catalogue().devices["tarn-rcbo-b6"])
    mixed = replace(facts.board, items=(*facts.board.items[:-1], stranger))

    finding = _one(checks.every_device_is_of_the_family, replace(facts, board=mixed))

    assert finding.verdict is Verdict.FAIL
    assert finding.rule.clause == "510.3 and 536.4.203"
    assert finding.subject == stranger.label


def test_a_combustible_enclosure_fails() -> None:
    finding = _one(checks.enclosure_does_not_burn, _semi("ravel-r1-12-moulded"))

    assert finding.verdict is Verdict.FAIL
    assert finding.rule.clause == "421.1.201"


@pytest.mark.parametrize(
    ("combustible", "verdict"), [("yes", Verdict.ADVISE), (None, Verdict.UNKNOWN)]
)
def test_a_combustible_board_that_stays_is_told_of(
    combustible: str | None, verdict: Verdict
) -> None:
    existing = HALF_FULL.model_copy(update={"combustible": combustible})
    job = with_board(home("cottage"), existing)
    facts = _facts(job, planned(job, Scheme.SEPARATE_BOX))

    box, kept = checks.enclosure_does_not_burn(facts)

    assert box.verdict is Verdict.PASS
    assert kept.verdict is verdict


@pytest.mark.parametrize(
    ("fuse_a", "ina_a", "verdict"),
    [
        (100, 100, Verdict.PASS),
        (80, 100, Verdict.PASS),
        (100, 80, Verdict.FAIL),
        (None, 100, Verdict.UNKNOWN),
    ],
)
def test_the_fuse_ahead_is_held_against_ina(
    fuse_a: float | None, ina_a: float, verdict: Verdict
) -> None:
    facts = _enclosure(_supply(_semi(), cutout_fuse_a=fuse_a), ina_a=ina_a)

    assert _one(checks.assembly_carries_the_fuse, facts).verdict is verdict


def test_devices_that_sum_below_ina_do_as_well_as_a_small_fuse() -> None:
    """BS 7671, 536.4.202: the sum of the outgoing devices is one of the ways to comply."""
    facts = _enclosure(_semi(), ina_a=63)
    assert facts.board is not None
    few = tuple(i for i in facts.board.items if i.role is not Role.CIRCUIT)
    lights = tuple(i for i in facts.board.items if i.device.in_a == 6)
    assert lights

    finding = _one(
        checks.assembly_carries_the_fuse,
        replace(facts, board=replace(facts.board, items=few + lights)),
    )

    assert finding.verdict is Verdict.PASS
    assert finding.value == 6 * len(lights)


@pytest.mark.parametrize(
    ("poles", "phases", "system", "verdict"),
    [
        (2, 1, "TN-S", Verdict.PASS),
        (1, 1, "TN-S", Verdict.FAIL),
        (4, 3, "TN-S", Verdict.PASS),
        (3, 3, "TN-S", Verdict.ADVISE),
        (3, 3, "TT", Verdict.FAIL),
        (2, 3, "TN-S", Verdict.FAIL),
    ],
)
def test_the_main_switch_breaks_every_live_conductor(
    poles: int, phases: int, system: str, verdict: Verdict
) -> None:
    facts = _supply(_semi(), phases=phases, system=system)
    assert facts.board is not None
    switch, *others = facts.board.items
    device = switch.device.model_copy(update={"poles": poles})
    changed = replace(facts.board, items=(replace(switch, device=device), *others))

    finding = _one(checks.main_switch_breaks_all_lines, replace(facts, board=changed))

    assert finding.verdict is verdict


def test_a_switch_that_nobody_looked_at_is_not_known() -> None:
    existing = HALF_FULL.model_copy(update={"main_switch_poles": None})
    job = wishing(with_board(home("cottage"), existing), board="keep")
    facts = _facts(job, planned(job, Scheme.SPARE_WAYS))

    assert _one(checks.main_switch_breaks_all_lines, facts).verdict is Verdict.UNKNOWN


def test_a_device_out_of_place_fails_before_the_judge() -> None:
    facts = _semi()
    assert facts.arrangement is not None
    first, *others = facts.arrangement.placements
    shifted = replace(first, x_mm=first.x_mm + 9, module=first.module)
    wrong = replace(facts.arrangement, placements=(shifted, *others))

    found = list(checks.rail_is_legal(replace(facts, arrangement=wrong)))

    assert found
    assert {finding.verdict for finding in found} == {Verdict.FAIL}


def test_fewer_spare_ways_than_wished_for_are_advice() -> None:
    finding = _one(checks.spare_ways_remain, _semi("ravel-r1-16"))

    assert finding.verdict is Verdict.ADVISE
    assert (finding.value, finding.limit) == (0, 2)


def _cottage(enclosure_id: str) -> Facts:
    return _facts(home("cottage"), planned(home("cottage"), enclosure_id=enclosure_id))


def _without_incomer(facts: Facts) -> Facts:
    assert facts.board is not None
    items = tuple(i for i in facts.board.items if i.role is not Role.INCOMER_RCD)
    return replace(facts, board=replace(facts.board, items=items))


def test_a_metal_board_on_tt_is_judged_by_what_stands_ahead() -> None:
    delayed, insulated = _cottage("ravel-r1-18"), _cottage("tarn-t3-22-ii")

    assert _one(scheme_checks.metal_board_on_tt, delayed).verdict is Verdict.PASS
    assert _one(scheme_checks.metal_board_on_tt, insulated).verdict is Verdict.PASS
    bare = _one(scheme_checks.metal_board_on_tt, _without_incomer(delayed))
    assert bare.verdict is Verdict.FAIL
    assert bare.rule.clause == "531.3.5.3.2"
    assert "time-delayed" in bare.remedy


def test_an_insulated_side_is_not_enough_where_a_circuit_has_no_rcd() -> None:
    facts = _cottage("tarn-t3-22-ii")
    assert facts.board is not None
    *others, last = facts.board.items
    breaker = replace(last, device=catalogue().devices["tarn-mcb-b6"])
    changed = replace(facts.board, items=(*others, breaker))

    finding = _one(scheme_checks.metal_board_on_tt, replace(facts, board=changed))

    assert finding.verdict is Verdict.FAIL


def test_tn_is_not_asked() -> None:
    assert list(scheme_checks.metal_board_on_tt(_semi())) == []


@pytest.mark.parametrize(
    ("metal", "insulated", "verdict"),
    [
        ("yes", "no", Verdict.ADVISE),
        ("yes", "yes", Verdict.PASS),
        ("no", None, Verdict.PASS),
        (None, None, Verdict.UNKNOWN),
    ],
)
def test_a_board_that_stays_on_tt_is_judged_as_found(
    metal: str | None, insulated: str | None, verdict: Verdict
) -> None:
    existing = HALF_FULL.model_copy(update={"metal": metal, "class_ii_incomer": insulated})
    job = with_board(home("cottage"), existing)
    facts = _facts(job, planned(job, Scheme.SEPARATE_BOX))

    assert _one(scheme_checks.metal_board_on_tt, facts).verdict is verdict


@pytest.mark.parametrize(
    ("lead_m", "verdict"),
    [(0.2, Verdict.PASS), (0.25, Verdict.PASS), (0.8, Verdict.ADVISE), (None, Verdict.UNKNOWN)],
)
def test_a_box_must_hang_close(lead_m: float | None, verdict: Verdict) -> None:
    """Half a metre there and back is what the leads may have (534.4.8)."""
    job = wishing(home("cottage"), separate_box_lead_m=lead_m)
    facts = _facts(job, planned(job, Scheme.SEPARATE_BOX))

    assert _one(scheme_checks.box_hangs_close, facts).verdict is verdict


def test_every_check_is_silent_without_a_board() -> None:
    facts = replace(_semi(), board=None, arrangement=None)

    for check in (
        checks.everything_fits,
        checks.every_device_is_of_the_family,
        checks.enclosure_does_not_burn,
        checks.assembly_carries_the_fuse,
        checks.main_switch_breaks_all_lines,
        checks.rail_is_legal,
        checks.spare_ways_remain,
        scheme_checks.metal_board_on_tt,
        scheme_checks.box_hangs_close,
    ):
        assert list(check(facts)) == []


def test_an_spd_that_no_maker_allows_sends_on_to_one_that_is_or_to_a_box() -> None:
    facts = _semi("ravel-r1-24")
    assert facts.board is not None
    barred = replace(facts.board, missing=("SPD: its maker does not allow x in ravel-r1",))
    nowhere = facts.board.enclosure.model_copy(update={"family": "nobody-s"})

    named = _one(checks.everything_fits, replace(facts, board=barred))
    boxed = _one(checks.everything_fits, replace(facts, board=replace(barred, enclosure=nowhere)))

    assert "ravel-spd-" in named.remedy
    assert "box of its own" in boxed.remedy
