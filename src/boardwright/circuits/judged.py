"""All that is found of one circuit's load, cable and device, in one call."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.circuits import judged_fault, judged_load
from boardwright.circuits.results import CircuitResult
from boardwright.circuits.site import Site
from boardwright.core.findings import Finding, Verdict
from boardwright.job.circuit import Circuit

OPEN = frozenset({Verdict.FAIL, Verdict.UNKNOWN})
"""Verdicts with which nobody would sign."""


def judged(circuit: Circuit, result: CircuitResult, site: Site) -> tuple[Finding, ...]:
    """Return what is found of a circuit: overload, volt drop, earth fault, protective conductor."""
    return tuple(_judged(circuit, result, site))


def _judged(circuit: Circuit, result: CircuitResult, site: Site) -> Iterator[Finding]:
    yield judged_load.overload(circuit, result, site)
    odd = judged_load.pair(circuit, result, site)
    if odd is not None:
        yield odd
    yield judged_load.volt_drop(circuit, result, site)
    yield judged_fault.loop(circuit, result, site)
    if circuit.cable.cpc_mm2 > 0:
        yield judged_fault.protective_conductor(result, site)
    line = judged_fault.line_conductor(circuit, result, site)
    if line is not None:
        yield line
    measured = judged_fault.measured_loop(circuit, result, site)
    if measured is not None:
        yield measured


def open_findings(circuit: Circuit, site: Site) -> tuple[Finding, ...]:
    """Return what of a circuit fails or is not known.

    Raises
    ------
    FieldError
        Its cable's size or method is none that the table has.
    """
    found = judged(circuit, site.assessed(circuit), site)
    return tuple(finding for finding in found if finding.verdict in OPEN)


def hindrances(circuit: Circuit, site: Site) -> tuple[Finding, ...]:
    """Return what stands against a circuit that is only thought of.

    A loop that nobody has read stands against no length and no size: it is told beside the answer.
    """
    unread = site.origin.zdb_ohm is None
    return tuple(
        finding
        for finding in open_findings(circuit, site)
        if not (unread and finding.verdict is Verdict.UNKNOWN and finding.check in _OF_THE_LOOP)
    )


def planned_against(circuit: Circuit, site: Site) -> tuple[Finding, ...]:
    """Return what stands against planning a circuit so, ways that are only borne included.

    A fixed load may lawfully stand behind a device over its cable (433.3.1); nobody plans it.
    """
    against = hindrances(circuit, site)
    load = judged_load.overload(circuit, site.assessed(circuit), site)
    return against if against or load.verdict is Verdict.PASS else (load,)


_OF_THE_LOOP = frozenset({"circuit.zs", "circuit.adiabatic"})
