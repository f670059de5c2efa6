"""One page to lay before a customer: every scheme worked out, side by side, for and against."""

from __future__ import annotations

import re
import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

from boardwright.board.results import Role, Scheme
from boardwright.core.findings import Finding, Verdict
from boardwright.design import Design, Variant
from boardwright.documents.lists.materials import total_gbp
from boardwright.documents.pack.head import head
from boardwright.documents.pack.typeset import typeset
from boardwright.documents.words.answer import Group, grouped
from boardwright.documents.words.figures import (
    NO_BREAK,
    TO,
    fixed,
    in_words,
    number,
    quantity,
    sentence,
    volts_between,
)
from boardwright.wiring.results import Origin

TITLE = "Schemes side by side"
FILE = "schemes.pdf"

Content = dict[str, Any]

_ADVICE, _AGAINST, _PROVED, _ALWAYS, _NAMED = 2, 5, 4, 6, 3
"""How many points a part of the page shows, and how many names a point; the rest are counted."""

_LONGEST = 190
"""Letters of a point; what follows its first sentence beyond them is left to the findings."""

_HOURS = {
    Scheme.NEW_BOARD: "new_board",
    Scheme.SPARE_WAYS: "spare_ways",
    Scheme.SEPARATE_BOX: "separate_box",
}

_NAMES = {
    Scheme.NEW_BOARD: "A new board",
    Scheme.SPARE_WAYS: "SPD in spare ways of the board as found",
    Scheme.SEPARATE_BOX: "SPD in a box beside the board as found",
}


def build(design: Design) -> bytes:
    """Return the page as PDF."""
    return typeset("schemes.typ", content(design), design)


def content(design: Design) -> Content:
    """Return everything that the page says."""
    always = grouped(_open(design.gate))
    return {
        **head(design),
        "said": _said(design),
        "schemes": [_scheme(variant, design) for variant in design.variants],
        "always": [_point(group) for group in always[:_ALWAYS]],
        "later": _more(len(always) - _ALWAYS),
        "out": [[_NAMES[scheme], sentence(why)] for scheme, why in design.out_of_question],
        "hours": f"Hours: {_hours_note()}. Parts: prices of the catalogue, without tax and labour.",
    }


def _said(design: Design) -> str:
    count = len(design.variants)
    if count > 1:
        return f"{in_words(count, 'scheme').capitalize()} worked out; the first is proposed."
    if design.out_of_question:
        return "One scheme is left; the others are out of the question."
    return f"One scheme was asked for: {design.chosen.scheme.value}."


def _scheme(variant: Variant, design: Design) -> Content:
    points = grouped(_open(variant.findings))
    grave = [g for g in points if g.lead.verdict in (Verdict.STOP, Verdict.FAIL)]
    advice = [g for g in points if g.lead.verdict is Verdict.ADVISE]
    unknown = [g for g in points if g.lead.verdict is Verdict.UNKNOWN]
    against = [*grave[:_AGAINST], *advice[:_ADVICE]]
    return {
        "name": _NAMES[variant.scheme],
        "proposed": variant is design.chosen,
        "facts": [fact for fact in _facts(variant, design) if fact[1]],
        "untouched": _untouched(variant, design),
        "against": [_point(group) for group in against],
        "more": _more(len(grave) + len(advice) - len(against)),
        "proved": [_point(group) for group in unknown[:_PROVED]],
        "unproved": _more(len(unknown) - _PROVED),
    }


def _more(count: int) -> str:
    return f"And {in_words(count, 'point')} more in the findings." if count > 0 else ""


