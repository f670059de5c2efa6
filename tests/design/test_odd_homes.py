"""Homes that an electrician meets once a year: what must be said of each, and what must not.

Every case names where its judgement comes from; "common practice, no source" where nothing does.
"""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from typing import Any

import pytest

from boardwright.board.results import Role, Scheme
from boardwright.catalogue.load import load_catalogue
from boardwright.core.findings import Finding, Verdict
from boardwright.design import Design, design
from boardwright.documents.drawing.board_drawing import build as drawing
from boardwright.job.job import Job
from boardwright.standards.load import load_edition
from boardwright.wiring.results import Phase

Raw = dict[str, Any]

CATALOGUE = load_catalogue()
READ = {
    "insulation_mohm": 200,
    "insulation_test_v": 500,
    "cpc_continuous": "yes",
    "neutral_separate": "yes",
}
PLAIN: Raw = {
    "id": "odd",
    "title": "Odd home",
    "designed_on": "2026-11-25",
    "premises": {"kind": "house", "occupier": "owner"},
    "supply": {
        "system": "TN-C-S",
        "ze_ohm": 0.2,
        "ipf_a": 1300,
        "polarity_correct": "yes",
        "cutout_fuse_a": 100,
        "cutout_fuse_standard": "BS 1361",
        "cutout_condition": "sound",
        "service": "underground",
        "looped": "no",
        "neutral_mm2": 25,
        "tails": {"csa_mm2": 25, "length_m": 1.5, "sheathed": "yes"},
        "isolation": "isolator",
        "isolation_arranged": "yes",
    },
    "earthing": {
        "means_present": "yes",
        "conductor_mm2": 16,
        "conductor_connected": "yes",
        "conductor_length_m": 2,
        "bonds": [
            {
                "service": "water",
                "metallic": "yes",
                "present": "yes",
                "csa_mm2": 10,
                "verified": "yes",
            }
        ],
    },
    "surge_environment": {
        "setting": "suburban",
        "injury_possible": "no",
        "large_loss_possible": "no",
    },
}


def circuit(id_: str, serves: str, size: tuple[float, float, float], **more: Any) -> Raw:  # noqa: ANN401 - a survey's raw values
    """Return a circuit; ``size`` is line mm², cpc mm² and length in metres."""
    line_mm2, cpc_mm2, length_m = size
    sizes = {"line_mm2": line_mm2, "cpc_mm2": cpc_mm2, "length_m": length_m}
    laid = {"method": "C", "condition": "sound", "concealed": "yes", "reach_mm": 900}
    plain = {"id": id_, "name": id_.capitalize(), "serves": serves, "readings": READ}
    return {**plain, **more, "cable": {**sizes, **laid, **more.get("cable", {})}}


RING = circuit(
    "ring",
    "sockets",
    (2.5, 1.5, 50),
    topology="ring",
    load={"points": 10},
    wanted={"in_a": 32},
    readings={**READ, "r1_ohm": 0.37, "rn_ohm": 0.37, "r2_ohm": 0.61},
)
LIGHTS = circuit("lights", "lighting", (1.5, 1.0, 30), load={"power_w": 300}, wanted={"in_a": 6})


def designed(*circuits: Raw, **changes: Mapping[str, Any]) -> Design:
    """Return the design of the plain home with some sections changed, key by key."""
    data = {**deepcopy(PLAIN), "circuits": list(circuits)}
    for section, keys in changes.items():
        data[section] = {**data.get(section, {}), **keys}
    job = Job.model_validate(data)
    return design(job, CATALOGUE, load_edition(job.edition))


def said(result: Design, check: str, subject_id: str = "") -> Finding:
    """Return the one finding of a check on a subject."""
    found = [f for f in result.findings if f.check == check and subject_id in {"", f.subject_id}]
    assert len(found) == 1, [f"{f.check} {f.subject_id}: {f.message}" for f in found]
    return found[0]


def failing(result: Design) -> set[str]:
    return {f.check for f in result.findings if f.verdict in {Verdict.STOP, Verdict.FAIL}}


