"""Checks on where the SPD stands: ahead of the RCDs, near what it protects, apart from tests."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.results import Arrangement, Role, Scheme
from boardwright.catalogue.devices import Kind
from boardwright.core.findings import Finding, Verdict
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.spd_way import way_to_supply


@check
def ahead_of_rcds(facts: Facts) -> Iterator[Finding]:
    """Trace the SPD to the supply: no RCD on the way, or one that bears its surges (534.4.7)."""
    if facts.arrangement is None or facts.wiring is None or facts.spd.candidate is None:
        return
    way = way_to_supply(facts.arrangement, facts.wiring)
    rcds = [item for item in way or () if _is_rcd(facts.arrangement, item)]
    verdict, remedy = Verdict.PASS, ""
    message = "Connected ahead of the RCDs, so that its surges do not trip them."
    leads = facts.wiring.spd_leads
    if leads is not None and leads.v_wired:
        message = "The supply passes its terminals ahead of the board: no RCD stands before it."
    elif way is None or facts.arrangement.scheme is Scheme.SEPARATE_BOX:
        verdict = Verdict.UNKNOWN
        message = "Where its line is tapped is not seen in this box."
        remedy = "Tap the line ahead of every RCD of the board as found."
    elif rcds:
        delayed = all(facts.arrangement.placement(i).item.device.time_delayed for i in rcds)
        verdict = Verdict.ADVISE if delayed else Verdict.FAIL
        message = f"Connected behind {', '.join(rcds)}: a surge can trip it."
        remedy = "Connect the SPD at the main switch, ahead of the RCDs."
    yield Finding(
        check="spd.place",
        verdict=verdict,
        subject="Place of the SPD",
        subject_id="spd",
        message=message,
        rule=facts.edition.rule("spd.place"),
        remedy=remedy,
    )


@check
def equipment_in_reach(facts: Facts) -> Iterator[Finding]:
    """Equipment over 10 m of cable from the SPD may see more than its level (534.4.9)."""
    if facts.spd.candidate is None:
        return
    reach_m = facts.edition.number("spd.distance_m")
    away = [
        (appliance.position_m or circuit.cable.length_m, appliance.id, circuit.name)
        for circuit in facts.job.circuits
        for appliance in circuit.appliances
        if appliance.study
    ]
    beyond = sorted((row for row in away if row[0] > reach_m), reverse=True)
    if not away:
        return
    named = ", ".join(f"{name} on {circuit} ({far_m:g} m)" for far_m, name, circuit in beyond)
    yield Finding(
        check="spd.distance",
        verdict=Verdict.ADVISE if beyond else Verdict.PASS,
        subject="Equipment far from the SPD",
        subject_id="spd",
        message=(
            f"{len(beyond)} of {len(away)} appliances stand over {reach_m:g} m of cable away: "
            f"{named}."
            if beyond
            else f"All {len(away)} appliances stand within {reach_m:g} m of cable."
        ),
        rule=facts.edition.rule("spd.distance_m"),
        value=max(away)[0],
        limit=reach_m,
        unit="m",
        remedy="See the surge study; a Type 3 at the equipment lowers the rest." if beyond else "",
    )


@check
def second_spd(facts: Facts) -> Iterator[Finding]:
    """Far from the origin a second SPD, made to work with the first, may be needed (534.4.9)."""
    reach_m = facts.edition.number("spd.distance_m")
    for subject, subject_id, length_m, why in _far_places(facts):
        if length_m > reach_m:
            yield Finding(
                check="spd.second",
                verdict=Verdict.ADVISE,
                subject=subject,
                subject_id=subject_id,
                message=f"{length_m:g} m of cable, over {reach_m:g} m: {why}",
                rule=facts.edition.rule("spd.distance_m"),
                value=length_m,
                limit=reach_m,
                unit="m",
                remedy="Use a pairing that the SPD's maker has tested.",
            )


@check
def insulation_readings_count(facts: Facts) -> Iterator[Finding]:
    """Doubt a low reading at 500 V where the board as found has an SPD (643.3.3)."""
    board = facts.job.existing_board
    if board is None or not any(device.kind == "SPD" for device in board.devices):
        return
    least_mohm = facts.edition.number("ir.min_mohm")
    for circuit in facts.job.circuits:
        reading_mohm = circuit.readings.insulation_mohm
        if reading_mohm is None or not insulation_reading_doubtful(
            reading_mohm,
            least_mohm=least_mohm,
            test_v=circuit.readings.insulation_test_v or facts.edition.number("ir.test_v"),
            sensitive_v=facts.edition.number("ir.test_sensitive_v"),
        ):
            continue
        yield Finding(
            check="spd.insulation_test",
            verdict=Verdict.UNKNOWN,
            subject=circuit.name,
            subject_id=circuit.id,
            message=f"{reading_mohm:g} MΩ at 500 V may be the SPD that conducts, not the wiring.",
            rule=facts.edition.rule("spd.insulation_test"),
            value=reading_mohm,
            limit=least_mohm,
            unit="MΩ",
            remedy="Unplug the SPD and repeat, or test at 250 V; plug it in again afterwards.",
        )


def insulation_reading_doubtful(
    reading_mohm: float, *, least_mohm: float, test_v: float, sensitive_v: float
) -> bool:
    """Tell whether a reading taken with an SPD connected says nothing about the wiring.

    An SPD conducts at the full test voltage, not at the lower one (BS 7671, 643.3.3).
    """
    return test_v > sensitive_v and reading_mohm < least_mohm


def _far_places(facts: Facts) -> Iterator[tuple[str, str, float, str]]:
    """Yield subject, id, length and reason of each place that may want an SPD of its own."""
    submain = facts.job.supply.submain
    if submain is not None:
        why = (
            "the SPD stands at the board, near the equipment and within reach; the cable from "
            "the intake itself stays unprotected unless its keeper allows one there."
        )
        yield "Distribution circuit", submain.id, submain.length_m, why
    for circuit in facts.job.circuits:
        if circuit.serves == "sub-board":
            why = "a second SPD at the sub-board is advised."
            yield circuit.name, circuit.id, circuit.cable.length_m, why
        elif circuit.source is not None:
            why = "an SPD at the inverter too is advised, on its DC side by its maker's word."
            yield circuit.name, circuit.id, circuit.cable.length_m, why


def _is_rcd(arrangement: Arrangement, item_id: str) -> bool:
    item = arrangement.placement(item_id).item
    return item.device.kind is Kind.RCCB or item.role in {Role.INCOMER_RCD, Role.SECTION_RCD}
