"""What is found of an earth fault in one circuit: its loop and its protective conductor."""

from __future__ import annotations

from dataclasses import replace

from boardwright.circuits.fault import (
    BREAKERS,
    adiabatic_mm2,
    class_3_cpc_mm2,
    cold_zs_max_ohm,
)
from boardwright.circuits.lookup import figure
from boardwright.circuits.results import CircuitResult, FaultProtection
from boardwright.circuits.site import Site
from boardwright.circuits.stress import Overcurrent, overcurrent_stress
from boardwright.core.findings import Finding, Rule, Sense
from boardwright.core.point import Point
from boardwright.job.circuit import Circuit

_LOWER_LOOP = "Fit a device of lower rating or type B, mend the joints, or give it an RCD."


def loop(circuit: Circuit, result: CircuitResult, site: Site) -> Finding:
    """Hold the hot design Zs against the full limit: a fault must be gone in time (411.4.4)."""
    point = _zs_point(result, site)
    if circuit.cable.cpc_mm2 == 0:
        return replace(point, rule=site.edition.rule("cpc.required")).failed(
            "It has no protective conductor, so that no device sees an earth fault.",
            "Add a protective conductor or rewire; see what the gate says of this circuit.",
        )
    if result.zs_ohm is None:
        return point.unknown(
            f"Zs cannot be worked out: {_missing_reading(site)} is not known.",
            f"Measure {_missing_reading(site)}.",
        )
    if result.fault_protection is FaultProtection.NONE:
        return _not_cleared(point, result, site)
    assumed = ", at the largest declared Ze" if site.origin.zdb_assumed else ""
    if result.fault_protection is FaultProtection.RCD and site.job.supply.system != "TT":
        return point.advised(
            f"Zs {result.zs_ohm:.2f} Ω is over the device's {result.breaker_zs_max_ohm:.2f} Ω: "
            "the RCD alone disconnects an earth fault.",
            "Allowed; a lower loop would let the overcurrent device do it as well.",
        )
    return point.passed(
        f"Zs {result.zs_ohm:.2f} Ω hot{assumed}, {result.zs_max_ohm:.2f} Ω being allowed "
        f"for {result.disconnection_s:g} s by the {result.fault_protection.value}."
    )


def _not_cleared(point: Point, result: CircuitResult, site: Site) -> Finding:
    if site.job.supply.system == "TT" and result.zs_max_ohm == result.breaker_zs_max_ohm:
        # No figure is shown: how low the loop is decides nothing here.
        return replace(point, value=None, limit=None).failed(
            "On TT an RCD disconnects an earth fault, and this circuit has none of its own.",
            "Give it an RCBO, or put it behind an RCD.",
        )
    if site.origin.zdb_assumed:
        return point.unknown(
            f"Zs {result.zs_ohm:.2f} Ω at the largest declared Ze, over {result.zs_max_ohm:.2f} Ω.",
            f"Measure {_missing_reading(site)}.",
        )
    return point.failed(
        f"Zs {result.zs_ohm:.2f} Ω, over the {result.zs_max_ohm:.2f} Ω at which it "
        f"disconnects in {result.disconnection_s:g} s.",
        _LOWER_LOOP,
    )


def _zs_point(result: CircuitResult, site: Site) -> Point:
    return Point(
        "circuit.zs",
        result.name,
        result.id,
        _zs_rule(result, site),
        result.zs_ohm,
        result.zs_max_ohm,
        "Ω",
    )


def _zs_rule(result: CircuitResult, site: Site) -> Rule:
    edition, standard = site.edition, result.protection.standard
    if site.job.supply.system == "TT":
        return edition.rule("zs.rcd")
    if result.fault_protection is FaultProtection.RCD:
        return edition.rule("tn.rcd_fault_protection")
    if standard in BREAKERS:
        return edition.rule("zs.breaker")
    return edition.rule("fuse_zs_ohm.5" if result.disconnection_s > 1 else "fuse_zs_ohm.0.4")


def _missing_reading(site: Site) -> str:
    return "the electrode's resistance RA" if site.job.supply.system == "TT" else "Ze"


def measured_loop(circuit: Circuit, result: CircuitResult, site: Site) -> Finding | None:
    """Hold a Zs measured cold against 80 % of the limit, unrounded; None without a reading."""
    read_ohm = circuit.readings.zs_ohm
    if read_ohm is None:
        return None
    factor = site.edition.number("factor.measured_cold")
    by_rcd = result.fault_protection is FaultProtection.RCD
    # An RCD trips on its residual current, warm conductor or not: no allowance is due.
    limit_ohm = result.zs_max_ohm if by_rcd else cold_zs_max_ohm(factor, result.zs_max_ohm)
    rule = site.edition.rule("zs.rcd" if by_rcd else "factor.measured_cold")
    point = Point("circuit.zs_measured", result.name, result.id, rule, read_ohm, limit_ohm, "Ω")
    if read_ohm <= limit_ohm:
        return point.passed(f"Zs reads {read_ohm:g} Ω, {limit_ohm:.3g} Ω being allowed cold.")
    return point.failed(
        f"Zs reads {read_ohm:g} Ω, over the {limit_ohm:.3g} Ω allowed cold.", _LOWER_LOOP
    )


