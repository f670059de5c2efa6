"""Readings of the supply's earth: Ze, the electrode, and the fault current beside them."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.core.findings import Finding, Sense
from boardwright.gate.say import Reading, judged
from boardwright.job.job import Job
from boardwright.standards.edition import Edition

_ZE_LIMIT = {"TN-C-S": "ze.tn_c_s_max_ohm", "TN-S": "ze.tn_s_max_ohm"}


def ze(job: Job, edition: Edition) -> Finding:
    """Is Ze within what the network operator declares?"""
    key = _ZE_LIMIT[job.supply.system]
    ze_ohm, limit_ohm = job.supply.ze_ohm, edition.number(key)
    reading = Reading(ze_ohm, limit_ohm, "Ω", Sense.AT_MOST)
    point = judged("gate.ze", "Ze", "supply", edition.rule(key), reading)
    if ze_ohm is None:
        return point.unknown(
            "Ze was not read.",
            "Isolate, take the means of earthing apart from everything else, read Ze, and join "
            "it again.",
        )
    if ze_ohm <= limit_ohm:
        return point.passed(
            f"Ze {ze_ohm:g} Ω, declared maximum {limit_ohm:g} Ω for {job.supply.system}."
        )
    return point.failed(
        f"Ze {ze_ohm:g} Ω is over the declared {limit_ohm:g} Ω: the earth is doubtful or it is "
        f"not {job.supply.system}.",
        "Read it again on clean connections, see which earth it is, and tell the network operator.",
    )


def electrode(job: Job, edition: Edition) -> Finding:
    """Is the electrode's resistance known, and low enough to stay so?"""
    ra_ohm, limit_ohm = job.earthing.electrode_ohm, edition.number("electrode.unstable_ohm")
    reading = Reading(ra_ohm, limit_ohm, "Ω", Sense.AT_MOST)
    rule = edition.rule("electrode.unstable_ohm")
    point = judged("gate.electrode", "Earth electrode", "earthing", rule, reading)
    if ra_ohm is None:
        return point.unknown(
            f"The electrode's resistance RA was not read{_on_it(job)}.",
            "Isolate, take the earthing conductor off the electrode, read RA, and join it again "
            "before energising.",
        )
    if ra_ohm <= limit_ohm:
        return point.passed(f"RA {ra_ohm:g} Ω, at most {limit_ohm:g} Ω counting as stable.")
    return point.advised(
        f"RA {ra_ohm:g} Ω is over {limit_ohm:g} Ω: it may grow much in dry or frozen ground.",
        "Drive a second rod or a deeper one, and read again.",
    )


def _on_it(job: Job) -> str:
    """Return what an unread electrode leaves open, once for all circuits."""
    names = [circuit.name for circuit in job.circuits if circuit.cable.cpc_mm2 > 0]
    # A loop that was read holds the electrode too.
    if not names or job.supply.ze_ohm is not None:
        return ""
    return f"; without it nobody can say that an earth fault is cleared on: {', '.join(names)}"


def fault_current(job: Job, edition: Edition) -> Finding:
    """Was the prospective fault current read, and does it agree with Ze?"""
    ipf_a, ze_ohm = job.supply.ipf_a, job.supply.ze_ohm
    point = judged(
        "gate.ipf", "Prospective fault current", "supply", edition.rule("breaking_capacity")
    )
    if ipf_a is None:
        return point.unknown(
            "The prospective fault current at the origin was not read; every device must break it.",
            "Read line-neutral and line-earth at the origin and keep the larger.",
        )
    if ze_ohm is None or job.supply.system == "TT":
        return point.passed(f"{ipf_a:g} A read at the origin.")
    earth_fault_a = job.supply.u0_v / ze_ohm
    # A tenth for the meter's own error: the two come from two readings.
    if ipf_a < 0.9 * earth_fault_a:
        return point.advised(
            f"{ipf_a:g} A is less than the {earth_fault_a:.0f} A that Ze {ze_ohm:g} Ω gives: "
            "one reading is wrong.",
            "Read both again; the recorded figure is the larger of line-neutral and line-earth.",
        )
    return point.passed(f"{ipf_a:g} A agrees with Ze {ze_ohm:g} Ω.")


def loop(job: Job, edition: Edition) -> Iterator[Finding]:
    """Judge the readings of the supply's earth."""
    yield electrode(job, edition) if job.supply.system == "TT" else ze(job, edition)
    yield fault_current(job, edition)
