"""The SPD in its published form: the choice, the wiring and the study together."""

from __future__ import annotations

from boardwright.design import Variant
from boardwright.documents.record.models import SpdCandidateOut, SpdCheckOut, SpdOut, read


def spd_out(variant: Variant) -> SpdOut:
    """Return the SPD, its leads and every candidate in the published form."""
    choice, leads = variant.spd, variant.wiring.spd_leads
    candidate = choice.candidate
    data = candidate.device.spd if candidate else None
    return SpdOut(
        device=candidate.device.id if candidate else "",
        name=candidate.device.name if candidate else "",
        connection=choice.connection,
        reason=choice.reason,
        checks=read(SpdCheckOut, candidate.checks) if candidate else [],
        backup=candidate.backup.kind.value if candidate else "",
        backup_a=candidate.backup.rating_a if candidate else None,
        leads_m=leads.total_m if leads else None,
        line_m=leads.line_m if leads else None,
        neutral_m=leads.neutral_m if leads else None,
        pe_m=leads.pe_m if leads else None,
        csa_line_mm2=choice.csa_line_mm2,
        csa_pe_mm2=choice.csa_pe_mm2,
        up_v=data.up_v if data else None,
        up_effective_v=variant.study.lead_rule_v,
        candidates=read(SpdCandidateOut, choice.candidates),
    )


__all__ = ["spd_out"]
