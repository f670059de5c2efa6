"""Designs side by side: only what differs, in words and figures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from boardwright.core.findings import Finding, Verdict
from boardwright.design import Design
from boardwright.documents.pack.schemes_page import content
from boardwright.documents.words.answer import answer, grouped
from boardwright.documents.words.circuit_words import device_words
from boardwright.documents.words.figures import fixed, in_words, sentence, verdict_word
from boardwright.web.views.findings import QUIET

_GRAVEST_FIRST = (Verdict.STOP, Verdict.FAIL, Verdict.UNKNOWN, Verdict.ADVISE)


@dataclass(frozen=True, slots=True)
class Point:
    """A finding that stands in one design and not in all."""

    verdict: Verdict
    word: str
    heading: str
    text: str


@dataclass(frozen=True, slots=True)
class Side:
    """One design: what was tried, what a person would say of it, what of it is its own."""

    name: str
    tried: tuple[str, ...]
    lines: tuple[str, ...]
    answer: str
    counts: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Difference:
    """One figure that is not the same in all: its value in each, and where it moved."""

    name: str
    values: tuple[str, ...]
    moved: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class Weighed:
    """All designs and what differs."""

    answer: str
    sides: tuple[Side, ...]
    differences: tuple[Difference, ...]


@dataclass(frozen=True, slots=True)
class Tried:
    """A design with the edits that led to it, as lines and in words; none is what is saved."""

    name: str
    design: Design
    lines: tuple[str, ...] = ()
    words: tuple[str, ...] = ()


def weighed(tried: Sequence[Tried]) -> Weighed:
    """Return designs side by side, what is saved first."""
    differences = tuple(_differences([each.design for each in tried]))
    open_ = [_open(each.design) for each in tried]
    shared = set.intersection(*(set(found) for found in open_))
    sides = tuple(
        Side(
            name=each.name,
            tried=each.words,
            lines=each.lines,
            answer=answer(each.design).sentence,
            counts=_counts(each.design),
            points=tuple(_points([f for key, f in found.items() if key not in shared])),
        )
        for each, found in zip(tried, open_, strict=True)
    )
    count = len(differences)
    said = in_words(count, "figure differs", "figures differ") if count else "No figure differs"
    return Weighed(f"{sentence(said)} {_least_open(tried)}".strip(), sides, differences)


def _least_open(tried: Sequence[Tried]) -> str:
    """Return which design leaves the least to settle, the gravest first; empty for a draw."""
    ranked = sorted(tried, key=lambda each: _open_counts(each.design))
    if len(tried) == 1 or _open_counts(ranked[0].design) == _open_counts(ranked[1].design):
        return ""
    name = ranked[0].name
    return f"{'What is saved' if ranked[0] is tried[0] else f'The {name.lower()}'} has least open."


def _open_counts(design: Design) -> tuple[int, ...]:
    return tuple(sum(f.verdict is verdict for f in design.findings) for verdict in _GRAVEST_FIRST)


def _open(design: Design) -> dict[tuple[str, str, str], Finding]:
    return {(f.check, f.subject, f.message): f for f in design.findings if f.verdict not in QUIET}


def _points(findings: list[Finding]) -> Iterator[Point]:
    for group in grouped(tuple(findings)):
        lead = group.lead
        text = " ".join(words for _, words in group.said)
        yield Point(lead.verdict, verdict_word(lead.verdict), group.subjects, text)


def _counts(design: Design) -> str:
    told = [
        f"{count} {verdict_word(verdict).lower()}"
        for verdict, count in zip(_GRAVEST_FIRST, _open_counts(design), strict=True)
        if count
    ]
    return ", ".join(told) or "nothing open"


def _differences(designs: Sequence[Design]) -> Iterator[Difference]:
    """Yield each figure that is not the same in all, in the order of the page."""
    facts = [dict(_facts(design)) for design in designs]
    names = dict.fromkeys(name for each in facts for name in each)
    for name in names:
        values = tuple(each.get(name, "–") for each in facts)
        if len(set(values)) > 1:
            yield Difference(name, values, tuple(value != values[0] for value in values))


def _facts(design: Design) -> Iterator[tuple[str, str]]:
    page = content(design)
    chosen = design.chosen
    yield "Scheme", sentence(chosen.scheme.value)
    yield from ((name, value) for name, value in page["schemes"][0]["facts"])
    yield "Spare ways", str(chosen.arrangement.spare_modules)
    for place in chosen.study.places:
        band = place.with_spd_v or place.without_spd_v
        yield f"Surge at {place.appliance or 'the board'}", f"{band.p5_v:.0f} to {band.p95_v:.0f} V"
    yield "Maximum demand", f"{fixed(design.plan.demand.total_a, 1)} A"
    for circuit in design.plan.circuits:
        name = circuit.name
        zs = "not known" if circuit.zs_ohm is None else f"{fixed(circuit.zs_ohm, 2)} Ω"
        yield f"{name}: device", device_words(circuit)
        yield f"{name}: Ib", f"{fixed(circuit.ib_a, 1)} A"
        yield f"{name}: Iz", f"{fixed(circuit.iz_a, 1)} A"
        yield f"{name}: volt drop", f"{fixed(circuit.volt_drop_v, 1)} V"
        yield f"{name}: Zs", f"{zs}, at most {fixed(circuit.zs_max_ohm, 2)} Ω"
    yield "Order of the ways", ", ".join(p.item.label for p in chosen.arrangement.placements)