def test_a_tt_flat_with_a_split_board_and_no_electrode_reading() -> None:
    """An RCD ahead of all on a metal board, RA left open, CT2: 411.5, 531.3.5.3.2, 534.4."""
    result = designed(
        RING,
        LIGHTS,
        premises={"kind": "flat"},
        supply={"system": "TT", "ze_ohm": None},
        wishes={"division": "split load"},
    )
    roles = [item.role for item in result.chosen.board.items]

    assert said(result, "gate.electrode").verdict is Verdict.UNKNOWN
    assert not [f for f in result.findings if f.check == "circuit.zs"]
    assert roles.count(Role.SECTION_RCD) == 2
    assert Role.INCOMER_RCD in roles or not result.chosen.board.enclosure.metal
    assert "CT2" in said(result, "spd.connection").message
    assert failing(result) == set()


def test_a_one_phase_board_wished_on_three_phases() -> None:
    """134.1.1, 462.1.201: the board asked for cannot serve, and is refused in words."""
    result = designed(RING, LIGHTS, supply={"phases": 3}, wishes={"enclosure": "ravel-r1-16"})

    assert said(result, "board.phases").verdict is Verdict.FAIL
    assert said(result, "board.main_switch").verdict is Verdict.FAIL


def test_an_outbuilding_of_one_circuit() -> None:
    sockets = circuit("sockets", "sockets", (2.5, 1.5, 12), load={"points": 2})
    result = designed(sockets, premises={"kind": "outbuilding"})

    assert failing(result) == set()
    assert result.chosen.spd.candidate is not None


@pytest.mark.parametrize(("family", "hand"), [("ravel-r1", "left"), ("tarn-t3", "right")])
def test_the_spd_goes_into_spare_ways_of_a_known_board(family: str, hand: str) -> None:
    """What was found keeps its way and is not bought again: common practice, no source."""
    result = designed(*_on_ways(), existing_board=_board(family, hand), wishes={"board": "keep"})
    chosen = result.chosen
    found = {p.way for p in chosen.arrangement.placements if p.item.role is Role.AS_FOUND}
    bought = {material.id for material in chosen.wiring.materials}
    kept = {p.item.device.id for p in chosen.arrangement.placements} & bought

    assert chosen.scheme is Scheme.SPARE_WAYS
    assert found == {1, 2, 3}
    assert chosen.wiring.spd_leads is not None
    assert 0 < chosen.wiring.spd_leads.total_m <= 1.0
    assert all("rcbo" not in device for device in kept)
    assert "nan" not in drawing(result)
    assert all(c.step for c in chosen.wiring.conductors if c.id.startswith("spd-"))
    assert failing(result) == set()


def test_a_new_circuit_on_the_board_as_found_is_tested_dead_and_live() -> None:
    """643 and 644: what is new is tested before and after it is energised."""
    point = circuit(
        "ev",
        "EV point",
        (6, 6, 15),
        existing=False,
        cable={"type": "swa 90"},
        load={"power_w": 7360},
        ev={"dc_detection": "yes", "pen_protection": "yes", "outdoors": "yes"},
        wanted={"in_a": 32},
    )
    result = designed(
        *_on_ways(), point, existing_board=_board("ravel-r1", "left"), wishes={"board": "keep"}
    )
    steps = {s.id: s.phase for s in result.chosen.wiring.steps if s.circuit_id == "ev"}

    assert result.chosen.scheme is Scheme.SPARE_WAYS
    assert set(steps.values()) >= {Phase.DEAD_TESTS, Phase.ENERGISE}


def test_a_board_of_unknown_family_takes_a_box_and_says_why() -> None:
    """536.4.203: no maker's word, nothing new inside."""
    board = _board("", "left")
    result = designed(
        *_on_ways(),
        existing_board=board,
        wishes={"board": "keep", "separate_box_lead_m": 0.3},
    )
    reasons = dict(result.out_of_question)

    assert result.chosen.scheme is Scheme.SEPARATE_BOX
    assert "family is not known" in reasons[Scheme.SPARE_WAYS]


