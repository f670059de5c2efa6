"""The means of earthing and the earthing conductor: nothing is built on a missing earth."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.core.findings import Finding
from boardwright.gate.say import Reading, judged, least_mm2
from boardwright.job.job import Job
from boardwright.standards.edition import Edition

_WAYS_TO_AN_EARTH = (
    "Ask the network operator for an earth terminal; where none is offered, drive an electrode, "
    "read it, and design the home as TT with RCDs."
)


def means_of_earthing(job: Job, edition: Edition) -> Finding:
    """Is there a means of earthing at all?"""
    point = judged(
        "gate.means_of_earthing", "Means of earthing", "earthing", edition.rule("earthing.means")
    )
    present = job.earthing.means_present
    if present is None:
        return point.unknown(
            "It is not known whether the home has a means of earthing.",
            "Find it and prove it with an earth-loop or electrode reading.",
        )
    if present == "no":
        return point.failed("The home has no means of earthing.", _WAYS_TO_AN_EARTH)
    return point.passed(f"A means of earthing is present ({job.supply.system}).")


def earthing_conductor_joined(job: Job, edition: Edition) -> Finding:
    """Is the earthing conductor joined at both ends?"""
    point = judged(
        "gate.earthing_conductor", "Earthing conductor", "earthing", edition.rule("earthing.means")
    )
    joined = job.earthing.conductor_connected
    if joined is None:
        return point.unknown(
            "It is not known whether the earthing conductor is joined at both ends.",
            "Look at both ends; isolate before any earth connection is taken apart.",
        )
    if joined == "no":
        return point.failed(
            "The earthing conductor is not joined.",
            "Isolate, join it, and prove it by a reading of the earth loop before anything is "
            "energised.",
        )
    return point.passed("The earthing conductor is joined.")


def earthing_conductor_size(job: Job, edition: Edition) -> Finding:
    """Is the earthing conductor large enough, without calculation and for PME?"""
    size_mm2, tails_mm2 = job.earthing.conductor_mm2, job.supply.tails.csa_mm2
    asked_mm2 = least_mm2(edition.table("protective_min_mm2"), tails_mm2)
    reading = Reading(size_mm2, asked_mm2, "mm²")
    rule = edition.rule("protective_min_mm2")
    point = judged("gate.earthing_conductor.size", "Earthing conductor", "earthing", rule, reading)
    if size_mm2 is None or tails_mm2 is None:
        return point.unknown(
            "The size of the earthing conductor or of the tails was not recorded.",
            "Read both sizes off the conductors.",
        )
    if asked_mm2 is None:
        return point.unknown(
            f"Tails of {tails_mm2:g} mm² lie beyond the table.",
            "Size the earthing conductor by calculation.",
        )
    if size_mm2 >= asked_mm2:
        return point.passed(
            f"{size_mm2:g} mm² against {asked_mm2:g} mm² for tails of {tails_mm2:g} mm²."
        )
    message = (
        f"{size_mm2:g} mm² is less than {asked_mm2:g} mm², the size that needs no calculation."
    )
    if job.supply.system == "TT":
        return point.advised(
            message,
            "Small fault currents on TT may allow it: prove it by the adiabatic sum, or renew it.",
        )
    return point.failed(
        message, f"Renew it in {asked_mm2:g} mm², or prove it by the adiabatic sum."
    )


def pme_earthing_conductor(job: Job, edition: Edition) -> Iterator[Finding]:
    """On PME, does the earthing conductor reach the bonding size of the supply's neutral?"""
    size_mm2, neutral_mm2 = job.earthing.conductor_mm2, job.supply.neutral_mm2
    if job.supply.system != "TN-C-S" or size_mm2 is None or neutral_mm2 is None:
        return
    asked_mm2 = least_mm2(edition.table("earthing_pme"), neutral_mm2)
    if asked_mm2 is None or size_mm2 >= asked_mm2:
        return
    yield judged(
        "gate.earthing_conductor.pme",
        "Earthing conductor",
        "earthing",
        edition.rule("earthing_pme"),
        Reading(size_mm2, asked_mm2, "mm²"),
    ).failed(
        f"{size_mm2:g} mm² is less than the {asked_mm2:g} mm² that PME asks behind a neutral of "
        f"{neutral_mm2:g} mm².",
        f"Renew it in {asked_mm2:g} mm² or more, as the network operator asks.",
    )


def sheath_clamp(job: Job, edition: Edition) -> Iterator[Finding]:
    """On TN-S, whose is the clamp on the sheath?"""
    if job.supply.system != "TN-S":
        return
    point = judged(
        "gate.sheath_clamp", "Sheath clamp", "earthing", edition.rule("gate.sheath_clamp")
    )
    yield point.advised(
        "The earth comes from the supply cable's sheath, whose clamp or joint is the network "
        "operator's.",
        "Leave the connection to the sheath untouched; join at the earth block, and call the "
        "operator if it is loose.",
    )


def earthing(job: Job, edition: Edition) -> Iterator[Finding]:
    """Judge the means of earthing and the earthing conductor."""
    yield means_of_earthing(job, edition)
    if job.earthing.means_present != "no":
        yield earthing_conductor_joined(job, edition)
        yield earthing_conductor_size(job, edition)
        yield from pme_earthing_conductor(job, edition)
    yield from sheath_clamp(job, edition)
