"""What stands in the pack, as plain data: the templates set it and know nothing of electricity."""

from __future__ import annotations

import re
from datetime import date
from itertools import groupby
from typing import Any

from boardwright.core.findings import Verdict
from boardwright.design import Design, Variant
from boardwright.documents import board_drawing, surge_chart
from boardwright.documents.answer import Group, answer
from boardwright.documents.conductor_words import (
    cut_words,
    function_words,
    in_order_of_work,
    size_words,
    strip_words,
    torque_words,
)
from boardwright.documents.figures import (
    NO_BREAK,
    quantity,
    sentence,
    source,
    value_and_limit,
    verdict_word,
)
from boardwright.documents.marks import caution_svg, mark_svg, on_paper
from boardwright.documents.pack_labels import householder, labels
from boardwright.documents.pack_schedules import circuits, demand, readings, spd
from boardwright.documents.steps import with_news
from boardwright.wiring.results import Conductor, Origin, SpdLeads

Content = dict[str, Any]

UPRIGHT_MM = 194.0
"""Width of a drawing that stands on an upright sheet of A4. [mm]"""

_TURNED_MM = 281.0


def content(design: Design) -> Content:
    """Return everything that the pack says, in its order."""
    return {
        "title": design.job.title,
        "edition": design.edition.title,
        "foot": f"Design {design.mark} · facts as of {long_date(design.job.designed_on)}"
        " · a plan, not a certificate",
        "marks": {verdict.value: mark_svg(verdict, on_paper()) for verdict in Verdict},
        "caution": caution_svg(on_paper()),
        "answer": _answer(design),
        "drawing": _drawing(design),
        "conductors": _conductors(design.chosen),
        "steps": _steps(design.chosen),
        "readings": readings(design),
        "circuits": circuits(design),
        "demand": demand(design),
        "spd": spd(design),
        "schemes": _schemes(design),
        "surge": _surge(design),
        "labels": labels(design),
        "householder": householder(design),
    }


def long_date(day: date) -> str:
    """Return a date as written on paper: 14 November 2026."""
    return f"{day.day}{NO_BREAK}{day:%B}{NO_BREAK}{day.year}"


def _answer(design: Design) -> Content:
    said = answer(design)
    chosen, supply = design.chosen, design.job.supply
    leads = chosen.wiring.spd_leads
    candidate = chosen.spd.candidate
    ze = quantity(supply.ze_ohm, "ohm") if supply.ze_ohm is not None else "not known yet"
    facts = [
        ("Supply", f"{supply.system}, {_phases(supply.phases)}, Ze {ze}"),
        ("Board", chosen.arrangement.enclosure.name),
        ("Spare ways", str(chosen.arrangement.spare_modules)),
        ("SPD", candidate.device.name if candidate else "none"),
        ("SPD leads", f"{leads.total_m:.2f}{NO_BREAK}m" if leads else ""),
        ("Demand", quantity(design.plan.demand.total_a, "A")),
    ]
    return {
        "sentence": said.sentence,
        "facts": [fact for fact in facts if fact[1]],
        "first": [_open_point(group) for group in said.first],
        "then": [_open_point(group) for group in said.then],
        "counts": said.counts,
    }


def _phases(count: int) -> str:
    return "single-phase" if count == 1 else "three-phase"


def _open_point(group: Group) -> Content:
    lead = group.lead
    said = [
        (finding.subject if len(group.findings) > 1 else "", sentence(finding.message))
        for finding in group.findings
    ]
    return {
        "verdict": lead.verdict.value,
        "word": verdict_word(lead.verdict),
        "subjects": group.subjects,
        "said": list(dict.fromkeys(said)),
        "figures": value_and_limit(lead) if len(group.findings) == 1 else "",
        "do": sentence(lead.remedy),
        "source": source(lead.rule),
    }


def _drawing(design: Design) -> Content:
    svg = board_drawing.build(design)
    width_mm, height_mm = (_millimetres(svg, side) for side in ("width", "height"))
    turned = width_mm / 2 > UPRIGHT_MM
    scale = 2.0 if width_mm / 2 <= _TURNED_MM else 2.5
    enclosure = design.chosen.arrangement.enclosure
    return {
        "svg": svg,
        "turned": turned,
        "scale": f"1:{scale:g}",
        "width_mm": width_mm / scale,
        "height_mm": height_mm / scale,
        "alt": f"Front view of {enclosure.name} with the cover off, to scale: devices, busbar, "
        "bars and conductors. The table of conductors says the same in words.",
    }