def protective_conductor(result: CircuitResult, site: Site) -> Finding:
    """Ask of the protective conductor that it bears the fault: S ≥ √(I²t)/k (543.1.3)."""
    least_mm2 = result.adiabatic_mm2
    point = Point(
        "circuit.adiabatic",
        result.name,
        result.id,
        site.edition.rule("adiabatic"),
        result.cpc_mm2,
        least_mm2,
        "mm²",
        Sense.AT_LEAST,
    )
    if _bears(result, least_mm2):
        return point.passed(f"Cpc {result.cpc_mm2:g} mm², {least_mm2:.2f} mm² being asked.")
    far_a = None if result.zs_ohm is None else site.job.supply.u0_v / result.zs_ohm
    class_mm2 = _class_3_mm2(result, site, far_a or result.ipf_max_a)
    if _bears(result, class_mm2):
        rule = site.edition.rule("class_3_cpc_mm2")
        return replace(point, limit=class_mm2, rule=rule).passed(
            f"Cpc {result.cpc_mm2:g} mm², {class_mm2:g} mm² being asked behind a class 3 device."
        )
    if least_mm2 is None:
        return point.unknown(
            f"The fault current is not known: {_missing_reading(site)} was not read.",
            f"Measure {_missing_reading(site)}.",
        )
    return point.failed(
        f"Cpc {result.cpc_mm2:g} mm², under the {least_mm2:.2f} mm² that the fault asks.",
        "Take the maker's let-through figure, fit a smaller device, or renew the cable.",
    )


def line_conductor(circuit: Circuit, result: CircuitResult, site: Site) -> Finding | None:
    """Ask of the live conductors that they bear a fault at the far end (434.5.2).

    A breaker that covers the cable's overload covers its short-circuit too (435.1); None without a
    fault current. A fault between live conductors is stronger, and so sooner gone, than the one
    to earth that is counted.
    """
    edition, device = site.edition, result.protection
    if result.zs_ohm is None:
        return None
    k_factor = figure(edition.table("k"), circuit.cable.type, "line")
    breaker = device.standard in BREAKERS
    stress = overcurrent_stress(
        Overcurrent(device.standard, device.curve, device.in_a),
        result.zs_ohm,
        limit_s=result.disconnection_s,
        u0_v=site.job.supply.u0_v,
        edition=edition,
    )
    least_mm2 = adiabatic_mm2(stress.current_a, stress.time_s, k_factor)
    line_mm2 = circuit.cable.line_mm2
    point = Point(
        "circuit.line",
        result.name,
        result.id,
        edition.rule("line.bears_fault"),
        line_mm2,
        least_mm2,
        "mm²",
        Sense.AT_LEAST,
    )
    if breaker and result.in_a <= result.iz_a:
        # No figure is shown: what the breaker lets through is far less than its time would.
        return replace(point, value=None, limit=None).passed(
            "Its breaker covers the cable's overload, and so its short-circuit."
        )
    if line_mm2 >= least_mm2:
        return point.passed(f"Line {line_mm2:g} mm², {least_mm2:.2f} mm² being asked by a fault.")
    return point.failed(
        f"Line {line_mm2:g} mm², under the {least_mm2:.2f} mm² that a fault asks.",
        "Fit a device that lets less through, or renew the cable.",
    )


def bears_at(circuit: Circuit, result: CircuitResult, site: Site, fault_a: float) -> bool:
    """Tell whether the cpc bears a fault of so many amperes behind its device."""
    k_factor = figure(site.edition.table("k"), circuit.cable.type, "protective")
    lasts_s = site.edition.number("device.instantaneous_s")
    return _bears(result, _class_3_mm2(result, site, fault_a)) or _bears(
        result, adiabatic_mm2(fault_a, lasts_s, k_factor)
    )


def _bears(result: CircuitResult, least_mm2: float | None) -> bool:
    return least_mm2 is not None and result.cpc_mm2 >= least_mm2


def _class_3_mm2(result: CircuitResult, site: Site, fault_a: float | None) -> float | None:
    device = result.protection
    if fault_a is None or device.standard not in BREAKERS:
        return None
    return class_3_cpc_mm2(site.edition, device.curve, device.in_a, fault_a)
