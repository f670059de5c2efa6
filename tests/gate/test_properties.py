"""What must hold of the gate whatever the survey says."""

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.core.findings import Verdict
from tests.gate.home import edition, home, judged, sound_home

ANSWER = st.sampled_from(["yes", "no", None])
EARTHING: dict[str, st.SearchStrategy[Any]] = {
    "earthing.means_present": ANSWER,
    "earthing.conductor_connected": ANSWER,
    "earthing.conductor_mm2": st.sampled_from([None, 4, 6, 10, 16]),
    "earthing.bonds.0.present": ANSWER,
    "earthing.bonds.0.metallic": ANSWER,
    "earthing.bonds.0.verified": ANSWER,
    "earthing.bonds.0.csa_mm2": st.sampled_from([None, 4, 6, 10]),
}
STOPPERS: dict[str, st.SearchStrategy[Any]] = {
    "supply.cutout_condition": st.sampled_from(
        ["sound", "hot", "leaking", "damaged", "possible asbestos", None]
    ),
    "supply.polarity_correct": ANSWER,
    "circuits.1.cable.cpc_mm2": st.sampled_from([0, 1]),
    "circuits.1.owner_replaces_class_i": ANSWER,
}
ELSEWHERE: dict[str, st.SearchStrategy[Any]] = {
    "supply.ze_ohm": st.sampled_from([None, 0.2, 0.5]),
    "supply.isolation": st.sampled_from(["isolator", "none", "landlord", None]),
    "circuits.0.readings.rn_ohm": st.sampled_from([None, 0.37, 0.6]),
    "circuits.0.readings.insulation_mohm": st.sampled_from([None, 0.4, 1.5, 100]),
    "circuits.0.readings.leakage_a": st.sampled_from([None, 0.001, 0.02]),
}


@settings(deadline=None)
@given(st.fixed_dictionaries(EARTHING))
def test_a_refusal_leaves_nothing_between_go_and_stop(changes: dict[str, object]) -> None:
    free = judged(changes)
    refused = judged({**changes, "earthing.owner_refuses_upgrade": "yes"})

    # Whoever refuses changes no fact: the same subjects, and only a FAIL becomes a STOP.
    assert [f.check for f in refused] == [f.check for f in free]
    for before, after in zip(free, refused, strict=True):
        expected = Verdict.STOP if before.verdict is Verdict.FAIL else before.verdict
        assert after.verdict is expected


@settings(deadline=None)
@given(st.fixed_dictionaries(STOPPERS), st.fixed_dictionaries(ELSEWHERE))
def test_knowing_more_elsewhere_never_silences_a_stop(
    stoppers: dict[str, object], elsewhere: dict[str, object]
) -> None:
    def stops(changes: dict[str, object]) -> set[tuple[str, str]]:
        found = judged(changes)
        return {(f.check, f.subject_id) for f in found if f.verdict is Verdict.STOP}

    assert stops(stoppers) == stops({**stoppers, **elsewhere})


@settings(deadline=None)
@given(st.fixed_dictionaries({**EARTHING, **STOPPERS, **ELSEWHERE}))
def test_whatever_holds_up_the_work_names_a_way_out(changes: dict[str, object]) -> None:
    for finding in judged(changes):
        held_up = finding.verdict in {Verdict.STOP, Verdict.FAIL, Verdict.UNKNOWN, Verdict.ADVISE}

        assert bool(finding.remedy) is held_up
        assert finding.first is (finding.verdict in {Verdict.FAIL, Verdict.UNKNOWN})
        assert finding.rule.clause
        assert finding.message.endswith(".")


LEAVES = [
    "supply.ze_ohm",
    "supply.ipf_a",
    "supply.polarity_correct",
    "supply.cutout_fuse_a",
    "supply.cutout_condition",
    "supply.neutral_mm2",
    "supply.tails.csa_mm2",
    "supply.tails.length_m",
    "supply.isolation",
    "earthing.means_present",
    "earthing.conductor_mm2",
    "earthing.conductor_connected",
    "earthing.bonds.0.present",
    "earthing.bonds.0.csa_mm2",
    "earthing.bonds.0.verified",
    "circuits.0.readings.r1_ohm",
    "circuits.0.readings.insulation_mohm",
    "circuits.0.readings.neutral_separate",
    "circuits.0.cable.condition",
    "circuits.1.readings.r1r2_ohm",
]


@pytest.mark.parametrize("path", LEAVES)
def test_an_answer_left_out_is_never_a_pass(path: str) -> None:
    found = judged({path: None})

    assert Verdict.UNKNOWN in {f.verdict for f in found}
    assert Verdict.STOP not in {f.verdict for f in found}


def test_the_gate_changes_nothing_and_says_the_same_twice() -> None:
    before = json.dumps(sound_home())

    assert judged() == judged()
    assert json.dumps(sound_home()) == before
    assert home().model_dump() == home().model_dump()
    assert {f.rule.edition for f in judged()} == {edition().title}
