"""Neutrals that belong to one circuit alone, and what leaks to earth today."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.core.findings import Finding, Sense
from boardwright.gate.say import Reading, judged
from boardwright.job.circuit import Circuit
from boardwright.standards.edition import Edition


def neutral(circuit: Circuit, edition: Edition) -> Finding:
    """Is the neutral this circuit's own?"""
    point = judged("gate.neutral", circuit.name, circuit.id, edition.rule("gate.neutral"))
    readings = circuit.readings
    if readings.shares_neutral_with is not None or readings.neutral_separate == "no":
        other = readings.shares_neutral_with or "another circuit"
        return point.failed(
            f"The neutral is shared with {other}: two RCBOs would trip, and a neutral would "
            "stay alive.",
            "Run a neutral of its own; else put both circuits on one device that covers the "
            "smaller cable. "
            "Never leave it shared.",
        )
    if readings.neutral_separate == "yes":
        return point.passed("The neutral has no continuity to another circuit's.")
    hint = " A two-way landing light often borrows one." if circuit.serves == "lighting" else ""
    return point.unknown(
        f"It is not known whether the neutral is this circuit's own.{hint}",
        "With both neutrals off the bar and isolated, try for continuity between them.",
    )


def leakage(circuit: Circuit, edition: Edition) -> Iterator[Finding]:
    """Would what leaks today be too much for one 30 mA device?"""
    leakage_a = circuit.readings.leakage_a
    if leakage_a is None:
        return
    limit_a = edition.number("rcd.leakage_fraction") * edition.number("rcd.additional_idn_a")
    reading = Reading(leakage_a, limit_a, "A", Sense.AT_MOST)
    rule = edition.rule("rcd.leakage_fraction")
    point = judged("gate.leakage", circuit.name, circuit.id, rule, reading)
    shown = f"{leakage_a * 1000:g} mA leak to earth"
    if leakage_a <= limit_a:
        yield point.passed(f"{shown}, at most {limit_a * 1000:g} mA being allowed on one RCD.")
        return
    yield point.advised(
        f"{shown}, over the {limit_a * 1000:g} mA allowed on one RCD.",
        "Find the appliance or the fault that leaks, or divide the circuit over two devices.",
    )
