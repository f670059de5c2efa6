"""One circuit answered, as text for a terminal and as JSON for a program."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from boardwright.circuits.remedy import Remedy
from boardwright.circuits.reply import Reply
from boardwright.circuits.reverse import LongestRun, SmallestCable
from boardwright.core.findings import Finding, Verdict
from boardwright.documents.words.figures import quantity, sentence, source, verdict_word
from boardwright.documents.words.plain import heading, paragraph

_INDENT = 11
_FAR_M = 1000.0
_CAUTION = (
    "Prove dead before you touch. Computed, not inspected: readings on site, the edition in force "
    "and your own judgement stand above it."
)


def circuit_text(reply: Reply) -> str:
    """Return the answer as text: the circuit, what is found, what was asked, the ways out."""
    parts = [heading(_title(reply)), _assumed(reply), *map(finding_text, reply.findings)]
    parts += [*_answers(reply), *_protection(reply), *_ways(reply.ways_out), paragraph(_CAUTION)]
    return "\n".join(part for part in parts if part) + "\n"


def circuit_json(reply: Reply) -> str:
    """Return the answer as JSON, quantities in the units that end their names."""
    # The published forms come with the whole design: text has no need to wait for it.
    from boardwright.documents.record.models import CircuitOut, FindingOut, plain

    whole: dict[str, Any] = {
        "circuit": plain(CircuitOut, reply.result),
        "cable": reply.circuit.cable.model_dump(mode="json"),
        "zdb_ohm": reply.site.origin.zdb_ohm,
        "zdb_assumed": reply.site.origin.zdb_assumed,
        "findings": [plain(FindingOut, f) for f in reply.findings],
        "ways_out": [_way_out(way) for way in reply.ways_out],
        "longest_run": asdict(reply.longest) if reply.longest else None,
        "smallest_cable": _smallest_out(reply.smallest) if reply.smallest else None,
        "largest_load": asdict(reply.load) if reply.load else None,
        "largest_device": asdict(reply.device) if reply.device else None,
    }
    return json.dumps(whole, indent=1, ensure_ascii=False) + "\n"


def _title(reply: Reply) -> str:
    cable, result = reply.circuit.cable, reply.result
    device = f"{result.protection.curve}{result.in_a:g} {result.protection.standard}"
    ring = "ring of " if reply.circuit.topology == "ring" else ""
    return (
        f"{result.name}: {result.ib_a:.1f} A on {device}, {ring}{cable.length_m:.4g} m of "
        f"{cable.line_mm2:g}/{cable.cpc_mm2:g} mm²"
    )


def _assumed(reply: Reply) -> str:
    said = []
    if reply.result.ib_assumed:
        said.append("the load was not given: the device's rating, or the usual one, is taken")
    if reply.result.method_assumed:
        said.append(f"the route was not given: by the worst method, {reply.result.method}")
    if reply.site.origin.zdb_assumed:
        zdb = quantity(reply.site.origin.zdb_ohm or 0.0, "ohm")
        said.append(f"Ze was not given: the largest declared, {zdb}")
    return paragraph(f"Assumed: {'; '.join(said)}.") + "\n" if said else ""


def finding_text(finding: Finding) -> str:
    """Return a finding as text: its verdict, what is found, what to do, its source."""
    lines = [paragraph(sentence(finding.message), hanging=f"{verdict_word(finding.verdict):<11}")]
    if finding.remedy and finding.verdict is not Verdict.PASS:
        lines.append(paragraph(f"Do: {sentence(finding.remedy)}", _INDENT))
    lines.append(paragraph(source(finding.rule), _INDENT))
    return "\n".join(lines) + "\n"


def _answers(reply: Reply) -> Iterator[str]:
    if reply.longest is not None:
        yield _answer("Longest", _longest(reply.longest))
    if reply.smallest is not None:
        yield _answer("Smallest", _smallest(reply.smallest))
    if reply.load is not None:
        load = reply.load
        most = (
            f"{load.ib_a:.1f} A, {quantity(load.power_w, 'W')}" if load.ib_a else "No load at all"
        )
        yield _answer("Load", f"{most}; what stops more: {load.governs}")
    if reply.device is not None:
        device = reply.device
        most = "No device there is" if device.in_a is None else f"{device.in_a:g} A"
        yield _answer("Device", f"{most}; what stops the next: {device.governs}")


def _answer(name: str, said: str) -> str:
    return paragraph(sentence(said), hanging=f"{name:<{_INDENT}}") + "\n"


def _longest(found: LongestRun) -> str:
    if not found.length_m:
        return f"No length: {found.why}"
    # A bound beyond any home says nothing.
    near = [bound for bound in found.bounds if bound.length_m < _FAR_M]
    bounds = "; ".join(f"{bound.name} {bound.length_m:.1f} m" for bound in near)
    return f"{found.length_m:.1f} m, governed by the {found.governs} ({bounds})"


def _smallest(found: SmallestCable) -> str:
    last = found.rejected[-1] if found.rejected else None
    under = f"; {last.line_mm2:g} mm² does not do: {last.why}" if last else ""
    if found.line_mm2 is None:
        return f"No size of the table{under}"
    return f"{found.line_mm2:g}/{found.cpc_mm2:g} mm²{under}"


def _protection(reply: Reply) -> Iterator[str]:
    asked = reply.result.protection
    if asked.rcd_reasons:
        kind = f", type {asked.rcd_type}" if asked.rcd_type else ""
        yield _answer("RCD", f"30 mA{kind} for: {'; '.join(asked.rcd_reasons)}")


def _ways(ways: tuple[Remedy, ...]) -> Iterator[str]:
    for count, way in enumerate(ways, start=1):
        settled = " ".join(sentence(finding.message) for finding in way.settles)
        said = f"{' '.join(way.does)} Then: {settled}"
        yield paragraph(said, hanging=f"{f'Way out {count}':<{_INDENT}}") + "\n"


def _way_out(way: Remedy) -> dict[str, Any]:
    from boardwright.documents.record.models import CircuitOut, FindingOut, plain

    return {
        "does": list(way.does),
        "work_h": way.work_h,
        "circuit": plain(CircuitOut, way.result),
        "settles": [plain(FindingOut, finding) for finding in way.settles],
    }


def _smallest_out(found: SmallestCable) -> dict[str, Any]:
    return {
        "line_mm2": found.line_mm2,
        "cpc_mm2": found.cpc_mm2,
        "rejected": [asdict(rejected) for rejected in found.rejected],
    }
