"""Whatever home the schema can say: a design comes out of it, and the design is sound."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from enum import Enum
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import networkx as nx
import pytest
from jsonschema_rs import Draft202012Validator

from boardwright.board.legal import faults
from boardwright.board.results import Scheme
from boardwright.catalogue.load import load_catalogue
from boardwright.core.findings import Finding, Sense, Verdict
from boardwright.design import Design, Variant, design
from boardwright.documents.record.design_file import build, design_schema
from boardwright.documents.shelf import shelf
from boardwright.job.job import Job
from boardwright.job.write import save_job
from boardwright.standards.load import load_edition
from tests.design.homes import home

CATALOGUE = load_catalogue()
FAST, MANY = range(10), range(1000, 1150)
SLACK = 1e-9


@pytest.mark.parametrize("seed", FAST)
def test_a_home_is_designed_and_the_design_is_sound(seed: int, tmp_path: Path) -> None:
    wrong = _wrong_with(home(seed, CATALOGUE), tmp_path)

    assert not wrong, wrong


@pytest.mark.slow
@pytest.mark.parametrize("seed", MANY)
def test_many_homes_are_designed_and_sound(seed: int, tmp_path: Path) -> None:
    wrong = _wrong_with(home(seed, CATALOGUE), tmp_path)

    assert not wrong, wrong


def _wrong_with(job: Job, folder: Path) -> str:
    """Return what is wrong with a job's design and the job that shows it; nothing where all is."""
    try:
        wrong = list(complaints(design(job, CATALOGUE, load_edition(job.edition))))
    except Exception as error:
        error.add_note(as_yaml(job, folder))
        raise
    return "\n".join([*wrong, as_yaml(job, folder)]) if wrong else ""


def as_yaml(job: Job, folder: Path) -> str:
    """Return the job as the file that shows the fault again."""
    path = folder / f"{job.id}.yaml"
    save_job(job, path)
    return path.read_text(encoding="utf-8")


def complaints(result: Design) -> Iterator[str]:
    """Yield what is wrong with a design, whatever its home."""
    for finding in result.findings:
        yield from _of_finding(finding)
    yield from _doubled(result.findings)
    for variant in result.variants:
        yield from _of_variant(variant)
    yield from _not_finite("plan", result.plan)
    yield from _of_papers(result)


def _of_finding(finding: Finding) -> Iterator[str]:
    said = f"{finding.check} {finding.subject_id} {finding.verdict.value}: {finding.message}"
    if not (finding.check and finding.subject and finding.message.endswith(".")):
        yield f"incomplete: {said}"
    if not (finding.rule.clause and finding.rule.edition):
        yield f"no rule: {said}"
    if finding.verdict in {Verdict.STOP, Verdict.FAIL, Verdict.UNKNOWN} and not finding.remedy:
        yield f"no remedy: {said}"
    if MACHINE_WORDS.search(f"{finding.message} {finding.remedy}".strip()):
        yield f"not for a reader: {said}"
    if finding.value is None or finding.limit is None:
        return
    if not finding.unit and finding.check not in PURE:
        yield f"no unit: {said}"
    beyond = (
        finding.value > finding.limit + SLACK
        if finding.sense is Sense.AT_MOST
        else finding.value < finding.limit - SLACK
    )
    # A check of several conditions may fail on one that its figures do not show, never pass.
    if finding.verdict is Verdict.PASS and beyond:
        yield f"passes beyond its limit ({finding.value} {finding.limit}): {said}"
    if finding.verdict is Verdict.FAIL and not beyond and finding.check not in FAIL_BY_MORE:
        yield f"fails within its limit ({finding.value} {finding.limit}): {said}"


MACHINE_WORDS = re.compile(
    r"\b(None|nan|inf|True|False)\b|[A-Z][a-z]+\.[A-Z_]{3}|  |\.\.(?!\.)|;\."
)

PURE = {"spd.risk_level", "circuit.spurs"}
"""Checks whose figures are pure numbers, or count what their sentence names."""

FAIL_BY_MORE = {
    # Its figures are modules; a device that is not on offer takes none.
    "board.fits",
}


def _doubled(findings: tuple[Finding, ...]) -> Iterator[str]:
    said = [(f.check, f.subject_id, f.message) for f in findings]
    yield from (f"said twice: {one}" for one in sorted(set(said)) if said.count(one) > 1)