def test_an_owner_who_declines_and_keeps_the_board_buys_no_box() -> None:
    """443.4.1: declined in writing, nothing is hung; common practice for the rest."""
    result = designed(
        *_on_ways(),
        existing_board=_board("", "left"),
        wishes={"board": "keep"},
        surge_environment={"declined_by": "owner"},
    )

    assert result.chosen.spd.candidate is None
    assert not any("box" in material.id for material in result.chosen.wiring.materials)
    assert not [f for f in result.findings if f.subject == "SPD box"]


def test_injury_is_not_open_to_declining() -> None:
    """443.4.1: where overvoltage may injure, protection is there whatever the owner says."""
    result = designed(RING, surge_environment={"declined_by": "owner", "injury_possible": "yes"})

    assert result.chosen.spd.candidate is not None


def test_bonding_refused_stops_the_work() -> None:
    """132.16 and 411.3.1.2; the best-practice guide on replacing a board, 6.2."""
    bond = {"service": "water", "metallic": "yes", "present": "no"}
    result = designed(RING, earthing={"bonds": [bond], "owner_refuses_upgrade": "yes"})

    assert result.forbids_work
    assert said(result, "gate.bonding.water").verdict is Verdict.STOP


def test_aluminium_is_given_no_figures_of_copper() -> None:
    """IEC 60228: aluminium of a size has 1.65 times the resistance of copper."""
    cable = {**LIGHTS["cable"], "condition": "aluminium"}
    result = designed({**LIGHTS, "cable": cable})
    figures = {"circuit.overload", "circuit.volt_drop", "circuit.zs", "circuit.adiabatic"}

    assert said(result, "circuit.aluminium").verdict is Verdict.UNKNOWN
    assert not figures & {f.check for f in result.findings}


def test_a_shower_of_9_5_kw_on_6_mm2_in_insulation() -> None:
    """Table 4D5: 6 mm² by method 103 carries 23.5 A; 9500 W / 230 V is 41 A."""
    load = {"power_w": 9500, "thermostatic": False}
    result = designed(circuit("shower", "shower", (6, 2.5, 14), load=load, cable={"method": "103"}))
    finding = said(result, "circuit.overload")

    assert (finding.verdict, finding.limit) == (Verdict.FAIL, 23.5)


def test_a_ring_of_1_5_mm2() -> None:
    """433.1.204: 2.5 mm² at least."""
    thin = {**RING, "cable": {**RING["cable"], "line_mm2": 1.5, "cpc_mm2": 1.0}}
    finding = said(designed(thin), "circuit.overload")

    assert (finding.verdict, finding.value, finding.limit) == (Verdict.FAIL, 1.5, 2.5)


@pytest.mark.parametrize(
    ("detects", "verdict"), [("yes", Verdict.PASS), ("no", Verdict.FAIL), (None, Verdict.UNKNOWN)]
)
def test_a_charging_point_behind_what_was_a_type_ac(detects: str | None, verdict: Verdict) -> None:
    """722.531.3.101: type B, or type A with 6 mA of DC detected; type AC never."""
    ev = {"dc_detection": detects, "pen_protection": "yes", "outdoors": "yes"}
    point = circuit(
        "ev",
        "EV point",
        (16, 6, 18),
        load={"power_w": 7360},
        ev=ev,
        wanted={"in_a": 40, "rcd_type": "AC", "idn_a": 0.03},
    )
    result = designed(point)
    placed = next(item for item in result.chosen.board.items if item.circuit_id == "ev")

    assert placed.device.rcd_type != "AC"
    assert said(result, "ev.dc").verdict is verdict


def test_a_rewirable_fuse_gives_way_on_a_new_board() -> None:
    """30 A becomes 32 A on 6 mm² clipped, 47 A (Table 4D5): common practice, no source."""
    cooker = circuit(
        "cooker",
        "cooker",
        (6, 2.5, 9),
        load={"power_w": 10400},
        wanted={"in_a": 30, "standard": "BS 3036"},
    )
    result = designed(cooker)

    assert failing(result) == set()
    assert result.plan.circuit("cooker").in_a == 32


