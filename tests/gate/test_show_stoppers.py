"""Each show-stopper of working practice, its verdict and the way through that the trade accepts.

The rows follow a survey of working practice, its section on show-stoppers. Each names the source
found there; "common practice, no source" and "from memory" mark those without one.
"""

from dataclasses import dataclass, field

import pytest

from boardwright.core.findings import Verdict
from tests.gate.home import graver, judged

WATER = "earthing.bonds.0"
RING, LIGHTS = "circuits.0", "circuits.1"


@dataclass(frozen=True)
class Case:
    """A change to the sound home, what the gate must say of it, and who says so."""

    check: str
    verdict: Verdict
    way_out: str
    source: str
    changes: dict[str, object] = field(default_factory=dict)


CASES = {
    "no bonding": Case(
        "gate.bonding.water",
        Verdict.FAIL,
        "Run a bonding conductor",
        "Charity's best-practice guide 6.1 and 6.2, quoted in a trade forum thread",
        {f"{WATER}.present": "no"},
    ),
    "bonding refused": Case(
        "gate.bonding.water",
        Verdict.STOP,
        "Do not start",
        "the same guide: if the customer refuses the upgrade, do not proceed",
        {f"{WATER}.present": "no", "earthing.owner_refuses_upgrade": "yes"},
    ),
    "old 6 mm2 bond on PME": Case(
        "gate.bonding.water",
        Verdict.ADVISE,
        "10 mm² ends the argument",
        "Scheme helpdesk's answer (may stay), against a trade forum thread (10 mm2)",
        {f"{WATER}.csa_mm2": 6},
    ),
    "4 mm2 bond": Case(
        "gate.bonding.water",
        Verdict.FAIL,
        "Run a bond",
        "Table 54.8, trade article on main bonding: 10 mm2 to a neutral of 35",
        {f"{WATER}.csa_mm2": 4},
    ),
    "bond not proved": Case(
        "gate.bonding.water",
        Verdict.UNKNOWN,
        "Measure its continuity",
        "common practice, no source",
        {f"{WATER}.verified": None},
    ),
    "no earth": Case(
        "gate.means_of_earthing",
        Verdict.FAIL,
        "drive an electrode",
        "Charity's best-practice guide 6.1; the electrode from memory",
        {"earthing.means_present": "no"},
    ),
    "earthing conductor off": Case(
        "gate.earthing_conductor",
        Verdict.FAIL,
        "before anything is energised",
        "common practice, no source",
        {"earthing.conductor_connected": "no"},
    ),
    "6 mm2 earthing conductor on PME": Case(
        "gate.earthing_conductor.pme",
        Verdict.FAIL,
        "10 mm²",
        "Guide to the Wiring Regulations, 17th edition, p. 167: 10 mm2 to a neutral of 35",
        {"earthing.conductor_mm2": 6},
    ),
    "10 mm2 earthing conductor with 25 mm2 tails": Case(
        "gate.earthing_conductor.size",
        Verdict.FAIL,
        "16 mm²",
        "Table 54.7, trade article: 16 < S <= 35 asks 16 mm2",
        {"earthing.conductor_mm2": 10},
    ),
    "lights without cpc": Case(
        "gate.cpc",
        Verdict.FAIL,
        "Class II",
        "Scheme body's trade article on replacing consumer units, part 2",
        {f"{LIGHTS}.cable.cpc_mm2": 0},
    ),
    "lights without cpc, owner keeps metal fittings": Case(
        "gate.cpc",
        Verdict.STOP,
        "rewire",
        "the same article: reconnected only if the customer agrees",
        {f"{LIGHTS}.cable.cpc_mm2": 0, f"{LIGHTS}.owner_replaces_class_i": "no"},
    ),
    "lights without cpc, all Class II": Case(
        "gate.cpc",
        Verdict.ADVISE,
        "notice",
        "the same article; the notice from memory",
        {f"{LIGHTS}.cable.cpc_mm2": 0, f"{LIGHTS}.metal_fittings": "no"},
    ),
    "shared neutral": Case(
        "gate.neutral",
        Verdict.FAIL,
        "both circuits on one device",
        "Trade body's answer on a shared neutral, 2012",
        {f"{LIGHTS}.readings.shares_neutral_with": "ring"},
    ),
    "neutral not tried": Case(
        "gate.neutral",
        Verdict.UNKNOWN,
        "try for continuity",
        "Survey of practice: neutral-to-neutral cross checks before the work",
        {f"{LIGHTS}.readings.neutral_separate": None},
    ),
    "low insulation": Case(
        "gate.insulation",
        Verdict.FAIL,
        "leave it off, isolated and labelled",
        "Table 64, 1.0 Mohm: trade magazine, May 2023; leaving off from memory",
        {f"{LIGHTS}.readings.insulation_mohm": 0.99},
    ),
    "poor insulation": Case(
        "gate.insulation",
        Verdict.ADVISE,
        "Read it again",
        "common practice, no source: look into readings under 2 Mohm",
        {f"{LIGHTS}.readings.insulation_mohm": 1.0},
    ),
    "insulation not read": Case(
        "gate.insulation",
        Verdict.UNKNOWN,
        "before quoting",
        "Scheme body's magazine, autumn 2017: an insulation sweep before quoting",
        {f"{LIGHTS}.readings.insulation_mohm": None},
    ),
    "insulation read at 250 V": Case(
        "gate.insulation",
        Verdict.ADVISE,
        "500 V",
        "Scheme body's article on insulation testing and SPDs: 250 V where one cannot be removed",
        {f"{LIGHTS}.readings.insulation_test_v": 250},
    ),
    "broken ring": Case(
        "gate.ring",
        Verdict.FAIL,
        "20 A",
        "from memory: repair, or radials on 20 A devices",
        {f"{RING}.readings.r1_ohm": 99.9},
    ),
    "rubber": Case(
        "gate.wiring",
        Verdict.FAIL,
        "Rewire",
        "Trade encyclopaedia on old wiring",
        {f"{LIGHTS}.cable.condition": "rubber"},
    ),
    "lead-sheathed": Case(
        "gate.wiring",
        Verdict.FAIL,
        "Rewire",
        "Trade encyclopaedia on old wiring",
        {f"{LIGHTS}.cable.condition": "lead-sheathed"},
    ),
    "no isolator": Case(
        "gate.isolation",
        Verdict.FAIL,
        "supplier to fit an isolator",
        "Trade press on de-energisation; the fuse: trade forum on the cut-out",
        {"supply.isolation": "none"},
    ),
    "supplier not booked": Case(
        "gate.isolation",
        Verdict.FAIL,
        "not ours to pull",
        "the same",
        {"supply.isolation": "supplier"},
    ),
    "landlord not asked": Case(
        "gate.isolation",
        Verdict.FAIL,
        "Agree a date",
        "common practice, no source",
        {"supply.isolation": "landlord", "supply.isolation_arranged": "no"},
    ),
    "hot cut-out": Case(
        "gate.cutout",
        Verdict.STOP,
        "emergency line",
        "Trade forum on the cut-out; meter installation guidance of 2015",
        {"supply.cutout_condition": "hot"},
    ),
    "asbestos": Case(
        "gate.cutout",
        Verdict.STOP,
        "Disturb nothing",
        "Meter installation guidance of 2015: flash pads of old carriers",
        {"supply.cutout_condition": "possible asbestos"},
    ),
    "rewirable cut-out": Case(
        "gate.cutout",
        Verdict.ADVISE,
        "Presume asbestos until shown",
        "Trade answers on the cut-out: flash pads in old rewirable carriers",
        {"supply.cutout_fuse_standard": "BS 3036"},
    ),
    "battery on an old board": Case(
        "gate.other_source",
        Verdict.ADVISE,
        "lock it off too",
        "Survey of practice, ordered swap: also isolate PV, battery, UPS",
        {f"{LIGHTS}.serves": "battery", f"{LIGHTS}.source": {"power_w": 3000}},
    ),
    "reversed supply": Case(
        "gate.polarity",
        Verdict.STOP,
        "emergency line",
        "common practice, no source",
        {"supply.polarity_correct": "no"},
    ),
    "looped service and a heat pump": Case(
        "gate.looped",
        Verdict.FAIL,
        "Tell the network operator",
        "from memory: unlooping, upgrade or load limitation",
        {"supply.looped": "yes", f"{RING}.serves": "heat pump", f"{RING}.existing": False},
    ),
    "long tails": Case(
        "gate.tails.length",
        Verdict.FAIL,
        "switch-fuse",
        "Trade forums on tails: about 3 m is the operators' rule",
        {"supply.tails.length_m": 3.1},
    ),
    "16 mm2 tails behind 100 A": Case(
        "gate.tails",
        Verdict.FAIL,
        "25 mm²",
        "Trade articles on tails: 25 mm2 usual for 100 A",
        {"supply.tails.csa_mm2": 16},
    ),
    "Ze over the declared maximum": Case(
        "gate.ze",
        Verdict.FAIL,
        "tell the network operator",
        "On-Site Guide 1.1: 0.35 ohm for TN-C-S, from memory",
        {"supply.ze_ohm": 0.36},
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_the_gate_says_what_practice_says(name: str) -> None:
    case = CASES[name]

    found = {f.check: f for f in graver(judged(case.changes))}

    assert case.check in found
    assert found[case.check].verdict is case.verdict
    assert case.way_out in found[case.check].remedy


@pytest.mark.parametrize("name", CASES)
def test_a_fault_is_laid_to_its_own_subject_alone(name: str) -> None:
    # A smaller earthing conductor fails two rules at once, that of the table and that of PME.
    family = CASES[name].check.removesuffix(".pme").removesuffix(".size")
    others = {f.check for f in graver(judged(CASES[name].changes))}

    assert {check for check in others if not check.startswith(family)} == set()


def test_a_sound_home_passes_in_every_point() -> None:
    findings = judged()

    assert graver(findings) == []
    assert {f.check for f in findings} >= {"gate.cutout", "gate.bonding.water", "gate.ring"}
