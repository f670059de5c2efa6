"""An earth electrode answered, as text for a terminal and as JSON for a program."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from boardwright.circuits.electrode import MOST_RODS, Rods
from boardwright.circuits.electrode_answer import (
    ElectrodeAsked,
    ElectrodeReply,
    Plate,
    Strip,
    electrode_reply,
)
from boardwright.documents.answers.circuit import finding_text
from boardwright.documents.words.figures import NO_BREAK, in_words, sentence
from boardwright.documents.words.plain import heading, paragraph
from boardwright.standards.edition import Edition

_CAUTION = (
    "Soil is never alike everywhere: this says how many rods to bring, the reading decides. Before "
    "you drive one, locate what lies in the ground. Isolate before you take an earthing conductor "
    "off, and join it again before anything is energised."
)


def electrode_text(asked: ElectrodeAsked, edition: Edition) -> str:
    """Return what the electrode should read, what is allowed, and how many rods would do."""
    reply = electrode_reply(asked, edition)
    parts = [heading(f"{_title(asked.kind)} in {_of(reply.soil_ohm_m)}Ω·m")]
    parts += [finding_text(reply.finding), *map(_line, _told(asked, reply)), paragraph(_CAUTION)]
    return "\n".join(parts) + "\n"


def electrode_json(asked: ElectrodeAsked, edition: Edition) -> str:
    """Return the same as JSON, quantities in the units that end their names."""
    from boardwright.documents.record.models import FindingOut, plain

    reply = electrode_reply(asked, edition)
    whole: dict[str, Any] = {
        "asked": asdict(asked),
        "soil_ohm_m": reply.soil_ohm_m,
        "electrode_ohm": reply.electrode_ohm,
        "dry_ohm": reply.dry_ohm,
        "limit_ohm": reply.limit_ohm,
        "largest_idn_a": reply.largest_idn_a,
        "rods_needed": reply.rods_needed,
        "finding": plain(FindingOut, reply.finding),
    }
    return json.dumps(whole, indent=1, ensure_ascii=False) + "\n"


def _told(asked: ElectrodeAsked, reply: ElectrodeReply) -> Iterator[tuple[str, str]]:
    if asked.reading_ohm is not None:
        yield (
            "Soil",
            f"One rod of {_of(asked.reading_ohm)}Ω speaks of {_of(reply.soil_ohm_m)}Ω·m",
        )
    largest = f"{reply.largest_idn_a * 1000:.0f}{NO_BREAK}mA"
    yield "RCD", f"In the dry season it keeps 50{NO_BREAK}V for an RCD of up to {largest}"
    if not isinstance(asked.kind, Rods):
        return
    if reply.rods_needed is None:
        yield "Rods", f"More than {MOST_RODS} such rods: take longer ones, or another kind"
    else:
        rods = in_words(reply.rods_needed, "such rod does", "such rods do")
        yield "Rods", f"{rods} with the margin of a dry season"


def _line(told: tuple[str, str]) -> str:
    head, said = told
    return paragraph(sentence(said), hanging=f"{head:<11}") + "\n"


def _title(kind: Rods | Strip | Plate) -> str:
    match kind:
        case Rods(count=1):
            return f"A rod of {kind.length_m:g} m, {kind.diameter_m * 1000:g} mm,"
        case Rods():
            rods = in_words(kind.count, "rod").capitalize()
            size = f"{kind.length_m:g} m, {kind.diameter_m * 1000:g} mm"
            return f"{rods} of {size}, {kind.spacing_m:g} m apart,"
        case Strip():
            return f"A strip of {kind.length_m:g} m, {kind.depth_m:g} m deep,"
        case Plate():
            return f"A plate of {kind.area_m2:g} m²"


def _of(value: float) -> str:  # the unit stands behind it
    return f"{value:.3g}{NO_BREAK}"


__all__ = ["electrode_json", "electrode_text"]