def _millimetres(svg: str, side: str) -> float:
    """Return a side of the drawing as its own file states it. [mm]"""
    found = re.search(rf'<svg[^>]*\b{side}="([\d.]+)mm"', svg)
    if found is None:
        raise ValueError(f"the board drawing states no {side} in mm")
    return float(found[1])


def _conductors(variant: Variant) -> Content:
    conductors = in_order_of_work(variant.wiring.conductors)
    leads = variant.wiring.spd_leads
    return {
        "rows": [_conductor(c) for c in conductors if c.origin in (Origin.NEW, Origin.FLYING)],
        "existing": _existing(tuple(c for c in conductors if c.origin is Origin.EXISTING)),
        "leads": _leads(leads) if leads else "",
    }


def _conductor(conductor: Conductor) -> list[str]:
    cut = cut_words(conductor) or "on device"
    return [
        str(conductor.step or ""),
        conductor.begin.label,
        conductor.end.label,
        function_words(conductor),
        size_words(conductor),
        cut,
        strip_words(conductor),
        torque_words(conductor),
    ]


def _existing(conductors: tuple[Conductor, ...]) -> list[list[str]]:
    """Return the cores of each existing cable in one row: cable, then where each core goes."""
    rows = []
    for cable, group in groupby(conductors, key=_cable):
        cores = tuple(group)
        rows.append(
            [
                str(cores[0].step or ""),
                cable,
                "; ".join(f"{c.function} to {c.end.label}" for c in cores),
                " / ".join(dict.fromkeys(size_words(c) for c in cores)),
                " / ".join(dict.fromkeys(filter(None, map(torque_words, cores)))),
            ]
        )
    return rows


def _cable(conductor: Conductor) -> str:
    """Return the name of the cable a core belongs to: its label without the core's letter."""
    return re.sub(r"[ .,:]+(L[123]?|N|PE)$", "", conductor.begin.label)


def _leads(leads: SpdLeads) -> str:
    assumed = " A length outside the box was assumed." if leads.assumed else ""
    return (
        f"SPD leads: line {leads.line_m:.2f}{NO_BREAK}m, neutral {leads.neutral_m:.2f}{NO_BREAK}m, "
        f"earth {leads.pe_m:.2f}{NO_BREAK}m; together at most {leads.total_m:.2f}{NO_BREAK}m."
        f"{assumed}"
    )


def _steps(variant: Variant) -> list[Content]:
    phases = []
    for phase, steps in groupby(variant.wiring.steps, key=lambda step: step.phase):
        rows = [
            {
                "number": step.number,
                "title": step.title,
                "text": step.text,
                "caution": caution,
                "live": step.live,
            }
            for step, caution in with_news(tuple(steps))
        ]
        phases.append({"phase": phase.value, "steps": rows})
    return phases


def _schemes(design: Design) -> Content:
    return {
        "rows": [_scheme(variant, design) for variant in design.variants],
        "out": [[scheme.value, sentence(why)] for scheme, why in design.out_of_question],
        "reasons": [sentence(reason) for reason in design.chosen.board.reasons],
        "wishes": [
            [sentence(wish.name), f"{wish.weight:g}", f"{wish.cost:g}"]
            for wish in design.chosen.arrangement.preferences
        ],
        "proven": design.chosen.arrangement.proven,
    }


def _scheme(variant: Variant, design: Design) -> list[str]:
    leads, candidate = variant.wiring.spd_leads, variant.spd.candidate
    counts = [
        str(sum(f.verdict is verdict for f in variant.findings))
        for verdict in (Verdict.STOP, Verdict.FAIL, Verdict.UNKNOWN, Verdict.ADVISE)
    ]
    return [
        sentence(variant.scheme.value).rstrip(".")
        + (" (proposed)" if variant is design.chosen else ""),
        candidate.device.name if candidate else "none",
        f"{leads.total_m:.2f}" if leads else "",
        *counts,
    ]


def _surge(design: Design) -> Content:
    study = design.chosen.study
    return {
        "svg": surge_chart.build(design),
        "alt": surge_chart.described(design),
        "sentences": [place.sentence for place in surge_chart.chosen_places(study)] if study else [],
        "lead": study.lead_sentence if study else "",
        "method": f"{study.outcome.value} Method: {study.method}." if study else "",
        "cautions": list(study.cautions) if study else [],
        "movers": _movers(design),
        "need": f"{sentence(design.need.basis)} {source(design.need.rule)}.",
    }


def _movers(design: Design) -> list[list[str]]:
    study = design.chosen.study
    if study is None or not study.places:
        return []
    return [
        [
            sentence(effect.words).rstrip("."),
            f"{quantity(effect.at_low_v, 'V')} / {quantity(effect.at_high_v, 'V')}",
        ]
        for effect in study.places[0].movers
    ]