def _open(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    still = (Verdict.STOP, Verdict.FAIL, Verdict.UNKNOWN, Verdict.ADVISE)
    return tuple(finding for finding in findings if finding.verdict in still)


def _facts(variant: Variant, design: Design) -> list[list[str]]:
    """Return the figures by which schemes are compared, each with its name."""
    leads, candidate = variant.wiring.spd_leads, variant.spd.candidate
    good_m, most_m = (design.edition.number(f"spd.leads_{end}_m") for end in ("good", "max"))
    limits = f"(best within {number(good_m)}, never over{NO_BREAK}{number(most_m)})"
    assumed = ", partly assumed" if leads and leads.assumed else ""
    return [
        ["Enclosure", variant.arrangement.enclosure.name],
        ["SPD", candidate.device.name if candidate else "none"],
        [
            "SPD leads, together",
            f"{leads.total_m:.2f}{NO_BREAK}m{assumed} {limits}" if leads else "",
        ],
        ["Voltage left, lead rule", _by_rule(variant)],
        ["Voltage left, study", _by_study(variant)],
        ["Parts", f"£{fixed(total_gbp(variant.wiring.materials), 2)}{_unpriced(variant)}"],
        ["Hours on site", _hours(variant, design)],
    ]


def _by_rule(variant: Variant) -> str:
    """Return the check's own figure: the declared Up and the drop along the leads."""
    for finding in variant.findings:
        if finding.check == "spd.up_effective" and finding.value is not None:
            at_most = f", at most {quantity(finding.limit, 'V')}" if finding.limit else ""
            return f"{quantity(finding.value, 'V')}{at_most}"
    return ""


def _by_study(variant: Variant) -> str:
    place = variant.study.places[0]
    band = place.with_spd_v or place.without_spd_v
    return (
        f"{volts_between(band.p5_v, band.p95_v)} in a {variant.study.surge}; "
        f"the board withstands {quantity(place.uw_v, 'V')}"
    )


def _unpriced(variant: Variant) -> str:
    count = sum(material.price_gbp == 0 for material in variant.wiring.materials)
    return f", {in_words(count, 'line')} without a price" if count else ""


def _hours(variant: Variant, design: Design) -> str:
    row = _hours_data()[_HOURS[variant.scheme]]
    count = len(design.job.circuits)
    low_h, high_h = (
        row[f"base_{end}_h"] + count * row[f"circuit_{end}_h"] for end in ("low", "high")
    )
    return f"{_half(low_h)}{TO}{_half(high_h)}{NO_BREAK}h"


def _half(hours_h: float) -> str:
    """Return hours to the half: nobody plans a day closer."""
    return number(round(hours_h * 2) / 2)


@cache
def _hours_data() -> dict[str, Any]:
    """Return the hours; they are part of the program, as its code is."""
    text = (
        files("boardwright.documents.pack").joinpath("paper/hours.toml").read_text(encoding="utf-8")
    )
    return tomllib.loads(text)


def _hours_note() -> str:
    return str(_hours_data()["source"]["note"])


def _untouched(variant: Variant, design: Design) -> str:
    """Return what stays as it is, counted from the wiring and the rail."""
    there = sum(circuit.existing for circuit in design.job.circuits)
    cables = f"; the cables of {in_words(there, 'circuit')} beyond the board" if there else ""
    if variant.scheme is Scheme.NEW_BOARD:
        tails = any(
            c.begin.terminal.startswith("meter.") and c.origin is Origin.NEW
            for c in variant.wiring.conductors
        )
        return sentence(f"meter and cut-out{'' if tails else ', the tails'}{cables}")
    kept = sum(p.item.role is Role.AS_FOUND for p in variant.arrangement.placements)
    devices = in_words(kept, "device") if kept else "every device"
    return sentence(
        f"the board as found with {devices} in {'their' if kept > 1 else 'its'} place{cables}"
    )


def _point(group: Group) -> Content:
    """Return a point in few words: what is so of one subject may differ for the next."""
    names = list(dict.fromkeys(finding.subject for finding in group.findings))
    more = len(names) - _NAMED
    said = list(dict.fromkeys(words for _, words in group.said))
    alike = in_words(len(said) - 1, "like it", "like it") if len(said) > 1 else ""
    return {
        "verdict": group.lead.verdict.value,
        "subjects": ", ".join(names[:_NAMED]) + (f" and {more} more" if more > 0 else ""),
        "said": _in_brief(said[0]) + (f" And {alike}." if alike else ""),
        "do": _in_brief(sentence(group.lead.remedy)),
    }


def _in_brief(words: str) -> str:
    """Return as many whole sentences as a point has room for, the first in any case."""
    first, *further = re.split(r"(?<=\.) (?=[A-Z])", words)
    kept = first
    for said in further:
        if len(kept) + len(said) >= _LONGEST:
            break
        kept += f" {said}"
    return kept
