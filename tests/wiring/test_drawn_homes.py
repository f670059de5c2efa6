"""Homes drawn at random, wired, and judged by what knows nothing of how they were wired."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import dist

import pytest

from boardwright.board.legal import faults
from boardwright.board.rails import Rails
from boardwright.board.results import Placement, Role, Scheme
from boardwright.core.findings import Verdict
from boardwright.verification.wiring import terminals_take_their_conductors
from boardwright.wiring.results import Conductor, SpdLeads, Wiring
from boardwright.wiring.wire import wire
from tests.board.homes import edition
from tests.wiring.boards import facts, split, wired, without
from tests.wiring.drawn import Drawn, drawn_home
from tests.wiring.judged import in_front, overfilled, wiring_faults

SEEDS = range(60)
home = cache(drawn_home)


def _faults(drawn: Drawn) -> list[str]:
    earthless = {c.id for c in drawn.job.circuits if c.cable.cpc_mm2 == 0}
    return wiring_faults(drawn.arrangement, drawn.wiring, frozenset(earthless))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_meter_and_a_tape_find_nothing_wrong(seed: int) -> None:
    drawn = home(seed)

    assert faults(drawn.arrangement) == ()
    assert _faults(drawn) == []


@pytest.mark.slow
@pytest.mark.parametrize("begin", range(60, 400, 20))
def test_nor_in_many_more(begin: int) -> None:
    assert [
        (seed, _faults(home(seed))) for seed in range(begin, begin + 20) if _faults(home(seed))
    ] == []


@pytest.mark.parametrize("seed", SEEDS)
def test_an_overfilled_terminal_is_a_finding_and_nothing_else_is(seed: int) -> None:
    drawn = home(seed)
    found = terminals_take_their_conductors(facts(drawn.arrangement, wiring=drawn.wiring))

    told = {f.subject_id for f in found if f.verdict is Verdict.FAIL}
    assert told == overfilled(drawn.arrangement, drawn.wiring)


@pytest.mark.parametrize("seed", SEEDS)
def test_an_spd_stands_with_its_back_up_or_not_at_all(seed: int) -> None:
    drawn = home(seed)
    roles = {p.item.role for p in drawn.arrangement.placements}

    if Role.SPD_BACKUP in roles or drawn.arrangement.scheme is Scheme.SEPARATE_BOX:
        assert Role.SPD in roles


@pytest.mark.parametrize("seed", SEEDS)
def test_the_leads_of_the_spd_counted_with_a_tape(seed: int) -> None:
    """Screw to screw along the wires: the longer of line and neutral, and the earth beside it.

    BS 7671, 534.4.8 (from memory). With V wiring line and neutral have no part of their own.
    """
    drawn = home(seed)
    leads = drawn.wiring.spd_leads
    if leads is None:
        assert not any(p.item.role is Role.SPD for p in drawn.arrangement.placements)
        return
    by_id = {c.id: c for c in drawn.wiring.conductors}
    outside_mm = 1000 * (drawn.job.wishes.separate_box_lead_m or 1.0)
    earth_mm = sum(
        _taped_mm(by_id[n], outside_mm) for n in ("spd-pe", "spd-pe-supply") if n in by_id
    )
    neutral_mm = _taped_mm(by_id["spd-n"], outside_mm) if "spd-n" in by_id else 0.0

    assert leads.pe_m == pytest.approx(earth_mm / 1000, abs=_BENDS_M)
    assert leads.neutral_m == pytest.approx(neutral_mm / 1000, abs=_BENDS_M)
    assert leads.v_wired is any(c.id.endswith("-board") for c in drawn.wiring.conductors)
    lines = [c for c in by_id.values() if c.id.startswith("spd-") and c.function.startswith("L")]
    longest_mm = max(
        (
            sum(_taped_mm(c, outside_mm) for c in lines if c.function == f)
            for f in {c.function for c in lines}
        ),
        default=0.0,
    )
    # Through the back-up from screw to screw, and its tooth: 534.4.8 counts the whole branch.
    assert leads.line_m - leads.backup_m >= longest_mm / 1000 - _BENDS_M
    assert leads.total_m == max(leads.line_m, leads.neutral_m) + leads.pe_m


_BENDS_M = 0.03
"""What rounded bends save, at most. [m]"""


def _taped_mm(conductor: Conductor, outside_mm: float) -> float:
    """Return a lead's length with square corners, 7.5 mm into a device and 4.5 into a bar."""
    ends = (conductor.begin.terminal, conductor.end.terminal)
    inside_mm = sum(
        4.5 if "bar" in name else 0.0 if name.startswith("board") else 7.5 for name in ends
    )
    out_mm = outside_mm if any(name.startswith("board") for name in ends) else 0.0
    return sum(dist(a[:2], b[:2]) for a, b in pairwise(conductor.path)) + inside_mm + out_mm


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(80))
def test_an_spd_farther_from_the_main_switch_has_no_shorter_leads(seed: int) -> None:
    """But for one step of a bar's terminals, where no lead goes round an end of the row.

    A lead that leaves its device away from where it goes is shorter the nearer that end is.
    """
    leads = list(_moving_away(home(seed)))

    for near, far in pairwise(leads):
        assert far is None or near is None or far.total_m >= near.total_m - _PITCH_M


