"""From loads to circuits that can be protected: the whole stage on one page."""

from __future__ import annotations

from dataclasses import replace

from boardwright.catalogue.catalogue import Catalogue
from boardwright.circuits.assess import Draft, assess, draft_of
from boardwright.circuits.demand import Share, demand
from boardwright.circuits.division import Member, divided
from boardwright.circuits.origin import origin_of
from boardwright.circuits.phases import phases_of
from boardwright.circuits.rcd import least_rcd_type
from boardwright.circuits.results import CircuitPlan, CircuitResult
from boardwright.job.job import Job
from boardwright.standards.edition import Edition


def plan_circuits(job: Job, catalogue: Catalogue, edition: Edition) -> CircuitPlan:
    """Work out every circuit, the demand, the origin and the division of a home.

    Raises
    ------
    FieldError
        A cable's size or method is none that its table has.
    """
    drafts = tuple(draft_of(circuit, job, catalogue, edition) for circuit in job.circuits)
    phases = phases_of(job, {draft.circuit.id: draft.current.ib_a for draft in drafts})
    shares = tuple(_share(draft, phases.get(draft.circuit.id, "")) for draft in drafts)
    home = demand(job, shares, edition)
    origin = origin_of(job, home.total_a, edition)
    results = tuple(
        replace(assess(draft, job, origin, edition), phase=share.phase)
        for draft, share in zip(drafts, shares, strict=True)
    )
    shared = [
        _member(draft, result, catalogue, edition)
        for draft, result in zip(drafts, results, strict=True)
        if draft.behind_section
    ]
    division = divided(job, shared, edition)
    return CircuitPlan(origin, home, results, division.sections, division.wishes, division.proven)


def _share(draft: Draft, phase: str) -> Share:
    return Share(draft.circuit, draft.current.connected_a, draft.protection.in_a, phase)


def _member(draft: Draft, result: CircuitResult, catalogue: Catalogue, edition: Edition) -> Member:
    circuit = draft.circuit
    return Member(
        id=circuit.id,
        serves=circuit.serves,
        in_a=result.in_a,
        leakage_a=result.leakage_a,
        rcd_type=circuit.wanted.rcd_type or least_rcd_type(circuit, catalogue, edition),
    )
