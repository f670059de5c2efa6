"""The pack's schedules: circuits, demand, choice of SPD."""

from __future__ import annotations

from typing import Any

from boardwright.circuits.results import CircuitResult
from boardwright.core.findings import Finding, Verdict
from boardwright.design import Design
from boardwright.documents.words.circuit_words import device_words, in_way_order, way_numbers
from boardwright.documents.words.figures import (
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
        # What one that does not suit would have had in its favour decides nothing.
        "for": _reasons(candidate.checks, _IN_FAVOUR) if candidate.suitable else [],
        "against": _reasons(candidate.checks, _AGAINST),
    }


def _reasons(checks: tuple[Finding, ...], verdicts: tuple[Verdict, ...]) -> list[str]:
    return [sentence(check.message) for check in checks if check.verdict in verdicts]