_PITCH_M = 0.009


def _moving_away(drawn: Drawn) -> Iterator[SpdLeads | None]:
    """Yield the leads with the SPD's branch one device farther each time; None: round an end."""
    board = drawn.arrangement
    roles = {p.item.role for p in board.placements}
    plain = not roles & {Role.SECTION_RCD, Role.INCOMER_RCD, Role.AS_FOUND} and Role.SPD in roles
    box = board.enclosure
    if board.scheme is not Scheme.NEW_BOARD or box.phases > 1 or len(box.rails) > 1 or not plain:
        return
    rails = Rails(box)
    items = [p.item for p in board.placements]
    items = items[::-1] if box.hand == "right" else items
    branch = [i for i in items if i.role in {Role.SPD, Role.SPD_BACKUP}]
    others = [i for i in items if i not in branch]
    for at in range(1, len(others) + 1):
        placed, place = [], 0
        for one in (*others[:at], *branch, *others[at:]):
            module = rails.module(place, one.device.modules)
            rail = box.rails[0]
            placed.append(Placement(one, 0, module, place, rail.left_mm(module), rail.y_mm))
            place += one.device.modules
        wiring = wire(replace(board, placements=tuple(placed)), drawn.job, drawn.spd, edition())
        own = [c for c in wiring.conductors if c.id.startswith("spd-")]
        yield wiring.spd_leads if all(len(c.path) <= 4 for c in own) else None


def _crossed(wiring: Wiring) -> Wiring:
    """Put the neutral of a way of one section on the other section's bar."""
    return _moved(wiring, "x-c0-n", "neutral-bar-b.6")


def _moved(wiring: Wiring, name: str, terminal: str) -> Wiring:
    changed = [
        replace(c, end=replace(c.end, terminal=terminal)) if c.id == name else c
        for c in wiring.conductors
    ]
    return replace(wiring, conductors=tuple(changed))


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (_crossed, "rcd-b open"),
        (lambda w: _moved(w, "spd-n", "neutral-bar-a.6"), "behind an RCD"),
        (lambda w: _moved(w, "x-c0-n", "earth-bar.9"), "cable-c0.N is not on meter.N"),
        (lambda w: _moved(w, "n-link", "earth-bar.9"), "N and PE meet"),
        (lambda w: without(w, "n-bar-rcd-a"), "is not on meter.N"),
        (lambda w: without(w, "spd-pe"), "spd.PE has no conductor"),
        (lambda w: _fattened(w, "x-c0-l", 50.0), "holds"),
    ],
)
def test_the_judge_sees_what_is_wrong(spoil: Callable[[Wiring], Wiring], told: str) -> None:
    board = split()
    wiring = wired(board)

    assert wiring_faults(board, wiring) == []
    assert any(told in fault for fault in wiring_faults(board, spoil(wiring)))


def _fattened(wiring: Wiring, name: str, csa_mm2: float) -> Wiring:
    changed = [replace(c, csa_mm2=csa_mm2) if c.id == name else c for c in wiring.conductors]
    return replace(wiring, conductors=tuple(changed))


def test_the_draws_hold_every_kind_of_board() -> None:
    drawn = [home(seed) for seed in SEEDS]
    roles = [{p.item.role for p in d.arrangement.placements} for d in drawn]
    boxes = [d.arrangement.enclosure for d in drawn]

    assert {d.arrangement.scheme for d in drawn} == set(Scheme)
    assert {box.hand for box in boxes} == {"left", "right", "none"}
    assert {box.phases for box in boxes} == {1, 3}
    assert {len(box.rails) for box in boxes} == {1, 2}
    assert any(Role.INCOMER_RCD in r for r in roles)
    assert any(Role.SECTION_RCD in r for r in roles)
    assert any(Role.SPD in r and Role.SPD_BACKUP not in r for r in roles)
    assert {d.job.supply.system for d in drawn} == {"TN-S", "TN-C-S", "TT"}
    assert sum(len(in_front(d.wiring)) for d in drawn) > 200
