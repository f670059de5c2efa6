"""What stands in the pack, as plain data: the templates set it and know nothing of electricity."""

from __future__ import annotations

import re
from itertools import groupby
from typing import Any

from boardwright.core.findings import Verdict
from boardwright.design import Design, Variant
from boardwright.documents.lists.steps import with_news
from boardwright.documents.look.marks import gauge, on_paper
from boardwright.documents.pack.drawings import connections, diagram, views
from boardwright.documents.pack.duty import duty
from boardwright.documents.pack.head import head
from boardwright.documents.pack.householder import householder
from boardwright.documents.pack.results import readings, readings_line
from boardwright.documents.pack.schedules import circuits, demand, spd
from boardwright.documents.pack.workings import workings
from boardwright.documents.readings.taken import NOTHING_YET, OnSite
from boardwright.documents.surge import curves, surge_chart
from boardwright.documents.words.answer import Answer, Group, answer
from boardwright.documents.words.conductor_words import (
    cut_words,
    end_words,
    function_words,
    in_order_of_work,
    size_words,
    strip_words,
    torque_words,
)
from boardwright.documents.words.figures import (
    NO_BREAK,
    change,
    number,
    quantity,
    sentence,
    source,
    value_and_limit,
    verdict_word,
)
from boardwright.documents.words.labels import labels
from boardwright.wiring.results import Conductor, Origin, SpdLeads

Content = dict[str, Any]

_USES = ("line", "neutral", "earth")


def content(design: Design, site: OnSite = NOTHING_YET) -> Content:
    """Return everything that the pack says, in its order."""
    off, on = views(design)
    return {
        **head(design),
        "answer": _answer(design, site),
        "drawing": off,
        "cover": on,
        "diagram": diagram(design),
        "connections": connections(design),
        "conductors": _conductors(design.chosen),
        "steps": _steps(design.chosen),
        "readings": readings(design, site),
        "circuits": circuits(design),
        "demand": demand(design),
        "spd": spd(design),
        "schemes": _schemes(design),
        "surge": _surge(design),
        "duty": duty(design),
        "workings": workings(design),
        "labels": labels(design, site.issued_on),
        "householder": householder(design, site),
    }


def _answer(design: Design, site: OnSite) -> Content:
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
        ("Findings", f"{said.counts.rstrip('.')}, {_open_count(said)}"),
        ("Readings", readings_line(design, site)),
    ]
    return {
        "sentence": said.sentence,
        "facts": [fact for fact in facts if fact[1]],
        "first": [_open_point(group) for group in said.first],
        "then": [_open_point(group) for group in said.then],
    }


def _open_count(said: Answer) -> str:
    return f"{len(said.first) + len(said.then)} open"


def _phases(count: int) -> str:
    return "single-phase" if count == 1 else "three-phase"


def _open_point(group: Group) -> Content:
    lead, alone = group.lead, len(group.findings) == 1
    return {
        "verdict": lead.verdict.value,
        "word": verdict_word(lead.verdict),
        "subjects": group.subjects,
        "said": list(group.said),
        "figures": value_and_limit(lead) if alone else "",
        "gauge": gauge(lead, on_paper(), lettered=False) if alone else "",
        "do": sentence(lead.remedy),
        "source": list(group.sources),
    }


def _conductors(variant: Variant) -> Content:
    conductors = in_order_of_work(variant.wiring.conductors)
    leads = variant.wiring.spd_leads
    return {
        "rows": [_conductor(c) for c in conductors if c.origin in (Origin.NEW, Origin.FLYING)],
        "existing": _existing(tuple(c for c in conductors if c.origin is Origin.EXISTING)),
        "leads": _leads(leads) if leads else "",
    }


def _conductor(conductor: Conductor) -> list[str]:
    return [
        str(conductor.step or ""),
        end_words(conductor.begin),
        end_words(conductor.end),
        function_words(conductor),
        size_words(conductor),
        cut_words(conductor) or "on device",
        strip_words(conductor),
        torque_words(conductor),
    ]


def _existing(conductors: tuple[Conductor, ...]) -> list[list[str]]:
    """Return each existing cable in one row: where its line, neutral and earth core go."""
    cables: dict[str, list[Conductor]] = {}
    for conductor in conductors:
        cables.setdefault(end_words(conductor.begin), []).append(conductor)
    return [_cable(name, cores) for name, cores in cables.items()]


def _cable(name: str, cores: list[Conductor]) -> list[str]:
    circuit = re.sub(r"(, \w+)? cable$", "", name)
    by_use = {use: [core for core in cores if _use(core) == use] for use in _USES}
    ordered = [core for use in _USES for core in by_use[use]]
    return [
        name,
        # The row names the circuit already.
        *(
            "; ".join(end_words(core.end).removeprefix(f"{circuit} ") for core in by_use[use])
            for use in _USES
        ),
        " / ".join(dict.fromkeys(size_words(core) for core in ordered)),
        " / ".join(dict.fromkeys(filter(None, map(torque_words, ordered)))),
    ]


def _use(core: Conductor) -> str:
    words = function_words(core)
    return words if words in _USES else "line"


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
                "text": sentence(step.text),
                "check": sentence(step.check),
                "caution": sentence(caution),
                "live": step.live,
            }
            for step, caution in with_news(tuple(steps))
        ]
        phases.append({"phase": phase.value, "steps": rows})
    return phases


def _schemes(design: Design) -> Content:
    return {
        "rows": [_scheme(variant, design) for variant in design.variants],
        "out": [[_capital(scheme.value), sentence(why)] for scheme, why in design.out_of_question],
        "reasons": [sentence(reason) for reason in design.chosen.board.reasons],
        "wishes": [
            [_capital(wish.name), number(wish.weight), number(wish.cost)]
            for wish in design.chosen.arrangement.preferences
        ],
        "order": design.chosen.arrangement.note,
    }


def _scheme(variant: Variant, design: Design) -> list[str]:
    leads, candidate = variant.wiring.spd_leads, variant.spd.candidate
    counts = [
        str(sum(f.verdict is verdict for f in variant.findings))
        for verdict in (Verdict.STOP, Verdict.FAIL, Verdict.UNKNOWN, Verdict.ADVISE)
    ]
    return [
        _capital(variant.scheme.value) + (" (proposed)" if variant is design.chosen else ""),
        candidate.device.name if candidate else "none",
        f"{leads.total_m:.2f}" if leads else "",
        *counts,
    ]


def _surge(design: Design) -> Content:
    study = design.chosen.study
    return {
        "svg": surge_chart.build(design),
        "alt": surge_chart.described(design),
        "curves": curves.paper(design),
        "lead": sentence(study.lead_sentence),
        "method": f"{study.outcome.value} Method: {study.method}.",
        "cautions": list(study.cautions),
        "movers": _movers(design),
        "need": f"{sentence(design.need.basis)} {source(design.need.rule)}.",
    }


def _capital(words: str) -> str:
    return sentence(words).rstrip(".")


def _movers(design: Design) -> list[list[str]]:
    return [
        [
            _capital(effect.words),
            f"{change(round(effect.at_low_v), 'V')} / {change(round(effect.at_high_v), 'V')}",
        ]
        for effect in design.chosen.study.places[0].movers
    ]
