"""Checks on earth faults: loop impedance, hot and measured, and the protective conductor."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from boardwright.circuits.fault import BREAKERS, adiabatic_mm2, class_3_cpc_mm2
from boardwright.circuits.lookup import figure
from boardwright.circuits.results import CircuitResult, FaultProtection
from boardwright.core.findings import Finding, Rule, Sense
from boardwright.job.circuit import Circuit
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point
from boardwright.verification.work import circuits_of_work

_LOWER_LOOP = "Fit a device of lower rating or type B, mend the joints, or give it an RCD."


@check
def loop_disconnects(facts: Facts) -> Iterator[Finding]:
    """Hold the hot design Zs against the full limit: a fault must be gone in time (411.4.4)."""
    for circuit, result in circuits_of_work(facts):
        yield _loop(facts, circuit, result)


def _loop(facts: Facts, circuit: Circuit, result: CircuitResult) -> Finding:
    point = _zs_point(facts, result)
    if circuit.cable.cpc_mm2 == 0:
        return replace(point, rule=facts.edition.rule("cpc.required")).failed(
            "It has no protective conductor, so that no device sees an earth fault.",
            "Add a protective conductor or rewire; see what the gate says of this circuit.",
        )
    if result.zs_ohm is None:
        return point.unknown(
            f"Zs cannot be worked out: {_missing_reading(facts)} is not known.",
            f"Measure {_missing_reading(facts)}.",
        )
    by_rcd_alone = facts.job.supply.system == "TT" and result.zs_max_ohm == result.breaker_zs_max_ohm
    match result.fault_protection:
        case FaultProtection.NONE if by_rcd_alone:
            # No figure is shown: how low the loop is decides nothing here.
            return replace(point, value=None, limit=None).failed(
                "On TT an RCD disconnects an earth fault, and this circuit has none of its own.",
                "Give it an RCBO, or put it behind an RCD.",
            )
        case FaultProtection.NONE if facts.plan.origin.zdb_assumed:
            return point.unknown(
                f"Zs {result.zs_ohm:.2f} Ω at the largest declared Ze, over "
                f"{result.zs_max_ohm:.2f} Ω.",
                f"Measure {_missing_reading(facts)}.",
            )
        case FaultProtection.NONE:
            return point.failed(
                f"Zs {result.zs_ohm:.2f} Ω, over the {result.zs_max_ohm:.2f} Ω at which it "
                f"disconnects in {result.disconnection_s:g} s.",
                _LOWER_LOOP,
            )
        case FaultProtection.RCD if facts.job.supply.system != "TT":
            return point.advised(
                f"Zs {result.zs_ohm:.2f} Ω is over the device's {result.breaker_zs_max_ohm:.2f} Ω: "
                "the RCD alone disconnects an earth fault.",
                "Allowed; a lower loop would let the overcurrent device do it as well.",
            )
        case _:
            assumed = ", at the largest declared Ze" if facts.plan.origin.zdb_assumed else ""
            return point.passed(
                f"Zs {result.zs_ohm:.2f} Ω hot{assumed}, {result.zs_max_ohm:.2f} Ω being allowed "
                f"for {result.disconnection_s:g} s by the {result.fault_protection.value}."
            )


def _zs_point(facts: Facts, result: CircuitResult) -> Point:
    return Point(
        "circuit.zs",
        result.name,
        result.id,
        _zs_rule(facts, result),
        result.zs_ohm,
        result.zs_max_ohm,
        "Ω",
    )


def _zs_rule(facts: Facts, result: CircuitResult) -> Rule:
    edition, standard = facts.edition, result.protection.standard
    if facts.job.supply.system == "TT":
        return edition.rule("zs.rcd")
    if result.fault_protection is FaultProtection.RCD:
        return edition.rule("tn.rcd_fault_protection")
    if standard in BREAKERS:
        return edition.rule("zs.breaker")
    return edition.rule("fuse_zs_ohm.5" if result.disconnection_s > 1 else "fuse_zs_ohm.0.4")


def _missing_reading(facts: Facts) -> str:
    return "the electrode's resistance RA" if facts.job.supply.system == "TT" else "Ze"


@check
def measured_loop(facts: Facts) -> Iterator[Finding]:
    """Hold a Zs measured cold against 80 % of the limit, unrounded."""
    for circuit, result in circuits_of_work(facts):
        read_ohm = circuit.readings.zs_ohm
        if read_ohm is None:
            continue
        factor = facts.edition.number("factor.measured_cold")
        by_rcd = result.fault_protection is FaultProtection.RCD
        # An RCD trips on its residual current, warm conductor or not: no allowance is due.
        limit_ohm = result.zs_max_ohm if by_rcd else factor * result.zs_max_ohm
        rule = facts.edition.rule("zs.rcd" if by_rcd else "factor.measured_cold")
        point = Point("circuit.zs_measured", result.name, result.id, rule, read_ohm, limit_ohm, "Ω")
        if read_ohm <= limit_ohm:
            yield point.passed(f"Zs reads {read_ohm:g} Ω, {limit_ohm:.3g} Ω being allowed cold.")
        else:
            yield point.failed(
                f"Zs reads {read_ohm:g} Ω, over the {limit_ohm:.3g} Ω allowed cold.", _LOWER_LOOP
            )


@check
def protective_conductor_survives(facts: Facts) -> Iterator[Finding]:
    """Ask of the protective conductor that it bears the fault: S ≥ √(I²t)/k (543.1.3)."""
    for circuit, result in circuits_of_work(facts):
        if circuit.cable.cpc_mm2 > 0:
            yield _adiabatic(facts, result)


def _adiabatic(facts: Facts, result: CircuitResult) -> Finding:
    least_mm2 = result.adiabatic_mm2
    point = Point(
        "circuit.adiabatic",
        result.name,
        result.id,
        facts.edition.rule("adiabatic"),
        result.cpc_mm2,
        least_mm2,
        "mm²",
        Sense.AT_LEAST,
    )
    if _bears(result, least_mm2):
        return point.passed(f"cpc {result.cpc_mm2:g} mm², {least_mm2:.2f} mm² being asked.")
    far_a = None if result.zs_ohm is None else facts.job.supply.u0_v / result.zs_ohm
    class_mm2 = _class_3_mm2(facts, result, far_a or result.ipf_max_a)
    if _bears(result, class_mm2):
        rule = facts.edition.rule("class_3_cpc_mm2")
        return replace(point, limit=class_mm2, rule=rule).passed(
            f"cpc {result.cpc_mm2:g} mm², {class_mm2:g} mm² being asked behind a class 3 device."
        )
    if least_mm2 is None:
        return point.unknown(
            f"The fault current is not known: {_missing_reading(facts)} was not read.",
            f"Measure {_missing_reading(facts)}.",
        )
    return point.failed(
        f"cpc {result.cpc_mm2:g} mm², under the {least_mm2:.2f} mm² that the fault asks.",
        "Take the maker's let-through figure, fit a smaller device, or renew the cable.",
    )


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
        for circuit, result in circuits_of_work(facts)
        if circuit.cable.cpc_mm2 > 0 and not _bears_at(facts, circuit, result, fault_a)
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


def _bears_at(facts: Facts, circuit: Circuit, result: CircuitResult, fault_a: float) -> bool:
    k_factor = figure(facts.edition.table("k"), circuit.cable.type, "protective")
    lasts_s = facts.edition.number("device.instantaneous_s")
    return _bears(result, _class_3_mm2(facts, result, fault_a)) or _bears(
        result, adiabatic_mm2(fault_a, lasts_s, k_factor)
    )


def _bears(result: CircuitResult, least_mm2: float | None) -> bool:
    return least_mm2 is not None and result.cpc_mm2 >= least_mm2


def _class_3_mm2(facts: Facts, result: CircuitResult, fault_a: float | None) -> float | None:
    device = result.protection
    if fault_a is None or device.standard not in BREAKERS:
        return None
    return class_3_cpc_mm2(facts.edition, device.curve, device.in_a, fault_a)
