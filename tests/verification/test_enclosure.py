"""The enclosure's facts, each changed so that its check must answer otherwise."""

from collections.abc import Iterable
from dataclasses import replace

import pytest

from boardwright.board.arrange import arrange
from boardwright.catalogue.enclosures import EnclosureType
from boardwright.core.findings import Finding, Verdict
from boardwright.verification import enclosure as checks
from boardwright.verification.facts import Facts
from boardwright.wiring.wire import wire
from tests.board.homes import edition, home, planned, spd_for
from tests.verification.test_board import _semi


def _facts(**changed: object) -> Facts:
    """Return the semi, wired in its enclosure with some fields changed."""
    job = home("semi")
    board = planned(job)
    enclosure: EnclosureType = board.enclosure.model_copy(update=changed)
    board = replace(board, enclosure=enclosure)
    found = arrange(board, job.wishes)
    wiring = wire(found, job, spd_for(job, enclosure), edition())
    return replace(_semi(), job=job, board=board, arrangement=found, wiring=wiring)


def _said(findings: Iterable[Finding]) -> dict[str, Verdict]:
    return {finding.check: finding.verdict for finding in findings}


def _tails_apart(enclosure: EnclosureType) -> dict[str, object]:
    entries = tuple(
        e.model_copy(update={"one_opening": False}) if e.purpose == "tails" else e
        for e in enclosure.entries
    )
    return {"entries": entries}


def test_tails_through_two_holes_of_steel_heat_it() -> None:
    """Currents that do not cancel in one opening induce others in the steel (521.5.1)."""
    apart = _tails_apart(planned(home("semi")).enclosure)

    whole, parted = _facts(), _facts(**apart)
    moulded = _facts(**apart, metal=False)

    assert _said(checks.conductors_of_a_circuit_enter_together(whole)) == {
        "enclosure.one_opening": Verdict.PASS
    }
    (finding,) = checks.conductors_of_a_circuit_enter_together(parted)
    assert finding.verdict is Verdict.FAIL
    assert "meter" in finding.message
    (finding,) = checks.conductors_of_a_circuit_enter_together(moulded)
    assert finding.verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("changed", "check", "verdict"),
    [
        ({}, "enclosure.ip_top", Verdict.PASS),
        ({"ip_top": "IP2X"}, "enclosure.ip_top", Verdict.FAIL),
        ({"ip_top": "as usual"}, "enclosure.ip_top", Verdict.UNKNOWN),
        ({"ip": "IP2XC"}, "enclosure.ip", Verdict.PASS),
        ({}, "enclosure.blanks", Verdict.PASS),
    ],
)
def test_degrees_of_protection(changed: dict[str, object], check: str, verdict: Verdict) -> None:
    assert _said(checks.enclosure_keeps_fingers_out(_facts(**changed)))[check] is verdict


def test_a_free_way_without_a_blank_is_told() -> None:
    facts = _facts()
    assert facts.wiring is not None
    bare = replace(facts, wiring=replace(facts.wiring, materials=()))

    assert _said(checks.enclosure_keeps_fingers_out(bare))["enclosure.blanks"] is Verdict.FAIL


@pytest.mark.parametrize(
    ("sheathed", "verdict"),
    [("yes", Verdict.PASS), ("no", Verdict.FAIL), (None, Verdict.UNKNOWN)],
)
def test_tails_are_sheathed(sheathed: str | None, verdict: Verdict) -> None:
    facts = _facts()
    tails = facts.job.supply.tails.model_copy(update={"sheathed": sheathed})
    supply = facts.job.supply.model_copy(update={"tails": tails})
    job = facts.job.model_copy(update={"supply": supply})

    (finding,) = checks.tails_are_sheathed(replace(facts, job=job))

    assert finding.verdict is verdict


def test_a_place_for_every_cable() -> None:
    enough = _facts()
    none = tuple(e for e in planned(home("semi")).enclosure.entries if e.purpose != "circuits")

    (finding,) = checks.entries_take_every_cable(enough)
    assert finding.verdict is Verdict.PASS
    assert finding.value == len(home("semi").circuits)
    (finding,) = checks.entries_take_every_cable(_facts(entries=none))
    assert finding.verdict is Verdict.FAIL
