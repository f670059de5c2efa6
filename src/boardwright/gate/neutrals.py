"""Neutrals that belong to one circuit alone."""

from __future__ import annotations

from boardwright.core.findings import Finding
from boardwright.gate.say import judged
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.standards.edition import Edition


def neutral(circuit: Circuit, job: Job, edition: Edition) -> Finding:
    """Is the neutral this circuit's own?"""
    point = judged("gate.neutral", circuit.name, circuit.id, edition.rule("gate.neutral"))
    readings = circuit.readings
    if readings.shares_neutral_with is not None or readings.neutral_separate == "no":
        shares = readings.shares_neutral_with
        other = job.circuit(shares).name if shares else "another circuit"
        return point.failed(
            f"The neutral is shared with {other}: two RCBOs would trip, and a neutral would "
            "stay alive.",
            "Run a neutral of its own; else put both circuits on one device that covers the "
            "smaller cable. Never leave it shared.",
        )
    if readings.neutral_separate == "yes":
        return point.passed("The neutral has no continuity to another circuit's.")
    hint = " A two-way landing light often borrows one." if circuit.serves == "lighting" else ""
    return point.unknown(
        f"It is not known whether the neutral is this circuit's own.{hint}",
        "With both neutrals off the bar and isolated, try for continuity between them.",
    )
