"""A ring's readings answered, as text for a terminal and as JSON for a program."""

from __future__ import annotations

import json
from dataclasses import asdict, replace
from typing import Any

from boardwright.circuits.ring_readings import RingReadings, expected_of, judge_ring
from boardwright.core.findings import Finding
from boardwright.documents.answers.circuit import finding_text
from boardwright.documents.words.figures import NO_BREAK
from boardwright.documents.words.plain import heading, paragraph
from boardwright.standards.edition import Edition

_CAUTION = (
    "Readings of dead tests: isolate, lock off and prove dead before you take an end off its "
    "terminal. An odd reading is a reason to look, not a verdict on the ring."
)


def ring_text(read: RingReadings, edition: Edition) -> str:
    """Return what is found of the readings, and what a whole ring would read at its sockets."""
    expected = expected_of(read, edition)
    ends = f"{expected.line_cpc_ends_ohm:.2f}{NO_BREAK}Ω"
    middle = f"{expected.line_cpc_middle_ohm:.2f}{NO_BREAK}Ω"
    said = (
        f"L–N {expected.line_neutral_ohm:.2f}{NO_BREAK}Ω at every socket; L–cpc {ends} at the "
        f"board's end, growing to {middle} in the middle, which is R1+R2."
    )
    parts = [
        heading(f"Ring in {read.line_mm2:g}/{read.cpc_mm2:g} mm²"),
        paragraph(said, hanging=f"{'Expected':<11}") + "\n",
        *(finding_text(_named(finding)) for finding in judge_ring(read, edition)),
        paragraph(_CAUTION),
    ]
    return "\n".join(parts) + "\n"


def _named(finding: Finding) -> Finding:
    return replace(finding, message=f"{finding.subject}: {finding.message}")


def ring_json(read: RingReadings, edition: Edition) -> str:
    """Return the same as JSON, quantities in the units that end their names."""
    # The published forms come with the whole design: text has no need to wait for it.
    from boardwright.documents.record.models import FindingOut, plain

    whole: dict[str, Any] = {
        "read": asdict(read),
        "expected": asdict(expected_of(read, edition)),
        "findings": [plain(FindingOut, f) for f in judge_ring(read, edition)],
    }
    return json.dumps(whole, indent=1, ensure_ascii=False) + "\n"


__all__ = ["ring_json", "ring_text"]
