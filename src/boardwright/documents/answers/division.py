"""The divisions of a home over its RCDs, weighed: as text for a terminal and as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from boardwright.circuits.propose import Option, Proposal, prices_of, propose
from boardwright.design import Design
from boardwright.documents.words.figures import NO_BREAK, in_words, quantity, sentence, source
from boardwright.documents.words.plain import heading, paragraph

_INDENT = 11
_WANTED = {"RCBO on every way": "an RCBO on every way", "split load": "two sections behind RCCBs"}
_CAUTION = (
    "Prices are the catalogue's lowest that the enclosure's maker allows in it, without tax and "
    "labour. Isolate and prove dead before you touch a neutral bar."
)


def proposal_of(design: Design) -> Proposal:
    """Return the divisions of a designed home, weighed with the prices of its board."""
    allowed = design.catalogue.permitted(design.chosen.board.enclosure)
    return propose(design.job, design.catalogue, design.edition, prices_of(allowed))


def division_text(design: Design) -> str:
    """Return what is proposed and why, then each division with its cost and what it does."""
    proposal = proposal_of(design)
    parts = [
        heading(f"Division: {design.job.title}"),
        f"{_proposed(proposal, design)}\n",
        *(_option(option, proposal) for option in proposal.options),
        paragraph(_CAUTION),
    ]
    return "\n".join(parts) + "\n"


def division_json(design: Design) -> str:
    """Return the same as JSON, quantities in the units that end their names."""
    proposal = proposal_of(design)
    whole: dict[str, Any] = {
        "proposed": proposal.proposed.kind,
        "wanted": design.job.wishes.division,
        "reasons": list(proposal.reasons),
        "options": [
            asdict(option) | {"most_down": option.most_down} for option in proposal.options
        ],
    }
    return json.dumps(whole, indent=1, ensure_ascii=False) + "\n"


def _proposed(proposal: Proposal, design: Design) -> str:
    said = " ".join(map(sentence, proposal.reasons))
    rule = design.edition.rule("rcd.division")
    lines = [paragraph(said, hanging=f"{'Proposed':<{_INDENT}}"), paragraph(source(rule), _INDENT)]
    wanted = design.job.wishes.division
    if wanted not in ("either", proposal.proposed.kind):
        asked = f"The job asks for {_WANTED[wanted]}, and is planned so."
        lines.append(paragraph(asked, _INDENT))
    return "\n".join(lines)


def _option(option: Option, proposal: Proposal) -> str:
    name = sentence(_WANTED[option.kind]).rstrip(".") + (
        ", proposed" if option is proposal.proposed else ""
    )
    lines = [name, "─" * len(name)]
    lines += [paragraph(said, hanging=f"{head:<{_INDENT}}") for head, said in _told(option)]
    return "\n".join(lines) + "\n"


def _told(option: Option) -> Iterator[tuple[str, str]]:
    alone = sum(len(names) == 1 for names in option.down_together)
    for names in option.down_together:
        if len(names) > 1:
            yield "Together", sentence(f"{', '.join(names)} go off with one trip")
    if alone:
        yield "Alone", sentence(f"{in_words(alone, 'circuit goes', 'circuits go')} off alone")
    limit = quantity(option.leakage_limit_a, "A")
    yield (
        "Leakage",
        sentence(f"{quantity(option.leakage_a, 'A')} at most through one RCD, {limit} allowed"),
    )
    yield "Devices", _cost(option)
    for said in option.broken:
        yield "Forbidden", sentence(said)
    for said in option.against:
        yield "Against", sentence(said)


def _cost(option: Option) -> str:
    if option.cost_gbp is None:
        return "No cost: the catalogue has no price for each of its devices in this enclosure."
    rccbs = " and ".join(f"{rating_a:g} A" for rating_a in option.rccbs_a)
    behind = f", RCCBs of {rccbs}" if rccbs else ""
    return sentence(f"£{option.cost_gbp:,.2f}{NO_BREAK}together{behind}")


__all__ = ["division_json", "division_text", "proposal_of"]
