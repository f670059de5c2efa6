"""The pack's schedules: circuits, demand, choice of SPD, and the form for the readings."""

from __future__ import annotations

import math
from typing import Any

from boardwright.circuits.results import CircuitResult, FaultProtection
from boardwright.core.findings import Finding, Verdict
from boardwright.design import Design
from boardwright.documents.words.circuit_words import device_words, in_way_order, way_numbers
from boardwright.documents.words.figures import (
    NO_BREAK,
    fixed,
    number,
    quantity,
    sentence,
    source,
)
from boardwright.spd.results import Candidate, SpdChoice

Content = dict[str, Any]

_IN_WHOLE_OHM = 100

_IN_FAVOUR = (Verdict.PASS,)
_AGAINST = (Verdict.STOP, Verdict.FAIL, Verdict.UNKNOWN, Verdict.ADVISE)


def circuits(design: Design) -> Content:
    """Return the circuit schedule: one row a circuit, in the order of the ways."""
    ways = way_numbers(design)
    rows = [_circuit(circuit, ways.get(circuit.id, "")) for circuit in in_way_order(design)]
    notes = []
    if any(circuit.method_assumed for circuit in design.plan.circuits):
        notes.append("* the route is not known; the worst plausible method was taken.")
    if any(circuit.ib_assumed for circuit in design.plan.circuits):
        notes.append("† the load is not known; the usual design current was taken.")
    return {"rows": rows, "notes": notes}


def demand(design: Design) -> Content:
    """Return the maximum demand with each allowance in words."""
    found = design.plan.demand
    rows = [
        [
            sentence(f"{line.phase} {line.purpose}").rstrip("."),
            fixed(line.connected_a, 1),
            fixed(line.demand_a, 1),
            line.allowance,
        ]
        for line in found.lines
    ]
    total = f"Maximum demand {quantity(found.total_a, 'A')}"
    if len(found.per_phase_a) > 1:
        parts = ", ".join(f"{p} {quantity(a, 'A')}" for p, a in found.per_phase_a.items())
        total += f" on the fullest phase ({parts})"
    how = "logged on site" if found.logged else source(found.rule)
    return {"rows": rows, "total": f"{total}.", "source": how}


def spd(design: Design) -> Content:
    """Return the choice of SPD: the one taken, then what speaks for and against each."""
    choice = design.chosen.spd
    return {
        "reason": sentence(choice.reason),
        "sizes": _sizes(choice),
        "rows": [_candidate(candidate, choice) for candidate in choice.candidates],
    }


def readings(design: Design) -> Content:
    """Return the form for the readings: its limits are printed, its figures are measured."""
    ways = way_numbers(design)
    rows = [
        {
            "way": ways.get(circuit.id, ""),
            "name": circuit.name,
            "ring": design.job.circuit(circuit.id).topology == "ring",
            "zs_max": _reading_limit(circuit, design),
            "rcd": circuit.protection.idn_a is not None,
        }
        for circuit in in_way_order(design)
    ]
    return {"rows": rows, "origin": _origin(design), "limits": _limits(design)}


def _reading_limit(circuit: CircuitResult, design: Design) -> str:
    """Return the largest reading of Zs: less where a breaker must trip, for the cable was cold."""
    limit_ohm = circuit.zs_max_ohm
    key = "factor.measured_cold"
    if circuit.fault_protection is FaultProtection.BREAKER and design.edition.has(key):
        # Down, never up: a reading that only rounding lets through is not within.
        limit_ohm = math.floor(round(limit_ohm * design.edition.number(key) * 100, 6)) / 100
    return _ohms(limit_ohm)


def _circuit(circuit: CircuitResult, way: str) -> list[str]:
    need = "" if circuit.adiabatic_mm2 is None else fixed(circuit.adiabatic_mm2, 2)
    return [
        way,
        circuit.name,
        fixed(circuit.ib_a, 1) + ("†" if circuit.ib_assumed else ""),
        device_words(circuit),
        fixed(circuit.iz_a, 1),
        circuit.method + ("*" if circuit.method_assumed else ""),
        f"{fixed(circuit.volt_drop_v, 1)} / {fixed(circuit.volt_drop_limit_v, 1)}",
        f"{_ohms(circuit.zs_ohm) or '?'} / {_ohms(circuit.zs_max_ohm)}",
        f"{need or '?'} / {number(circuit.cpc_mm2)}",
    ]


def _ohms(value: float | None) -> str:
    """Return a loop impedance: two decimals as testers show it, none in the hundreds of a TT."""
    if value is None:
        return ""
    return fixed(value, 2) if value < _IN_WHOLE_OHM else number(value)


def _sizes(choice: SpdChoice) -> str:
    if choice.candidate is None:
        return ""
    backup = choice.candidate.backup
    return (
        f"Connection {choice.connection}; line and neutral {quantity(choice.csa_line_mm2, 'mm2')}, "
        f"earth {quantity(choice.csa_pe_mm2, 'mm2')}; back-up: {backup.kind.value}"
        f"{f', {quantity(backup.rating_a, chr(65))}' if backup.rating_a else ''}."
    )


def _candidate(candidate: Candidate, choice: SpdChoice) -> Content:
    taken = choice.candidate is not None and candidate.device.id == choice.candidate.device.id
    return {
        "name": candidate.device.name,
        "maker": candidate.device.maker,
        "state": "taken" if taken else ("would do" if candidate.suitable else "does not suit"),
        "for": _reasons(candidate.checks, _IN_FAVOUR),
        "against": _reasons(candidate.checks, _AGAINST),
    }


def _reasons(checks: tuple[Finding, ...], verdicts: tuple[Verdict, ...]) -> list[str]:
    return [sentence(check.message) for check in checks if check.verdict in verdicts]


def _origin(design: Design) -> list[list[str]]:
    supply, origin = design.job.supply, design.plan.origin
    before = "" if supply.ze_ohm is None else f"survey {quantity(supply.ze_ohm, 'ohm')}"
    ipf = "" if supply.ipf_a is None else f"survey {quantity(supply.ipf_a, 'A')}"
    board = origin.ipf_board_max_a
    return [
        ["Ze", "Ω", before],
        ["Ipf at the origin", "kA", ipf],
        ["Ipf at the board", "kA", f"design {quantity(board, 'A')}" if board else ""],
        ["Polarity of the supply", "", ""],
        ["Earthing conductor", "Ω", ""],
        ["Main bonding", "Ω", ""],
        ["SPD indicator read", "", ""],
    ]


def _limits(design: Design) -> list[str]:
    """Return the limits of the readings as sentences, each with its source."""
    edition = design.edition
    found = []
    for key, words in (
        ("ir.min_mohm", "Insulation at least {} MΩ"),
        ("rcd.time_s", "RCD at its rated residual current within {} ms"),
        (
            "factor.measured_cold",
            "Zs max, where a breaker disconnects, is {} of the tabulated figure, for a cold cable",
        ),
    ):
        if edition.has(key):
            entry = edition.entry(key)
            shown = edition.number(key) * (1000 if entry.unit == "s" else 1)
            found.append(f"{words.format(number(shown))} ({source(edition.rule(key))}).")
    return [text.replace(" MΩ", f"{NO_BREAK}MΩ").replace(" ms", f"{NO_BREAK}ms") for text in found]