def test_a_bare_breaker_on_tt_brings_an_rcd_ahead_of_all() -> None:
    """531.3.5.3.2: without an RCD on every way, a metal board on TT has one ahead."""
    bare = circuit(
        "bare",
        "fixed appliance",
        (2.5, 1.5, 10),
        load={"power_w": 2000},
        cable={"concealed": "no"},
        wanted={"standard": "MCB", "in_a": 16},
    )
    result = designed(
        RING, bare, supply={"system": "TT", "ze_ohm": None}, earthing={"electrode_ohm": 18}
    )

    assert Role.INCOMER_RCD in {item.role for item in result.chosen.board.items}
    assert said(result, "board.tt_incomer").verdict is Verdict.PASS
    assert said(result, "circuit.zs", "bare").verdict is Verdict.PASS


def test_three_phases_on_tt_are_served() -> None:
    """411.5.2: every circuit behind an RCD; four poles on TT, 461.2."""
    result = designed(
        {**RING, "phase": "L1"},
        {**LIGHTS, "phase": "L2"},
        supply={"system": "TT", "phases": 3, "ze_ohm": None, "ipf_a": 3000},
        earthing={"electrode_ohm": 80},
    )

    assert failing(result) == set()
    assert said(result, "board.main_switch").value == 4


def test_forty_circuits_fit_no_board_and_the_largest_says_so() -> None:
    many = [circuit(f"s{k}", "sockets", (2.5, 1.5, 15), load={"points": 2}) for k in range(40)]
    result = designed(*many)
    largest = max(e.modules for e in CATALOGUE.enclosures.values() if e.phases == 1)

    assert said(result, "board.fits").verdict is Verdict.FAIL
    assert result.chosen.board.enclosure.modules == largest


@pytest.mark.parametrize(
    ("logged_a", "fuse_a", "verdict"),
    [(48, 60, Verdict.PASS), (75, 60, Verdict.FAIL), (None, 60, Verdict.FAIL)],
)
def test_demand_beside_the_fuse(logged_a: float | None, fuse_a: float, verdict: Verdict) -> None:
    """Two showers and a charging point: 41 + 41 + 32 A at once (311.1).

    A gG fuse does not hold 1.6 times its rating for an hour: BS HD 60269-1, from memory.
    """
    load = {"power_w": 9500, "thermostatic": False}
    showers = [
        circuit(f"shower-{k}", "shower", (10, 4, 10), load=load, wanted={"in_a": 45})
        for k in range(2)
    ]
    point = circuit("ev", "EV point", (6, 6, 15), load={"power_w": 7360}, wanted={"in_a": 40})
    data = {**deepcopy(PLAIN), "circuits": [*showers, point]}
    data["supply"]["cutout_fuse_a"] = fuse_a
    if logged_a:
        data |= {"demand_logged_a": logged_a, "demand_logged_source": "clamp logger, 14 days"}
    result = design(Job.model_validate(data), CATALOGUE, load_edition("bs7671_2018_a4"))

    assert said(result, "demand.fuse").verdict is verdict


def _on_ways() -> tuple[Raw, ...]:
    boiler = circuit("boiler", "boiler", (2.5, 1.5, 8), load={"power_w": 150}, wanted={"in_a": 16})
    return tuple({**c, "way": k} for k, c in enumerate((RING, LIGHTS, boiler), start=1))


def _board(family: str, hand: str) -> Raw:
    seen = {"kind": "RCBO", "curve": "B", "idn_a": 0.03, "rcd_type": "A"}
    ratings = (("ring", 32), ("lights", 6), ("boiler", 16))
    return {
        "family": family,
        "combustible": "no",
        "metal": "yes",
        "ways": 14,
        "main_switch_a": 100,
        "main_switch_poles": 2,
        "hand": hand,
        "devices": [
            {**seen, "way": way, "in_a": in_a, "circuit": name}
            for way, (name, in_a) in enumerate(ratings, start=1)
        ],
    }
