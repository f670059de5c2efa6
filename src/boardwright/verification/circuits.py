"""Checks on each circuit: overload, volt drop, route, and whether cable and readings agree."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.circuits import judged_load, judged_sockets
from boardwright.core.findings import Finding, Verdict
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point
from boardwright.verification.work import circuits_of_work, copper_of_work, site_of, with_ways_out


@check
def aluminium(facts: Facts) -> Iterator[Finding]:
    """Leave open what no figure here is for: aluminium carries less and resists more."""
    rule = facts.edition.rule("gate.wiring")
    for circuit, result in circuits_of_work(facts):
        if circuit.cable.condition == "aluminium":
            yield Point("circuit.aluminium", result.name, result.id, rule).unknown(
                "Its conductors are aluminium: capacity, volt drop, Zs and protective conductor "
                "are worked out here for copper, and say nothing of them.",
                "Take aluminium's own tables, or renew the cable in copper and say so in the job.",
            )


@check
def overload(facts: Facts) -> Iterator[Finding]:
    """Hold load, device and cable against one another: Ib ≤ In ≤ Iz (433.1.1).

    Where the route that was not seen decides, that is one finding, the route's.
    """
    for circuit, result in copper_of_work(facts):
        finding = judged_load.overload(circuit, result, site_of(facts))
        if finding.verdict is not Verdict.UNKNOWN:
            yield with_ways_out(finding, circuit, facts)


@check
def method_known(facts: Facts) -> Iterator[Finding]:
    """Tell what an installation method that was not seen decides."""
    for circuit, result in copper_of_work(facts):
        # What fails as overload fails by every method, and is told only there.
        if judged_load.overload(circuit, result, site_of(facts)).verdict is Verdict.FAIL:
            continue
        finding = judged_load.route(circuit, result, site_of(facts))
        if finding is not None and finding.verdict is not Verdict.FAIL:
            yield finding


@check
def volt_drop(facts: Facts) -> Iterator[Finding]:
    """Hold the drop from the origin to the load against 3 % or 5 % (525.202)."""
    for circuit, result in copper_of_work(facts):
        finding = judged_load.volt_drop(circuit, result, site_of(facts))
        yield with_ways_out(finding, circuit, facts)


@check
def cable_agrees_with_readings(facts: Facts) -> Iterator[Finding]:
    """Doubt sizes that no cable has, and a reading that length and sizes do not give."""
    for circuit, result in copper_of_work(facts):
        for judge in (judged_load.pair, judged_load.reading_agrees):
            finding = judge(circuit, result, site_of(facts))
            if finding is not None:
                yield finding


@check
def sockets_extent(facts: Facts) -> Iterator[Finding]:
    """Hold the floor that sockets serve, and a ring's spurs, against convention."""
    for circuit, result in circuits_of_work(facts):
        for judge in (judged_sockets.floor_area, judged_sockets.ring_spurs):
            finding = judge(circuit, result, site_of(facts))
            if finding is not None:
                yield finding
