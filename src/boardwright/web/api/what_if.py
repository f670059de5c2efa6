"""What would follow from other values: worked out, compared, and not saved."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from fastapi import APIRouter
from pydantic import Field

from boardwright.core.findings import Finding
from boardwright.design import Design
from boardwright.documents.record.models import FindingOut, plain
from boardwright.documents.words.answer import answer
from boardwright.job.differ import differences
from boardwright.web.api.shapes import LARGEST, MOST_EDITS, EditShape, Shape, plain_json
from boardwright.web.frame.reach import Homes

routes = APIRouter(tags=["what-if"])

_Key = tuple[str, str, str]


class WhatIf(Shape):
    """Fields to try, against a version or the home as it stands."""

    version: int | None = Field(default=None, ge=1, le=LARGEST)
    edits: tuple[EditShape, ...] = Field(min_length=1, max_length=MOST_EDITS)


@routes.post("/jobs/{job_id}/what-if")
def what_if(job_id: str, asked: WhatIf, jobs: Homes) -> dict[str, Any]:
    """Work a home out with fields set, and say what differs from how it stands."""
    edits = [each.edit() for each in asked.edits]
    changed = jobs.variant(job_id, edits, asked.version)
    before, after = jobs.design(job_id, asked.version), jobs.designed(changed)
    was, would = _by_key(before.findings), _by_key(after.findings)
    return {
        "fields": [
            {"path": each.path, "before": plain_json(each.before), "after": plain_json(each.after)}
            for each in differences(before.job, after.job)
        ],
        "before": _said(before),
        "after": _said(after),
        "came": [plain(FindingOut, would[key]) for key in would if key not in was],
        "went": [plain(FindingOut, was[key]) for key in was if key not in would],
        "moved": [
            {"before": plain(FindingOut, was[key]), "after": plain(FindingOut, would[key])}
            for key in would
            if key in was and _reads(was[key]) != _reads(would[key])
        ],
    }


def _said(result: Design) -> dict[str, Any]:
    said = answer(result)
    chosen = result.chosen
    return {
        "answer": said.sentence,
        "forbids_work": result.forbids_work,
        "open_points": len(said.first) + len(said.then),
        "scheme": chosen.scheme.value,
        "enclosure": chosen.arrangement.enclosure.id,
        "demand_a": result.plan.demand.total_a,
        "spd_leads_m": chosen.wiring.spd_leads.total_m if chosen.wiring.spd_leads else None,
    }


def _by_key(found: Iterable[Finding]) -> dict[_Key, Finding]:
    """Return findings by what they speak of; of several of one key the gravest, which is first."""
    keyed: dict[_Key, Finding] = {}
    for finding in found:
        keyed.setdefault((finding.check, finding.subject_id, finding.subject), finding)
    return keyed


def _reads(finding: Finding) -> tuple[object, ...]:
    return finding.verdict, finding.value, finding.limit, finding.message
