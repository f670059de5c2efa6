"""End-to-end readings of a ring: is it one ring, and is it whole?"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.core.findings import Finding, Sense
from boardwright.gate.say import Reading, in_a_row, judged
from boardwright.job.circuit import Circuit
from boardwright.standards.edition import Edition

_CONDUCTORS = ("line", "neutral", "protective conductor")
_WAYS_WITH_A_RING = (
    "Find the break and mend it; else split the ring where it is open into "
    "radials on devices of 20 A."
)


def ring(circuit: Circuit, edition: Edition) -> Iterator[Finding]:
    """Judge the three end-to-end readings of a ring."""
    if circuit.topology != "ring":
        return
    r1_ohm, rn_ohm, r2_ohm = _ends_ohm(circuit)
    point = judged("gate.ring", circuit.name, circuit.id, edition.rule("gate.ring"))
    if (
        r1_ohm is None
        or rn_ohm is None
        or (r2_ohm is None and circuit.readings.cpc_continuous != "no")
    ):
        yield point.unknown(
            _not_read(circuit),
            "Read line, neutral and protective conductor end to end, both ends off their "
            "terminals.",
        )
        return
    open_ohm = edition.number("gate.ring_open_ohm")
    ends_ohm = zip(_CONDUCTORS, (r1_ohm, rn_ohm, r2_ohm), strict=True)
    broken = [name for name, ohm in ends_ohm if ohm is None or ohm >= open_ohm]
    if r2_ohm is None or broken:
        yield point.failed(f"The ring is open in its {in_a_row(broken)}.", _WAYS_WITH_A_RING)
        return
    yield _line_against_neutral(circuit, r1_ohm, rn_ohm, edition)
    yield from _cpc_against_line(circuit, r1_ohm, r2_ohm, edition)


def _ends_ohm(circuit: Circuit) -> tuple[float | None, float | None, float | None]:
    readings = circuit.readings
    return readings.r1_ohm, readings.rn_ohm, readings.r2_ohm


def _not_read(circuit: Circuit) -> str:
    named = zip(("r1", "rn", "r2"), _ends_ohm(circuit), strict=True)
    missing = [name for name, value in named if value is None]
    return f"The ring's {in_a_row(missing)} {'was' if len(missing) == 1 else 'were'} not read."


def _line_against_neutral(
    circuit: Circuit, r1_ohm: float, rn_ohm: float, edition: Edition
) -> Finding:
    """Line and neutral take the same way in the same size, so they must read alike."""
    step_ohm = edition.number("gate.ring_step_ohm")
    apart_ohm = round(abs(r1_ohm - rn_ohm), 4)
    reading = Reading(apart_ohm, step_ohm, "Ω", Sense.AT_MOST)
    rule = edition.rule("gate.ring_step_ohm")
    point = judged("gate.ring", circuit.name, circuit.id, rule, reading)
    if apart_ohm <= step_ohm:
        return point.passed(f"r1 {r1_ohm:g} Ω and rn {rn_ohm:g} Ω agree within {step_ohm:g} Ω.")
    return point.failed(
        f"r1 {r1_ohm:g} Ω and rn {rn_ohm:g} Ω differ by {apart_ohm:g} Ω: a loose joint, or two "
        "rings mixed.",
        f"Tighten and read again; follow the ring point by point. {_WAYS_WITH_A_RING}",
    )


def _cpc_against_line(
    circuit: Circuit, r1_ohm: float, r2_ohm: float, edition: Edition
) -> Iterator[Finding]:
    """Compare r2 with what r1 and the two sizes give: the thinner conductor reads more."""
    if circuit.cable.cpc_mm2 == 0:
        return
    due_ohm = r1_ohm * circuit.cable.line_mm2 / circuit.cable.cpc_mm2
    # Short rings read in steps of a few hundredths: a share alone would accuse them all.
    slack_ohm = max(
        due_ohm * edition.number("gate.ring_ratio_fraction"), edition.number("gate.ring_step_ohm")
    )
    if abs(r2_ohm - due_ohm) <= slack_ohm:
        return
    rule = edition.rule("gate.ring_ratio_fraction")
    why = (
        "a loose joint or a smaller conductor"
        if r2_ohm > due_ohm
        else "a second way to earth, or the wrong conductors"
    )
    yield judged("gate.ring.cpc", circuit.name, circuit.id, rule).advised(
        f"r2 {r2_ohm:g} Ω where the sizes give about {due_ohm:.2f} Ω: {why}.",
        "Null the leads and read again; if it stays, follow the protective conductor point by "
        "point.",
    )
