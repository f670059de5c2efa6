"""Checks on residual-current devices: where they must be, their type, leakage, shared neutrals."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.catalogue.devices import Kind
from boardwright.circuits.rcd import (
    TYPES,
    leakage_limit_a,
    least_rcd_type,
    rcd_need_keys,
    trip_chance,
)
from boardwright.circuits.results import AfddNeed, CircuitResult, RcdNeed
from boardwright.core.findings import Finding
from boardwright.job.circuit import Circuit
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point, joined
from boardwright.verification.work import (
    circuits_of_work,
    device_of,
    keeps_board,
    rcd_of,
)


@check
def required(facts: Facts) -> Iterator[Finding]:
    """Ask 30 mA for sockets, lights, bathrooms, hidden cables and outdoors (415.1.1)."""
    for circuit, result in circuits_of_work(facts):
        keys = rcd_need_keys(circuit, result.in_a, facts.edition)
        base = facts.edition.rule("rcd.additional_idn_a")
        rule = joined(*map(facts.edition.rule, keys)) if keys else base
        most_a = facts.edition.number("rcd.additional_idn_a")
        _, idn_a = rcd_of(facts, result)
        point = Point("rcd.required", result.name, result.id, rule, idn_a, most_a, "A")
        if result.protection.rcd_need is not RcdNeed.REQUIRED:
            yield point.spared("Nothing here asks for additional protection.")
            continue
        why = "; ".join(result.protection.rcd_reasons)
        if idn_a is not None and idn_a <= most_a:
            yield point.passed(f"Behind an RCD of {idn_a * 1000:g} mA, needed for: {why}.")
        # Of a charging point its own check says it.
        elif circuit.serves != "EV point":
            has = "no RCD" if idn_a is None else f"an RCD of {idn_a * 1000:g} mA only"
            yield point.failed(
                f"Behind {has}; {most_a * 1000:g} mA is needed for: {why}.", "Fit an RCBO of 30 mA."
            )


@check
def left_as_found(facts: Facts) -> Iterator[Finding]:
    """Where the board stays, say which circuits would have an RCD today."""
    if not keeps_board(facts) or facts.job.existing_board is None:
        return
    found = facts.job.existing_board.devices
    rule = facts.edition.rule("rcd.additional_idn_a")
    for old in (d for d in found if d.rcd_type == "AC"):
        type_rule = facts.edition.rule("rcd.type_rule")
        yield Point("rcd.as_found", "RCD as found", f"as-found-{old.way}", type_rule).advised(
            f"The {old.kind} on way {old.way} is of type AC: DC in a residual current may "
            "blind it.",
            "Say so in the comments on the existing installation; offer one of type A.",
        )
    most_a = facts.edition.number("rcd.additional_idn_a")
    if any(d.kind == "RCCB" and d.idn_a is not None and d.idn_a <= most_a for d in found):
        return
    devices = {d.circuit: d for d in found if d.circuit}
    for circuit in facts.job.circuits:
        result, device = facts.plan.circuit(circuit.id), devices.get(circuit.id)
        needed = result.protection.rcd_need is RcdNeed.REQUIRED
        if circuit.existing and needed and device is not None and device.idn_a is None:
            yield Point("rcd.as_found", circuit.name, circuit.id, rule).advised(
                "Its way on the board as found has no RCD of its own; the circuit itself is not "
                "part of this work.",
                "Say so in the comments on the existing installation; offer an RCBO.",
            )


@check
def type_suits(facts: Facts) -> Iterator[Finding]:
    """Ask of the RCD that it sees the residual currents its loads can make (531.3.3)."""
    for circuit, result in circuits_of_work(facts):
        fitted, idn_a = rcd_of(facts, result)
        # That a charging point's smooth DC is seen, the check on it says.
        if idn_a is not None and fitted and not _blinded(circuit, fitted):
            yield _type(facts, circuit, result, fitted)


def _blinded(circuit: Circuit, fitted: str) -> bool:
    detects = circuit.ev is not None and circuit.ev.dc_detection == "yes"
    return circuit.serves == "EV point" and fitted != "B" and not detects


def _type(facts: Facts, circuit: Circuit, result: CircuitResult, fitted: str) -> Finding:
    least = least_rcd_type(circuit, facts.catalogue, facts.edition)
    from_maker = circuit.maker_rcd_type is not None
    key = "pv.rcd_type" if circuit.serves in ("PV", "battery") else "rcd.type_rule"
    point = Point("rcd.type", result.name, result.id, facts.edition.rule(key))
    if TYPES.index(fitted) < TYPES.index(least):
        return point.failed(
            f"Type {fitted}, where {'its maker asks' if from_maker else 'it needs'} type {least}.",
            f"Fit a device of type {least}"
            + ("." if from_maker else ", or get the maker's word that less will do."),
        )
    wished = circuit.wanted.rcd_type
    if wished and TYPES.index(wished) < TYPES.index(least):
        return point.advised(
            f"Type {wished} is what the job says; it needs type {least}, and type {fitted} is "
            "taken.",
            f"Write type {least} into the job; never put type {wished} back.",
        )
    if circuit.serves == "heat pump" and not from_maker:
        return point.unknown(
            f"Type {fitted}; what the heat pump's maker asks is not known.",
            "Read the maker's instructions: F or B is usual for inverter drives.",
        )
    asked = f"its maker asks type {least}" if from_maker else f"type {least} is enough"
    return point.passed(f"Type {fitted}; {asked}.")


@check
def leakage_fits(facts: Facts) -> Iterator[Finding]:
    """Hold what leaks all day against 30 % of IdN, lest the RCD trip by itself (531.3.2)."""
    shared = {i for s in facts.plan.sections for i in s.circuit_ids}
    measured = {result.id for result in facts.plan.circuits if result.leakage_measured}
    worked_on = {result.id for _, result in circuits_of_work(facts)}
    for result in facts.plan.circuits:
        idn_a = rcd_of(facts, result)[1] if result.id in worked_on else None
        if result.id in shared or result.leakage_a == 0:
            continue
        if idn_a is not None:
            point = _leakage_point(facts, result.name, result.id, result.leakage_a, idn_a)
            yield _leakage(facts, point, idn_a, read=result.id in measured)
        elif result.id in measured:
            yield from _leaks_unguarded(facts, result)
    for section in facts.plan.sections:
        if section.idn_a is not None:
            name = f"Section {section.id.removeprefix('rcd-').upper()}"
            point = _leakage_point(facts, name, section.id, section.leakage_a, section.idn_a)
            yield _leakage(
                facts, point, section.idn_a, read=measured.issuperset(section.circuit_ids)
            )


def _leaks_unguarded(facts: Facts, result: CircuitResult) -> Iterator[Finding]:
    """Tell of a reading that an RCD would not bear, where this work fits none."""
    idn_a = facts.edition.number("rcd.additional_idn_a")
    point = _leakage_point(facts, result.name, result.id, result.leakage_a, idn_a)
    if round(result.leakage_a - (point.limit or 0.0), 9) > 0:
        yield point.advised(
            f"{result.leakage_a * 1000:.1f} mA leak to earth, read; this work gives it no RCD, and "
            f"one of {idn_a * 1000:g} mA should bear {(point.limit or 0.0) * 1000:g} mA at most.",
            "Find the appliance or the fault that leaks.",
        )


def _leakage_point(facts: Facts, name: str, id_: str, leakage_a: float, idn_a: float) -> Point:
    limit_a = leakage_limit_a(facts.edition.number("rcd.leakage_fraction"), idn_a)
    rule = facts.edition.rule("rcd.leakage_fraction")
    return Point("rcd.leakage", name, id_, rule, leakage_a, limit_a, "A")


def _leakage(facts: Facts, point: Point, idn_a: float, *, read: bool) -> Finding:
    leakage_a, limit_a = point.value or 0.0, point.limit or 0.0
    shown = f"{leakage_a * 1000:.1f} mA of standing leakage, {'read' if read else 'estimated'}"
    # A sum of exactly the limit must not pass it by a last binary digit.
    if round(leakage_a - limit_a, 9) <= 0:
        return point.passed(f"{shown}; {limit_a * 1000:g} mA may pass on {idn_a * 1000:g} mA.")
    chance = trip_chance(leakage_a, idn_a, facts.edition)
    sentence = f"{shown}, over {limit_a * 1000:g} mA: {chance}."
    remedy = "Divide the circuits over more RCDs, or find what leaks."
    if read:
        return point.failed(sentence, remedy)
    return point.advised(sentence, f"Clamp the line and neutral together to be sure. {remedy}")


@check
def sum_on_electrode(facts: Facts) -> Iterator[Finding]:
    """On TT every RCBO may let its IdN flow untripped: their sum lifts the electrode (411.5.3)."""
    if facts.job.supply.system != "TT":
        return
    residual = [idn for _, r in circuits_of_work(facts) if (idn := rcd_of(facts, r)[1]) is not None]
    sum_a = sum(residual)
    electrode_ohm = facts.job.earthing.electrode_ohm
    # That it was not read, the gate says.
    if not sum_a or electrode_ohm is None:
        return
    limit_ohm = facts.edition.number("touch_voltage_v") / sum_a
    rule = facts.edition.rule("touch_voltage_v")
    point = Point(
        "rcd.sum_on_electrode", "Electrode", "electrode", rule, electrode_ohm, limit_ohm, "Ω"
    )
    shown = f"{len(residual)} RCDs may together let {sum_a * 1000:g} mA flow untripped"
    if electrode_ohm <= limit_ohm:
        yield point.passed(f"{shown}: RA {electrode_ohm:g} Ω is within {limit_ohm:.0f} Ω.")
    else:
        yield point.advised(
            f"{shown}: RA {electrode_ohm:g} Ω is over the {limit_ohm:.0f} Ω that keeps 50 V.",
            "Not a rule of its own; lower the electrode's resistance, or put a time-delayed RCD "
            "ahead of all.",
        )


@check
def neutrals_separate(facts: Facts) -> Iterator[Finding]:
    """Ask a neutral of its own of each new circuit (314.4); of those found, the gate asks it."""
    for circuit, result in circuits_of_work(facts):
        shares = circuit.readings.shares_neutral_with
        if circuit.existing or not (shares or circuit.readings.neutral_separate == "no"):
            continue
        rule = facts.edition.rule("rcd.shared_neutral")
        other = facts.job.circuit(shares).name if shares else "another circuit"
        yield Point("rcd.shared_neutral", result.name, result.id, rule).failed(
            f"A new circuit, and its neutral is shared with {other}: the RCD of each trips when "
            "the other is loaded.",
            "Run a neutral of its own.",
        )


@check
def arc_faults(facts: Facts) -> Iterator[Finding]:
    """Arc-fault detection on socket circuits, by the class of building (421.1.7)."""
    for circuit, result in circuits_of_work(facts):
        if result.protection.afdd is AfddNeed.NONE:
            continue
        rule = facts.edition.rule("afdd.classes")
        point = Point("afdd.need", result.name, result.id, rule)
        device = device_of(facts, circuit.id)
        fitted = device is not None and device.kind is Kind.AFDD
        where = facts.job.premises.building_class
        if fitted:
            yield point.passed("An AFDD is fitted.")
        elif result.protection.afdd is AfddNeed.RECOMMENDED:
            yield point.advised(
                "An AFDD is recommended for this socket circuit.",
                "Offer it to the owner and note the answer.",
            )
        elif device is None:
            yield point.unknown(
                f"An AFDD is a duty here ({where}); no device is chosen yet.",
                "Choose a board whose maker has one.",
            )
        else:
            yield point.failed(
                f"An AFDD is a duty here ({where}), and {device.name} is none.",
                "Choose a board whose maker has an AFDD with RCD for this rating.",
            )