def _of_variant(variant: Variant) -> Iterator[str]:
    for fault in faults(variant.arrangement):
        yield f"{variant.scheme.name}: {fault}"
    yield from _not_finite(variant.scheme.name, variant.wiring)
    yield from _not_finite(variant.scheme.name, variant.arrangement)
    yield from _not_finite(variant.scheme.name, variant.spd)
    yield from _not_finite(variant.scheme.name, variant.findings)
    yield from _not_finite(variant.scheme.name, variant.study.places)
    yield from _of_conductors(variant)
    yield from _of_steps(variant)


def _of_conductors(variant: Variant) -> Iterator[str]:
    enclosure = variant.arrangement.enclosure
    ids = [conductor.id for conductor in variant.wiring.conductors]
    yield from (f"conductor {one} twice" for one in sorted(set(ids)) if ids.count(one) > 1)
    for conductor in variant.wiring.conductors:
        if conductor.length_mm <= 0 or conductor.route_mm < 0 or conductor.csa_mm2 <= 0:
            yield f"{conductor.id}: {conductor.length_mm} mm of {conductor.csa_mm2} mm²"
        for x_mm, y_mm, z_mm in conductor.path:
            inside = -1 <= x_mm <= enclosure.width_mm + 1 and -1 <= y_mm <= enclosure.height_mm + 1
            if not inside or not -1 <= z_mm <= enclosure.depth_mm + 1:
                yield f"{conductor.id} leaves {enclosure.id} at {x_mm}, {y_mm}, {z_mm}"
    leads = variant.wiring.spd_leads
    if leads is not None and min(leads.line_m, leads.neutral_m, leads.pe_m) < 0:
        yield f"leads below nothing: {leads}"


def _of_steps(variant: Variant) -> Iterator[str]:
    steps = variant.wiring.steps
    known = {step.id for step in steps}
    if len(known) != len(steps):
        yield "two steps of one id"
    graph = nx.DiGraph((need, step.id) for step in steps for need in step.needs)
    if not nx.is_directed_acyclic_graph(graph):
        yield f"steps wait for one another: {nx.find_cycle(graph)}"
    number = {step.id: step.number for step in steps}
    for step in steps:
        yield from (f"{step.id} needs {need}" for need in step.needs if need not in known)
        yield from (
            f"{step.id} stands before {need}"
            for need in step.needs
            if need in known and number[need] >= step.number
        )
    yield from _energised_without_earth(variant, graph)


def _energised_without_earth(variant: Variant, graph: nx.DiGraph) -> Iterator[str]:
    """Yield each step that restores the supply and does not wait for the earth."""
    steps = {step.id: step for step in variant.wiring.steps}
    earths = {s.id for s in steps.values() if "earth" in s.id and s.phase.name == "WIRE"}
    for step in steps.values():
        if step.phase.name != "ENERGISE" or variant.scheme is not Scheme.NEW_BOARD:
            continue
        before = nx.ancestors(graph, step.id) if step.id in graph else set()
        if not earths & before:
            yield f"{step.id} does not wait for the earthing conductor"


def _not_finite(where: str, value: object) -> Iterator[str]:
    """Yield every number of a result that is none."""
    if isinstance(value, float):
        if not math.isfinite(value):
            yield f"{where} is {value}"
    elif isinstance(value, (list, tuple)):
        for k, inner in enumerate(value):
            yield from _not_finite(f"{where}[{k}]", inner)
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from _not_finite(f"{where}.{key}", inner)
    elif is_dataclass(value) and not isinstance(value, Enum):
        for part in fields(value):
            yield from _not_finite(f"{where}.{part.name}", getattr(value, part.name))


def _of_papers(result: Design) -> Iterator[str]:
    file: dict[str, Any] = json.loads(build(result))
    for error in Draft202012Validator(design_schema()).iter_errors(file):
        yield f"design file: {error.instance_path}: {error.message[:200]}"
    for document in shelf():
        if not document.is_text or document.name == "design-file":
            continue
        text = document.build(result)
        if document.file.endswith(".svg"):
            text = "".join(ET.fromstring(text).itertext()) + str(text)  # noqa: S314 - our own drawing
        if " nan" in str(text) or '"nan' in str(text) or "None" in str(text):
            yield f"{document.name}: nan or None in it"
