"""What the answers of a screen decide: the gate, a circuit's figures, whether an SPD is due."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from boardwright.circuits.judged import judged
from boardwright.circuits.plan import plan_circuits
from boardwright.circuits.results import CircuitPlan, CircuitResult
from boardwright.circuits.site import Site
from boardwright.core.errors import BoardwrightError, FieldError
from boardwright.core.findings import Finding
from boardwright.documents.words.circuit_words import device_words
from boardwright.documents.words.figures import quantity, sentence
from boardwright.gate.judge import judge
from boardwright.job.job import Job
from boardwright.spd.need import surge_need
from boardwright.standards.edition import Edition
from boardwright.web.views.findings import Panel, panel
from boardwright.web.views.lists import on_offer
from boardwright.web.views.stop import Stop

_BESIDE = {
    "gate.cutout": "supply.cutout_condition",
    "gate.polarity": "supply.polarity_correct",
    "gate.isolation": "supply.isolation_arranged",
    "gate.tails": "supply.tails.csa_mm2",
    "gate.tails.length": "supply.tails.length_m",
    "gate.ze": "supply.ze_ohm",
    "gate.ipf": "supply.ipf_a",
    "gate.means_of_earthing": "earthing.means_present",
    "gate.earthing_conductor": "earthing.conductor_connected",
    "gate.earthing_conductor.size": "earthing.conductor_mm2",
    "gate.electrode": "earthing.electrode_ohm",
}
"""The answer that each finding of the gate speaks of."""

_BESIDE_IN_CIRCUIT = {
    "gate.cpc": "readings.cpc_continuous",
    "gate.wiring": "cable.condition",
    "gate.insulation": "readings.insulation_mohm",
    "gate.ring": "readings.rn_ohm",
    "gate.ring.cpc": "readings.r2_ohm",
    "gate.neutral": "readings.neutral_separate",
    "circuit.zs_measured": "readings.zs_ohm",
}

_SECTIONS = {
    "supply": ("supply",),
    "earthing": ("earthing", "water", "gas", "oil", "structural steel", "lightning protection"),
}


@dataclass(frozen=True, slots=True)
class Decided:
    """What is so of the answers: findings by the path they stand beside, figures, open findings.

    ``wrong`` are answers that no design can be made with, by path.
    """

    beside: Mapping[str, Finding]
    wrong: Mapping[str, str]
    figures: tuple[tuple[str, str], ...]
    panel: Panel
    sentences: tuple[str, ...] = field(default=())


def decided(job: Job, edition: Edition, stop: Stop) -> Decided:
    """Return what the answers of a screen decide."""
    findings = list(judge(job, edition))
    wrong: dict[str, str] = {}
    figures: tuple[tuple[str, str], ...] = ()
    sentences: tuple[str, ...] = ()
    try:
        plan = plan_circuits(job, on_offer(), edition)
    except FieldError as error:
        wrong[error.path] = f"Enter {error.expected}. {error.remedy}".strip()
    except BoardwrightError as error:
        sentences = tuple(str(error).splitlines())
    else:
        if stop.circuit_id:
            findings += _circuit_findings(job, edition, plan, stop.circuit_id)
            figures = tuple(_circuit_figures(plan.circuit(stop.circuit_id)))
        elif stop.key == "premises":
            figures = (("Maximum demand", quantity(plan.demand.total_a, "A")),)
    if stop.key == "environment":
        need = surge_need(job, edition)
        figures = (("Surge protection", need.need.value), ("At least", need.least_type))
        sentences = tuple(sentence(said) for said in (need.basis, need.least_type_reason) if said)
    here = tuple(f for f in findings if _is_here(f, stop))
    beside = {
        path: replace(f, message=sentence(f.message))
        for f in findings
        for path in (_path(f),)
        if path
    }
    return Decided(beside, wrong, figures, panel(here), sentences)


def _circuit_findings(
    job: Job, edition: Edition, plan: CircuitPlan, circuit_id: str
) -> tuple[Finding, ...]:
    site = Site(job, plan.origin, on_offer(), edition)
    return judged(job.circuit(circuit_id), plan.circuit(circuit_id), site)


def _circuit_figures(result: CircuitResult) -> Iterator[tuple[str, str]]:
    yield "Design current Ib", quantity(result.ib_a, "A")
    yield "Device", device_words(result)
    yield "Capacity Iz", quantity(result.iz_a, "A")
    drop = quantity(result.volt_drop_v, "V")
    yield "Volt drop", f"{drop} of {quantity(result.volt_drop_limit_v, 'V')}"
    if result.zs_ohm is not None:
        most = quantity(result.zs_max_ohm, "ohm")
        yield "Zs hot", f"{quantity(result.zs_ohm, 'ohm')} of {most}"


def _is_here(finding: Finding, stop: Stop) -> bool:
    if stop.circuit_id:
        return finding.subject_id == stop.circuit_id
    return finding.subject_id in _SECTIONS.get(stop.key, ())


def _path(finding: Finding) -> str:
    if finding.check in _BESIDE:
        return _BESIDE[finding.check]
    if finding.check.startswith("gate.bonding."):
        return f"earthing.bonds.{finding.subject_id}.verified"
    ending = _BESIDE_IN_CIRCUIT.get(finding.check)
    return f"circuits.{finding.subject_id}.{ending}" if ending else ""


__all__ = ["Decided", "decided"]
