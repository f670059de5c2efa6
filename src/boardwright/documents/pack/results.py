"""The pack's schedule of test results: each reading taken, its limit, or room for a pen."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from boardwright.core.findings import Verdict
from boardwright.design import Design
from boardwright.documents.readings.judged import ORIGIN, Judged, judged
from boardwright.documents.readings.limit_words import bound_words, in_signs
from boardwright.documents.readings.taken import INSTRUMENTS, NOT_APPLICABLE, OnSite
from boardwright.documents.words.circuit_words import in_way_order, way_numbers
from boardwright.documents.words.figures import (
    NO_BREAK,
    in_words,
    number,
    quantity,
    sentence,
    source,
    verdict_word,
)

Content = dict[str, Any]

_COLUMNS = (
    ("r1_ohm", "r1", "Ω"),
    ("rn_ohm", "rn", "Ω"),
    ("r2_ohm", "r2", "Ω"),
    ("r1r2_ohm", "R1+R2", "Ω"),
    ("ir_live_mohm", "L–N", "MΩ"),
    ("ir_earth_mohm", "L–E", "MΩ"),
    ("polarity", "Pol.", ""),
    ("zs_ohm", "Zs", "Ω"),
    ("rcd_ms", "RCD", "ms"),
    ("rcd_button", "Test", "button"),
)
"""Readings of a circuit in the order in which they are taken: dead, then live."""

_SAYING = (Verdict.PASS, Verdict.ADVISE, Verdict.FAIL)
"""A reading that no limit bounds is noted, without a mark."""


def readings(design: Design, site: OnSite) -> Content:
    """Return the schedule: what was read of each place, against its limit."""
    found = judged(design, site)
    ways = way_numbers(design)
    rows = [
        {
            "way": ways.get(circuit.id, ""),
            "name": circuit.name,
            "cells": _cells(found[circuit.id]),
        }
        for circuit in in_way_order(design)
    ]
    return {
        "taken": bool(site.values),
        "said": readings_line(design, site),
        "heads": [[name, unit] for _, name, unit in _COLUMNS],
        "rows": rows,
        "origin": [_origin_row(each, design) for each in found[ORIGIN]],
        "outside": list(_outside(design, site)),
        "limits": _limits(design),
        "instruments": [
            [words, site.instruments.get(name, "")] for name, words in INSTRUMENTS.items()
        ],
    }


def readings_line(design: Design, site: OnSite) -> str:
    """Return how far the readings are, in one line; empty before the first."""
    if not site.values:
        return ""
    every = [each for own in judged(design, site).values() for each in own]
    taken = sum(bool(each.values) for each in every)
    failed = sum(each.verdict is Verdict.FAIL for each in every)
    apart = sum(len(each.values) > 1 for each in every)
    parts = [f"{taken} of {len(every)} taken"]
    parts += [in_words(failed, "fails", "fail")] if failed else []
    parts += [f"{in_words(apart, 'is', 'are')} not agreed"] if apart else []
    return ", ".join(parts)


def _cells(own: tuple[Judged, ...]) -> list[Content]:
    by_reading = {each.limit.reading: each for each in own}
    return [_cell(by_reading.get(name)) for name, _, _ in _COLUMNS]


def _cell(found: Judged | None) -> Content:
    """Return one cell: a reading that is not called for says so, one not taken is empty."""
    if found is None:
        return {"value": NOT_APPLICABLE, "limit": "", "mark": ""}
    return {
        "value": " / ".join(found.values),
        "limit": in_signs(found.limit),
        "mark": found.verdict.value if found.verdict in _SAYING else "",
    }


def _origin_row(found: Judged, design: Design) -> Content:
    limit = found.limit
    name = f"{limit.label}, {limit.symbol}" if limit.symbol else limit.label
    return {**_cell(found), "name": name, "unit": limit.unit, "known": _known(found, design)}


def _known(found: Judged, design: Design) -> str:
    """Return what survey or design say of a reading at the origin, to compare with."""
    supply, board_a = design.job.supply, design.plan.origin.ipf_board_max_a
    if found.limit.reading == "ze_ohm" and supply.ze_ohm is not None:
        return f"survey {quantity(supply.ze_ohm, 'ohm')}"
    if found.limit.reading != "ipf_ka":
        return ""
    surveyed = supply.ipf_a
    told = [f"survey {quantity(surveyed, 'A')}"] if surveyed is not None else []
    told += [f"design at the board {quantity(board_a, 'A')}"] if board_a else []
    return ", ".join(told)


def _outside(design: Design, site: OnSite) -> Iterator[Content]:
    """Yield each reading that is not simply within, with what it means."""
    names = {ORIGIN: "Origin and board"} | {c.id: c.name for c in design.job.circuits}
    for place, own in judged(design, site).items():
        for each in own:
            said = _said(each)
            if said:
                verdict = each.verdict or Verdict.UNKNOWN
                yield {"mark": verdict.value, "what": f"{names[place]}: {each.limit.label}", **said}


def _said(found: Judged) -> Content:
    if len(found.values) > 1:
        return {"said": f"{' / '.join(found.values)}: not agreed. Read it again."}
    if found.verdict not in (Verdict.FAIL, Verdict.ADVISE):
        return {}
    word = verdict_word(found.verdict)
    unit = f"{NO_BREAK}{found.limit.unit}" if found.limit.unit else ""
    if found.bound is None:
        return {"said": f"{found.values[0]}. {word}."}
    against = bound_words(found.bound, found.limit.unit)
    told = f"{found.values[0]}{unit}, {against}. {word}. {sentence(found.bound.words)}"
    return {"said": told}


def _limits(design: Design) -> list[str]:
    """Return the limits of the readings as sentences, each with its source."""
    edition = design.edition
    found = []
    for key, words in (
        ("ir.min_mohm", "Insulation at least {} MΩ"),
        ("rcd.time_s", "RCD at its rated residual current within {} ms"),
        (
            "factor.measured_cold",
            "Zs, where a breaker disconnects, is held to {} of the tabulated figure: a cold cable",
        ),
    ):
        if edition.has(key):
            entry = edition.entry(key)
            shown = edition.number(key) * (1000 if entry.unit == "s" else 1)
            found.append(f"{words.format(number(shown))} ({source(edition.rule(key))}).")
    return [text.replace(" MΩ", f"{NO_BREAK}MΩ").replace(" ms", f"{NO_BREAK}ms") for text in found]


__all__ = ["readings", "readings_line"]
