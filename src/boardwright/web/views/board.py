"""The board page: the drawing live, its findings, its conductors, the schemes beside it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from boardwright.core.findings import Finding, Verdict
from boardwright.design import Design, Variant
from boardwright.documents.answer import answer
from boardwright.documents.board_drawing import board_svg, page_ink
from boardwright.documents.figures import in_words, sentence
from boardwright.web.drawing import linked, view_of
from boardwright.web.views.conductors import Conductors, conductors
from boardwright.web.views.findings import Panel, panel

PHONE_PX_PER_MM = 1.4
TABLE_PX_PER_MM = 1.8
"""How large the drawing is at least; where the page is narrower it pans sideways."""

_ELSEWHERE = ("circuit.", "gate.", "demand.", "surge.")
"""Findings that have their place on another page, or beside their circuit."""


@dataclass(frozen=True, slots=True)
class SchemeRow:
    """One scheme worked out: how it does, and whether it is the one proposed."""

    name: str
    proposed: bool
    spd: str
    leads_m: str
    stops: int
    fails: int
    unknown: int
    advice: int


@dataclass(frozen=True, slots=True)
class BoardView:
    """``phone_px`` and ``table_px`` are the least widths of the drawing. [px]"""

    answer: str
    lead: str
    drawing: str
    phone_px: int
    table_px: int
    findings: Panel
    elsewhere: str
    conductors: Conductors
    reasons: tuple[str, ...]
    wishes: tuple[tuple[str, str, str], ...]
    schemes: tuple[SchemeRow, ...]
    out: tuple[tuple[str, str], ...]


def board_view(design: Design) -> BoardView:
    """Return what the board page shows."""
    chosen = design.chosen
    drawing = board_svg(chosen, design.job.title, ink=page_ink(), findings=design.findings)
    width_mm = view_of(drawing).width_mm
    findings = panel(design.findings, of_the_board)
    return BoardView(
        answer=answer(design).sentence,
        lead=_lead(chosen),
        drawing=linked(drawing),
        phone_px=ceil(width_mm * PHONE_PX_PER_MM),
        table_px=ceil(width_mm * TABLE_PX_PER_MM),
        findings=findings,
        elsewhere=_elsewhere(design, findings),
        conductors=conductors(chosen),
        reasons=tuple(sentence(reason) for reason in chosen.board.reasons),
        wishes=tuple(
            (sentence(wish.name), f"{wish.weight:g}", f"{wish.cost:g}")
            for wish in chosen.arrangement.preferences
        ),
        schemes=tuple(_scheme(variant, design) for variant in design.variants),
        out=tuple(
            (sentence(scheme.value), sentence(why)) for scheme, why in design.out_of_question
        ),
    )


def of_the_board(finding: Finding) -> bool:
    """Tell whether a finding speaks of board or wiring; a fail is shown here in any case."""
    return finding.verdict is Verdict.FAIL or not finding.check.startswith(_ELSEWHERE)


def _elsewhere(design: Design, here: Panel) -> str:
    """Return how many open points have their place on the design page; empty for none."""
    more = len(panel(design.findings).open) - len(here.open)
    return sentence(in_words(more, "more open point")).rstrip(".") if more > 0 else ""


def _lead(variant: Variant) -> str:
    arrangement = variant.arrangement
    spare = in_words(arrangement.spare_modules, "spare way")
    how = (
        "Order of the ways proven the best for your wishes"
        if arrangement.proven
        else "Order of the ways legal, not proven the best"
    )
    return f"{arrangement.enclosure.name}. {how}; {spare}."


def _scheme(variant: Variant, design: Design) -> SchemeRow:
    leads, candidate = variant.wiring.spd_leads, variant.spd.candidate
    stops, fails, unknown, advice = (
        sum(f.verdict is verdict for f in variant.findings)
        for verdict in (Verdict.STOP, Verdict.FAIL, Verdict.UNKNOWN, Verdict.ADVISE)
    )
    return SchemeRow(
        name=sentence(variant.scheme.value).rstrip("."),
        proposed=variant is design.chosen,
        spd=candidate.device.name if candidate else "none",
        leads_m=f"{leads.total_m:.2f}" if leads else "",
        stops=stops,
        fails=fails,
        unknown=unknown,
        advice=advice,
    )
