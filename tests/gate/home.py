"""A home that passes the gate in every point, and changes to it by dotted path."""

from copy import deepcopy
from functools import cache
from typing import Any

from boardwright.core.findings import Finding, Verdict
from boardwright.gate.judge import judge
from boardwright.job.job import Job
from boardwright.standards.edition import Edition
from boardwright.standards.load import load_edition

READ = {"insulation_mohm": 100, "insulation_test_v": 500, "neutral_separate": "yes"}
CABLE = {"line_mm2": 2.5, "cpc_mm2": 1.5, "length_m": 50, "condition": "sound"}


def sound_home() -> dict[str, Any]:
    """Return a PME home with a ring and lights in which nothing is missing or wrong."""
    return {
        "id": "sound",
        "title": "Sound home",
        "designed_on": "2026-11-20",
        "premises": {"kind": "house"},
        "supply": {
            "system": "TN-C-S",
            "ze_ohm": 0.2,
            "ipf_a": 1300,
            "polarity_correct": "yes",
            "cutout_fuse_a": 100,
            "cutout_condition": "sound",
            "looped": "no",
            "neutral_mm2": 25,
            "tails": {"csa_mm2": 25, "length_m": 1, "sheathed": "yes"},
            "isolation": "isolator",
        },
        "earthing": {
            "means_present": "yes",
            "conductor_mm2": 16,
            "conductor_connected": "yes",
            "bonds": [
                {
                    "service": "water",
                    "metallic": "yes",
                    "present": "yes",
                    "csa_mm2": 10,
                    "verified": "yes",
                }
            ],
        },
        "surge_environment": {"setting": "urban"},
        "circuits": [
            {
                "id": "ring",
                "name": "Sockets",
                "serves": "sockets",
                "topology": "ring",
                "cable": CABLE,
                "readings": {**READ, "r1_ohm": 0.37, "rn_ohm": 0.37, "r2_ohm": 0.61},
            },
            {
                "id": "lights",
                "name": "Lights",
                "serves": "lighting",
                "cable": {**CABLE, "line_mm2": 1.5, "cpc_mm2": 1.0},
                "readings": {**READ, "r1r2_ohm": 1.0},
            },
        ],
    }


def home(changes: dict[str, object] | None = None) -> Job:
    """Return the sound home with changes; a number in a path is a place in a list."""
    data = deepcopy(sound_home())
    for path, value in (changes or {}).items():
        *way, last = path.split(".")
        part: Any = data
        for step in way:
            part = part[int(step)] if isinstance(part, list) else part.setdefault(step, {})
        if value is None:
            part.pop(last, None)
        else:
            part[last] = value
    return Job.model_validate(data)


def judged(changes: dict[str, object] | None = None) -> tuple[Finding, ...]:
    """Return the gate's findings on the sound home with changes."""
    return judge(home(changes), edition())


def graver(findings: tuple[Finding, ...]) -> list[Finding]:
    """Return the findings that are neither passes nor beside the point."""
    quiet = {Verdict.PASS, Verdict.NOT_APPLICABLE}
    return [finding for finding in findings if finding.verdict not in quiet]


@cache
def edition() -> Edition:
    """Return the edition in force."""
    return load_edition("bs7671_2018_a4")
