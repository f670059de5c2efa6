"""Which circuits the work covers, and which devices now stand in them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from boardwright.board.results import Role, Scheme
from boardwright.catalogue.devices import DeviceType
from boardwright.circuits.remedy import ways_in_words
from boardwright.circuits.results import CircuitResult, Section
from boardwright.circuits.site import Site
from boardwright.core.findings import Finding, Verdict
from boardwright.job.circuit import Circuit
from boardwright.verification.facts import Facts


def site_of(facts: Facts) -> Site:
    """Return the home around its circuits."""
    return Site(facts.job, facts.plan.origin, facts.catalogue, facts.edition)


def with_ways_out(finding: Finding, circuit: Circuit, facts: Facts) -> Finding:
    """Return a failing finding with the ways out that were tried, where one change is enough."""
    if finding.verdict is not Verdict.FAIL:
        return finding
    tried = ways_in_words(circuit, site_of(facts))
    return replace(finding, remedy=tried) if tried else finding


def keeps_board(facts: Facts) -> bool:
    """Tell whether the board as found stays, so that its circuits are not part of the work."""
    return facts.board is not None and facts.board.scheme is not Scheme.NEW_BOARD


def circuits_of_work(facts: Facts) -> Iterator[tuple[Circuit, CircuitResult]]:
    """Yield the circuits that the work touches, as surveyed and as worked out."""
    for circuit in facts.job.circuits:
        if not (keeps_board(facts) and circuit.existing):
            yield circuit, facts.plan.circuit(circuit.id)


def copper_of_work(facts: Facts) -> Iterator[tuple[Circuit, CircuitResult]]:
    """Yield those of copper: figures of copper say nothing of an aluminium cable."""
    for circuit, result in circuits_of_work(facts):
        if circuit.cable.condition != "aluminium":
            yield circuit, result


def section_of(facts: Facts, circuit_id: str) -> Section | None:
    """Return the section a circuit shares its RCD with, if any."""
    return next((s for s in facts.plan.sections if circuit_id in s.circuit_ids), None)


def device_of(facts: Facts, circuit_id: str) -> DeviceType | None:
    """Return the device chosen for a circuit, None before a board is chosen."""
    if facts.board is None:
        return None
    return next((i.device for i in facts.board.items if i.circuit_id == circuit_id), None)


def section_device(facts: Facts, section: Section) -> DeviceType | None:
    """Return the RCD chosen for a section, None before a board is chosen."""
    if facts.board is None:
        return None
    items = (i for i in facts.board.items if i.role is Role.SECTION_RCD)
    return next((i.device for i in items if i.id == section.id), None)


def incomer_rcd(facts: Facts) -> DeviceType | None:
    """Return the RCD ahead of all circuits, if there is one."""
    if facts.board is None:
        return None
    return next((i.device for i in facts.board.items if i.role is Role.INCOMER_RCD), None)


def rcd_of(facts: Facts, result: CircuitResult) -> tuple[str, float | None]:
    """Return type and IdN of the RCD that a circuit is behind; empty and None without one. [A]

    What was chosen counts; before that, what was asked for.
    """
    own, section = device_of(facts, result.id), section_of(facts, result.id)
    if own is not None and own.idn_a is not None:
        return own.rcd_type, own.idn_a
    if section is not None:
        shared = section_device(facts, section)
        return (section.rcd_type, section.idn_a) if shared is None else _residual(shared)
    if own is not None:
        return "", None
    return result.protection.rcd_type, result.protection.idn_a


def _residual(device: DeviceType) -> tuple[str, float | None]:
    return device.rcd_type, device.idn_a
