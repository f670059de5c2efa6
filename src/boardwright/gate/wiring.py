"""Each circuit's wiring as found: its protective conductor, its age, its insulation."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from boardwright.core.findings import Finding
from boardwright.core.point import Point
from boardwright.gate.say import Reading, judged
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.standards.edition import Edition

_CRUMBLING = {
    "rubber": "insulated with rubber",
    "fabric": "insulated with fabric",
    "lead-sheathed": "lead-sheathed",
}
_LEFT_OFF = "or leave it off, isolated and labelled, with the owner's written agreement"


def cpc(circuit: Circuit, edition: Edition) -> Finding:
    """Is there a protective conductor, and is it whole?"""
    if circuit.cable.cpc_mm2 == 0:
        return _no_cpc(circuit, edition)
    point = _point("gate.cpc", circuit, edition, "gate.cpc_continuity")
    readings = circuit.readings
    if readings.cpc_continuous == "no":
        return point.failed(
            "The protective conductor is broken.", f"Find the break and mend it, {_LEFT_OFF}."
        )
    # R1+R2 or r2 cannot be read through a broken conductor: either proves it.
    proved = readings.r1r2_ohm is not None or readings.r2_ohm is not None
    if readings.cpc_continuous == "yes" or proved:
        return point.passed("The protective conductor is continuous.")
    return point.unknown(
        "Continuity of the protective conductor was not proved.",
        "Read R1+R2, or R2 with a wander lead.",
    )


def _no_cpc(circuit: Circuit, edition: Edition) -> Finding:
    if circuit.serves != "lighting":
        point = _point("gate.cpc", circuit, edition, "cpc.required")
        return point.failed("The circuit has no protective conductor.", f"Rewire it, {_LEFT_OFF}.")
    point = _point("gate.cpc", circuit, edition, "gate.no_cpc")
    notice = "with a notice at the board and a note on the certificate"
    if circuit.owner_replaces_class_i == "no":
        return point.stopped(
            "The lights have no protective conductor, and the owner will not do without Class I "
            "fittings.",
            f"Only a rewire or an added protective conductor opens the way, {_LEFT_OFF}.",
        )
    if circuit.metal_fittings == "no":
        return point.advised(
            "The lights have no protective conductor; every fitting and switch is Class II.",
            f"Rewire when there is a chance; until then reconnect {notice}.",
        )
    if circuit.owner_replaces_class_i == "yes":
        return point.failed(
            "The lights have no protective conductor; the owner agrees to Class II fittings only.",
            f"Change every metal fitting and switch first, and reconnect {notice}; or rewire.",
        )
    return point.failed(
        "The lights have no protective conductor.",
        f"Have the owner agree to Class II fittings and switches only, {notice}; or add a "
        "conductor; or rewire.",
    )


def condition(circuit: Circuit, edition: Edition) -> Finding:
    """Will the wiring bear being moved to a new board?"""
    point = _point("gate.wiring", circuit, edition, "gate.wiring")
    found = circuit.cable.condition
    if found is None:
        return point.unknown(
            "The kind and state of the cable were not recorded.",
            "Look at it where it enters the board and at one point of the circuit.",
        )
    if found in _CRUMBLING:
        return point.failed(
            f"The cable is {_CRUMBLING[found]}: its insulation may crumble when it is moved.",
            f"Rewire it, {_LEFT_OFF}. Joining it on in a closed box, hardly moved, only puts "
            "this off: "
            "a danger that is known cannot be certified around.",
        )
    if found == "aluminium":
        return point.failed(
            "The conductors are aluminium.",
            "Join them to copper in connectors declared for both metals, or rewire; the board's "
            "terminals are for copper.",
        )
    if found == "imperial":
        return point.advised(
            "The cable is of an imperial size, with thin strands.",
            "Rate it by the next smaller metric size, and see every strand into its terminal.",
        )
    return point.passed("The cable is sound.")


def insulation(circuit: Circuit, edition: Edition) -> Finding:
    """Is the insulation good enough for a device that trips at 30 mA?"""
    mohm, test_v = circuit.readings.insulation_mohm, circuit.readings.insulation_test_v
    least_mohm, good_mohm = edition.number("ir.min_mohm"), edition.number("ir.investigate_mohm")
    point = _point(
        "gate.insulation", circuit, edition, "ir.min_mohm", Reading(mohm, least_mohm, "MΩ")
    )
    if mohm is None:
        return point.unknown(
            "Insulation was not read.",
            f"Read it before quoting, at {edition.number('ir.test_v'):g} V, loads unplugged and "
            "switches closed.",
        )
    if mohm < least_mohm:
        return point.failed(
            f"{mohm:g} MΩ is under {least_mohm:g} MΩ.",
            f"Unplug loads and halve the circuit until the fault is found; mend it, {_LEFT_OFF}.",
        )
    if mohm < good_mohm:
        return point.advised(
            f"{mohm:g} MΩ holds, but under {good_mohm:g} MΩ a new RCD may trip.",
            "Read it again with every appliance off; look for damp, or for one old element.",
        )
    if test_v != edition.number("ir.test_v"):
        at = "at a voltage not recorded" if test_v is None else f"at {test_v} V"
        return point.advised(
            f"{mohm:g} MΩ, but read {at}.",
            f"Read it again at {edition.number('ir.test_v'):g} V with electronics and any SPD "
            "taken off.",
        )
    return point.passed(f"{mohm:g} MΩ at {test_v} V.")


def insulation_together(job: Job, edition: Edition) -> Iterator[Finding]:
    """Would the board read enough with all its circuits connected, as it is tested (643.3.2)?

    Each circuit by itself is judged above: only what none of them shows is told here.
    """
    least_mohm = edition.number("ir.min_mohm")
    read = [c.readings.insulation_mohm for c in job.circuits if c.existing]
    known = [mohm for mohm in read if mohm is not None and mohm > 0]
    if len(known) < len(read) or not known or min(known) < least_mohm:
        return
    together_mohm = parallel_mohm(known)
    if together_mohm < least_mohm:
        reading = Reading(together_mohm, least_mohm, "MΩ")
        rule = edition.rule("ir.min_mohm")
        yield judged("gate.insulation.together", "Insulation", "board", rule, reading).advised(
            f"Each circuit holds, but all {len(known)} together would read {together_mohm:.2f} MΩ "
            f"at the board, under {least_mohm:g} MΩ.",
            "Find the lowest of them and mend it: the board is tested with its circuits connected.",
        )


def parallel_mohm(insulation_mohm: Sequence[float]) -> float:
    """Return what insulation reads in parallel. [MΩ]

    Examples
    --------
    >>> round(parallel_mohm([50, 20, 100, 5]), 3)
    3.571
    """
    return 1 / sum(1 / mohm for mohm in insulation_mohm)


def _point(
    check: str, circuit: Circuit, edition: Edition, key: str, reading: Reading | None = None
) -> Point:
    if reading is None:
        return judged(check, circuit.name, circuit.id, edition.rule(key))
    return judged(check, circuit.name, circuit.id, edition.rule(key), reading)


def wiring(circuit: Circuit, edition: Edition) -> Iterator[Finding]:
    """Judge an existing circuit's wiring."""
    yield cpc(circuit, edition)
    yield condition(circuit, edition)
    yield insulation(circuit, edition)
