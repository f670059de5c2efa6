"""Checks on charging points, sources of energy, and whom to tell of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from boardwright.catalogue.devices import DeviceType
from boardwright.circuits.results import CircuitResult
from boardwright.core.findings import Finding
from boardwright.job.circuit import Circuit
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point, joined
from boardwright.verification.work import (
    circuits_of_work,
    device_of,
    incomer_rcd,
    rcd_of,
    section_device,
    section_of,
)

_TOLD = ("EV point", "heat pump", "PV", "battery")


def _points(facts: Facts, check_id: str, key: str) -> Iterator[tuple[Point, Circuit]]:
    for circuit, result in circuits_of_work(facts):
        if circuit.serves == "EV point":
            yield Point(check_id, result.name, result.id, facts.edition.rule(key)), circuit


@check
def charging_point_rcd(facts: Facts) -> Iterator[Finding]:
    """Each charging point needs its own 30 mA RCD that switches all live conductors (722.531.3)."""
    for point, circuit in _points(facts, "ev.rcd", "ev.own_rcd"):
        result = facts.plan.circuit(circuit.id)
        _, idn_a = rcd_of(facts, result)
        own = section_of(facts, circuit.id) is None
        enough = idn_a is not None and idn_a <= facts.edition.number("rcd.additional_idn_a")
        if not (own and enough):
            yield point.failed(
                "It has no 30 mA RCD of its own." if not own else "It has no RCD of 30 mA.",
                "Fit an RCBO for this point alone.",
            )
        elif _switched(facts, result) < circuit.phases + 1:
            yield point.failed(
                "Its RCD does not switch every live conductor.",
                "Fit an RCBO that switches the neutral as well.",
            )
        else:
            yield point.passed("Its own 30 mA RCD switches all live conductors.")


def _switched(facts: Facts, result: CircuitResult) -> int:
    device = device_of(facts, result.id)
    return result.protection.poles if device is None else device.poles


@check
def charging_point_dc(facts: Facts) -> Iterator[Finding]:
    """Smooth DC from a charging point must be seen: type B, or 6 mA detection (722.531.3.101)."""
    for point, circuit in _points(facts, "ev.dc", "ev.dc_a"):
        fitted, idn_a = rcd_of(facts, facts.plan.circuit(circuit.id))
        # Where there is no RCD to be blinded, its own check says so.
        if idn_a is None:
            continue
        detects = circuit.ev.dc_detection if circuit.ev else None
        if fitted == "B":
            yield point.passed("Type B sees smooth DC.")
        elif detects == "yes":
            yield point.passed("The point detects 6 mA of DC itself (RDC-DD).")
        elif detects is None:
            yield point.unknown(
                "Whether the point detects 6 mA of DC is not known.",
                "Read the maker's declaration, or fit type B.",
            )
        else:
            yield point.failed(
                f"The point detects no DC, and type {fitted} is blinded by it.",
                "Fit type B.",
            )


@check
def charging_point_pen(facts: Facts) -> Iterator[Finding]:
    """Outdoors on PME a broken PEN must not make the vehicle live (722.411.4.1)."""
    for point, circuit in _points(facts, "ev.pen", "ev.pen"):
        if facts.job.supply.system != "TN-C-S":
            yield point.spared(f"The supply is {facts.job.supply.system}: no PEN at the origin.")
            continue
        outdoors = circuit.ev.outdoors if circuit.ev else None
        guarded = circuit.ev.pen_protection if circuit.ev else None
        if outdoors == "no":
            yield point.spared("The vehicle stays indoors.")
        elif guarded == "yes":
            yield point.passed("The point protects against a broken PEN itself.")
        elif guarded is None:
            yield point.unknown(
                "Whether the point protects against a broken PEN is not known.",
                "Read the maker's declaration; else a device for it, or an earth rod of its own.",
            )
        else:
            yield point.failed(
                "Outdoors on PME, and nothing protects against a broken PEN.",
                "Fit a device that disconnects all live conductors and PE on a broken PEN, or "
                "make it a TT island.",
            )


@check
def direction(facts: Facts) -> Iterator[Finding]:
    """Ask of what is fed from both sides that it is made for it (530.3.201)."""
    for circuit, result in circuits_of_work(facts):
        if not result.protection.bidirectional:
            continue
        rule = facts.edition.rule("direction.device")
        point = Point("direction.device", result.name, result.id, rule)
        chain = tuple(_fed_both_ways(facts, circuit.id))
        if not chain:
            yield point.unknown("No device is chosen yet.", "Choose a board.")
        elif wrong := [d.name for d in chain if d.bidirectional is False]:
            yield point.failed(
                f"Fed from both sides, but made for one: {', '.join(wrong)}.",
                "Fit devices that their maker declares for both directions.",
            )
        elif silent := [d.name for d in chain if d.bidirectional is None]:
            yield point.unknown(
                f"Its maker does not say whether both directions are allowed: {', '.join(silent)}.",
                "Get the maker's declaration.",
            )
        else:
            yield point.passed("Every device on its way is declared for both directions.")


def _fed_both_ways(facts: Facts, circuit_id: str) -> Iterator[DeviceType]:
    """Yield the protective devices that a source on a circuit feeds backwards."""
    section = section_of(facts, circuit_id)
    found = (
        device_of(facts, circuit_id),
        section_device(facts, section) if section else None,
        incomer_rcd(facts),
    )
    yield from (device for device in found if device is not None)


@check
def dual_supply_notice(facts: Facts) -> Iterator[Finding]:
    """Where energy comes from two sides, notices must say so (514.15)."""
    sources = [c.name for c in facts.job.circuits if c.source or c.serves in ("PV", "battery")]
    if sources:
        rule = facts.edition.rule("notice.dual_supply")
        yield Point("notice.dual_supply", "Notices", "notices", rule).advised(
            f"A second source feeds the home: {', '.join(sources)}.",
            f"Fix {facts.edition.text('notice.dual_supply')}; isolate both before any work.",
        )


@check
def network_operator_told(facts: Facts) -> Iterator[Finding]:
    """Name whom the network operator must be told of: charging, heat pumps, generation."""
    told = [c.name for c in facts.job.circuits if c.serves in _TOLD or c.source]
    if not told:
        return
    rule = facts.edition.rule("notice.network_operator")
    point = Point("notice.network_operator", "Network operator", "supply", rule)
    shown = f"The network operator must be told of: {', '.join(told)}"
    most_w, phase_w = facts.edition.number("generation.tell_afterwards_w"), _generation_w(facts)
    if phase_w > most_w:
        limit = facts.edition.rule("generation.tell_afterwards_w")
        point = replace(point, rule=joined(rule, limit), value=phase_w, limit=most_w, unit="W")
        yield point.advised(
            f"{shown}. Sources of {phase_w / 1000:g} kW on one phase are over the "
            f"{most_w / 1000:g} kW that may be connected first and told afterwards.",
            "Apply and wait for its consent before anything is connected; keep the answer.",
        )
    else:
        yield point.advised(
            f"{shown}.",
            "Send its form, for some loads and sources before they are connected; keep the answer.",
        )


def _generation_w(facts: Facts) -> float:
    """Return what all sources together may feed into the fullest phase. [W]"""
    feeds_w: dict[str, float] = {}
    every_w = 0.0
    for circuit in facts.job.circuits:
        if circuit.source is None:
            continue
        if circuit.phases > 1:
            every_w += circuit.source.power_w / circuit.phases
        else:
            phase = facts.plan.circuit(circuit.id).phase
            feeds_w[phase] = feeds_w.get(phase, 0.0) + circuit.source.power_w
    return every_w + max(feeds_w.values(), default=0.0)
