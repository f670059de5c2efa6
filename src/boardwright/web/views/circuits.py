"""The design page: the answer, the circuits with what is found of each, demand, choice of SPD."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from boardwright.circuits.results import CircuitResult
from boardwright.core.findings import Finding
from boardwright.design import Design
from boardwright.documents.words.answer import answer
from boardwright.documents.words.circuit_words import device_words, way_numbers
from boardwright.documents.words.figures import (
    fixed,
    in_words,
    number,
    quantity,
    sentence,
    source,
    verdict_word,
)
from boardwright.spd.results import Candidate
from boardwright.web.views.adding import Adding
from boardwright.web.views.entries import COLUMNS, Cell, Column, cells
from boardwright.web.views.findings import QUIET, Box, Panel, boxes, panel
from boardwright.web.views.workings import Part, Shared, circuit_parts, shared_parts

_BIG_OHM = 100.0
"""From here on two decimals of an ohm say nothing."""


@dataclass(frozen=True, slots=True)
class CircuitRow:
    """One circuit; an empty figure is not known. Limits stand beside what they limit."""

    id: str
    way: str
    name: str
    ib: str
    ib_assumed: bool
    device: str
    iz: str
    method: str
    method_assumed: bool
    volt_drop: str
    volt_drop_limit: str
    zs: str
    zs_max: str
    least_cpc: str
    cpc: str
    entries: Mapping[str, Cell]
    open: tuple[Box, ...]
    working: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class DemandRow:
    """One purpose of the demand."""

    purpose: str
    connected: str
    demand: str
    allowance: str


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason for or against a device, with the verdict behind it."""

    finding: Finding
    word: str
    text: str


@dataclass(frozen=True, slots=True)
class SpdRow:
    """One SPD weighed."""

    name: str
    maker: str
    state: str
    taken: bool
    backup: str
    against: tuple[Reason, ...]
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class DesignView:
    """All that the design page shows."""

    answer: str
    counts: str
    columns: tuple[Column, ...]
    rows: tuple[CircuitRow, ...]
    assumed: bool
    findings: Panel
    apart: str
    demand: tuple[DemandRow, ...]
    demand_total: str
    demand_rule: str
    need: str
    spd_reason: str
    spds: tuple[SpdRow, ...]
    shared: Shared
    adding: Adding | None = None


def design_view(design: Design) -> DesignView:
    """Return what the design page shows."""
    said, demand = answer(design), design.plan.demand
    ids = {circuit.id for circuit in design.plan.circuits}
    # In the order of the list, not of the ways: a row must not jump while it is filled in.
    rows = tuple(_row(circuit, design) for circuit in design.plan.circuits)
    taken = design.chosen.spd.candidate
    findings = panel(design.findings, lambda f: f.verdict in QUIET or f.subject_id not in ids)
    return DesignView(
        answer=said.sentence,
        counts=said.counts,
        columns=COLUMNS,
        rows=rows,
        assumed=any(row.ib_assumed or row.method_assumed for row in rows),
        findings=findings,
        apart=_apart(findings),
        demand=tuple(
            DemandRow(
                f"{line.phase} {line.purpose}".strip(),
                fixed(line.connected_a, 1),
                fixed(line.demand_a, 1),
                line.allowance,
            )
            for line in demand.lines
        ),
        demand_total=_total(design),
        demand_rule="Logged on site" if demand.logged else source(demand.rule),
        need=f"{sentence(design.need.basis)} {source(design.need.rule)}.",
        spd_reason=sentence(design.chosen.spd.reason),
        spds=tuple(_spd(c, taken) for c in _ordered(design.chosen.spd.candidates, taken)),
        shared=shared_parts(design),
    )


def _apart(findings: Panel) -> str:
    """Return how many points are open that belong to no circuit; empty for none."""
    count = len(findings.open)
    return sentence(in_words(count, "open point")).rstrip(".") if count else ""


def _row(circuit: CircuitResult, design: Design) -> CircuitRow:
    found = tuple(
        f for f in design.findings if f.subject_id == circuit.id and f.verdict not in QUIET
    )
    return CircuitRow(
        id=circuit.id,
        way=way_numbers(design).get(circuit.id, ""),
        name=circuit.name,
        ib=fixed(circuit.ib_a, 1),
        ib_assumed=circuit.ib_assumed,
        device=device_words(circuit),
        iz=fixed(circuit.iz_a, 1),
        method=circuit.method,
        method_assumed=circuit.method_assumed,
        volt_drop=fixed(circuit.volt_drop_v, 1),
        volt_drop_limit=fixed(circuit.volt_drop_limit_v, 1),
        zs=_ohms(circuit.zs_ohm),
        zs_max=_ohms(circuit.zs_max_ohm),
        least_cpc="" if circuit.adiabatic_mm2 is None else fixed(circuit.adiabatic_mm2, 2),
        cpc=number(circuit.cpc_mm2),
        entries=cells(design.job, design.job.circuit(circuit.id)),
        open=boxes(found),
        working=circuit_parts(design, circuit.id),
    )


def _ohms(value: float | None) -> str:
    if value is None:
        return ""
    return fixed(value, 2) if value < _BIG_OHM else number(value)


def _total(design: Design) -> str:
    demand = design.plan.demand
    total = f"Maximum demand {quantity(demand.total_a, 'A')}"
    if len(demand.per_phase_a) > 1:
        parts = ", ".join(f"{phase} {quantity(a, 'A')}" for phase, a in demand.per_phase_a.items())
        total += f" on the fullest phase ({parts})"
    return f"{total}."


def _ordered(candidates: tuple[Candidate, ...], taken: Candidate | None) -> tuple[Candidate, ...]:
    """Return the one taken first, then those that would do, then the rest."""
    return tuple(sorted(candidates, key=lambda c: (not _is(c, taken), not c.suitable)))


def _is(candidate: Candidate, taken: Candidate | None) -> bool:
    return taken is not None and candidate.device.id == taken.device.id


def _spd(candidate: Candidate, taken: Candidate | None) -> SpdRow:
    reasons = tuple(
        Reason(check, verdict_word(check.verdict), sentence(check.message))
        for check in candidate.checks
    )
    state = "Would do" if candidate.suitable else "Does not suit"
    return SpdRow(
        name=candidate.device.name,
        maker=candidate.device.maker,
        state="Taken" if _is(candidate, taken) else state,
        taken=_is(candidate, taken),
        backup=sentence(candidate.backup.reason),
        against=tuple(r for r in reasons if r.finding.verdict not in QUIET),
        reasons=tuple(r for r in reasons if r.finding.verdict in QUIET),
    )
