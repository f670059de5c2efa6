"""Checks on earth faults: loop impedance, hot and measured, and the protective conductor."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from boardwright.circuits import judged_fault
from boardwright.circuits.results import CircuitResult, FaultProtection
from boardwright.core.findings import Finding, Verdict
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point
from boardwright.verification.work import (
    circuits_of_work,
    copper_of_work,
    incomer_rcd,
    site_of,
    with_ways_out,
)


@check
def loop_disconnects(facts: Facts) -> Iterator[Finding]:
    """Hold the hot design Zs against the full limit: a fault must be gone in time (411.4.4).

    That an electrode was not read, the gate says, with the circuits that hang on it; and so it
    says of a circuit as found that it has no protective conductor.
    """
    waiting: list[Finding] = []
    for circuit, result in copper_of_work(facts):
        if circuit.existing and circuit.cable.cpc_mm2 == 0:
            continue
        found = _by_incomer(facts, result) or judged_fault.loop(circuit, result, site_of(facts))
        if found.verdict is not Verdict.UNKNOWN:
            yield with_ways_out(found, circuit, facts)
        elif result.zs_ohm is not None:
            waiting.append(found)
    if waiting:
        yield _waiting_for_ze(waiting)


def _waiting_for_ze(waiting: list[Finding]) -> Finding:
    """Return one finding for all loops that only a reading of Ze can settle."""
    first = waiting[0]
    if len(waiting) == 1:
        return first
    each = "; ".join(f"{found.subject}: {found.message.removesuffix('.')}" for found in waiting)
    return replace(
        first, subject="Earth fault loops", subject_id="supply", message=f"{each}.", value=None
    )


def _by_incomer(facts: Facts, result: CircuitResult) -> Finding | None:
    """Return that the RCD ahead of all disconnects a circuit with none of its own, if it does."""
    incomer, zs_ohm = incomer_rcd(facts), result.zs_ohm
    if incomer is None or incomer.idn_a is None or zs_ohm is None:
        return None
    if result.fault_protection is not FaultProtection.NONE or result.protection.idn_a is not None:
        return None
    # Time-delayed, it is quick enough at five times its residual current (Table 3A, 411.3.2.2).
    limit_ohm = facts.edition.number("touch_voltage_v") / incomer.idn_a
    rule = facts.edition.rule("zs.rcd")
    point = Point("circuit.zs", result.name, result.id, rule, zs_ohm, limit_ohm, "Ω")
    if zs_ohm > limit_ohm:
        return None
    return point.passed(
        f"Zs {zs_ohm:.2f} Ω hot, {limit_ohm:.0f} Ω being allowed by the RCD of "
        f"{incomer.idn_a * 1000:g} mA ahead of all circuits."
    )


@check
def measured_loop(facts: Facts) -> Iterator[Finding]:
    """Hold a Zs measured cold against 80 % of the limit, unrounded."""
    for circuit, result in circuits_of_work(facts):
        finding = judged_fault.measured_loop(circuit, result, site_of(facts))
        if finding is not None:
            yield finding


@check
def protective_conductor_survives(facts: Facts) -> Iterator[Finding]:
    """Ask of the protective conductor that it bears the fault: S ≥ √(I²t)/k (543.1.3)."""
    for circuit, result in copper_of_work(facts):
        # A fault current that is not known waits for the reading that its loop waits for.
        if circuit.cable.cpc_mm2 > 0:
            found = judged_fault.protective_conductor(result, site_of(facts))
            if found.verdict is not Verdict.UNKNOWN:
                yield with_ways_out(found, circuit, facts)


@check
def live_conductors_survive(facts: Facts) -> Iterator[Finding]:
    """Ask of the live conductors that they bear a fault until it is gone (434.5.2, 435.1)."""
    for circuit, result in copper_of_work(facts):
        finding = judged_fault.line_conductor(circuit, result, site_of(facts))
        if finding is not None:
            yield with_ways_out(finding, circuit, facts)


@check
def faults_near_the_board(facts: Facts) -> Iterator[Finding]:
    """Name the circuits whose cpc a fault close to the board strains beyond the general class."""
    fault_a = facts.plan.origin.ipf_board_min_a
    if fault_a is None:
        return
    rule = facts.edition.rule("class_3_cpc_mm2")
    point = Point("circuit.let_through", "Faults near the board", "board", rule, fault_a, unit="A")
    strained = [
        result.name
        for circuit, result in copper_of_work(facts)
        if circuit.cable.cpc_mm2 > 0
        and not judged_fault.bears_at(circuit, result, site_of(facts), fault_a)
    ]
    shown = f"A fault at the board's own terminals draws {fault_a:.0f} A"
    if not strained:
        yield point.passed(f"{shown}; every cpc bears it.")
        return
    yield point.advised(
        f"{shown}; the general class of breakers does not settle the cpc of: "
        f"{', '.join(strained)}.",
        "See that the maker's let-through of each device is within k²S² of its cpc.",
    )
