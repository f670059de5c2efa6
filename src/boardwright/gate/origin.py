"""The origin: cut-out, polarity, isolation, tails, and the readings taken there."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.core.findings import Finding, Sense
from boardwright.gate.say import Reading, covering_row, judged
from boardwright.job.job import Job
from boardwright.standards.edition import Edition

_WAYS_TO_ISOLATE = (
    "Ask the supplier to fit an isolator, or the network operator to de-energise and return; "
    "fit a two-pole isolator on the same visit. The cut-out fuse is not ours to pull."
)
_NETWORK_LOADS = frozenset({"EV point", "heat pump"})


def cutout(job: Job, edition: Edition) -> Finding:
    """May anybody work near this cut-out?"""
    point = judged("gate.cutout", "Cut-out", "supply", edition.rule("gate.cutout"))
    condition = job.supply.cutout_condition
    if condition is None:
        return point.unknown(
            "The condition of the cut-out was not recorded.",
            "Look, touch nothing: heat, leaking compound, cracks, old flash pads.",
        )
    if condition == "sound" and job.supply.cutout_fuse_standard == "BS 3036":
        return point.advised(
            "The cut-out looks sound, but a rewirable carrier may hold asbestos pads.",
            "Do not open it; the network operator changes it. Presume asbestos until shown.",
        )
    if condition == "sound":
        return point.passed("The cut-out looks sound.")
    found = {"possible asbestos": "may hold asbestos"}.get(condition, f"is {condition}")
    return point.stopped(
        f"The cut-out {found}.",
        "Disturb nothing, keep the household away, and call the network operator's emergency line.",
    )


def polarity(job: Job, edition: Edition) -> Finding:
    """Is the supply's polarity right at the origin?"""
    point = judged("gate.polarity", "Polarity at the origin", "supply", edition.rule("polarity"))
    correct = job.supply.polarity_correct
    if correct is None:
        return point.unknown(
            "Polarity at the origin was not proved.",
            "Prove it live, before isolation, with an approved voltage indicator.",
        )
    if correct == "no":
        return point.stopped(
            "Line and neutral of the supply are reversed: switches and fuses leave the line alive.",
            "Call the network operator's emergency line; nothing is worked on until it is put "
            "right.",
        )
    return point.passed("Polarity at the origin is right.")


def isolation(job: Job, edition: Edition) -> Finding:
    """Where can the board be isolated lawfully, and who may do it?"""
    point = judged("gate.isolation", "Isolation", "supply", edition.rule("gate.isolation"))
    who, arranged = job.supply.isolation, job.supply.isolation_arranged
    if who is None:
        return point.unknown(
            "It is not known where the board can be isolated lawfully.", _WAYS_TO_ISOLATE
        )
    if who == "none":
        return point.failed(
            "There is no lawful point of isolation ahead of the board.", _WAYS_TO_ISOLATE
        )
    if who == "isolator":
        return point.passed("An isolator ahead of the board can be locked off.")
    if arranged == "yes":
        return point.passed(f"Isolation by the {who} is arranged.")
    if who == "landlord":
        return point.failed(
            "Only the landlord can isolate, and no date is agreed.",
            "Agree a date, who turns off and who holds the key; tell the neighbours whose "
            "supply goes off too.",
        )
    return point.failed(f"Isolation by the {who} is not arranged.", _WAYS_TO_ISOLATE)


def other_sources(job: Job, edition: Edition) -> Iterator[Finding]:
    """Name whatever keeps the board alive when the supply is off."""
    for circuit in job.circuits:
        if circuit.existing and circuit.source is not None:
            point = judged(
                "gate.other_source", circuit.name, circuit.id, edition.rule("gate.isolation")
            )
            yield point.advised(
                f"{circuit.name} can feed the board while the supply is off.",
                "Isolate and lock it off too, and prove the board dead from both sides.",
            )


def tails_size(job: Job, edition: Edition) -> Finding:
    """Do the tails suit the cut-out fuse?"""
    csa_mm2, fuse_a = job.supply.tails.csa_mm2, job.supply.cutout_fuse_a
    table = edition.table("tails_mm2")
    row = covering_row(table, fuse_a) if fuse_a is not None else None
    least_mm2 = table.cell(row, "mm2") if row else None
    rule = edition.cell_rule("tails_mm2", row or "", "mm2")
    point = judged("gate.tails", "Tails", "supply", rule, Reading(csa_mm2, least_mm2, "mm²"))
    if csa_mm2 is None or fuse_a is None:
        return point.unknown(
            "The size of the tails or the rating of the cut-out fuse was not recorded.",
            "Read the size off the tails and the rating off the carrier's label; the fuse stays "
            "in.",
        )
    if least_mm2 is None:
        return point.unknown(
            f"A {fuse_a:g} A fuse lies beyond the table of tails.",
            "Ask the network operator for the size.",
        )
    if csa_mm2 >= least_mm2:
        return point.passed(
            f"{csa_mm2:g} mm² behind a {fuse_a:g} A fuse, which asks {least_mm2:g} mm²."
        )
    return point.failed(
        f"{csa_mm2:g} mm² is too small behind a {fuse_a:g} A fuse, which asks {least_mm2:g} mm².",
        f"Renew the tails in {least_mm2:g} mm², or ask the network operator for a smaller fuse.",
    )


def tails_length(job: Job, edition: Edition) -> Finding:
    """Are the tails short enough to be protected by the cut-out fuse alone?"""
    length_m, limit_m = job.supply.tails.length_m, edition.number("tails.length_usual_max_m")
    reading = Reading(length_m, limit_m, "m", Sense.AT_MOST)
    rule = edition.rule("tails.length_usual_max_m")
    point = judged("gate.tails.length", "Tails", "supply", rule, reading)
    if length_m is None:
        return point.unknown(
            "The length of the tails was not recorded.", "Measure the way they take."
        )
    if length_m <= limit_m:
        return point.passed(f"{length_m:g} m of tails, {limit_m:g} m being usual.")
    return point.failed(
        f"{length_m:g} m of tails: most network operators allow {limit_m:g} m.",
        "Ask the operator whether it agrees; else fit a switch-fuse at the meter and run a "
        "distribution circuit.",
    )


def tails_sheath(job: Job, edition: Edition) -> Iterator[Finding]:
    """Are the tails insulated and sheathed?"""
    if job.supply.tails.sheathed == "no":
        point = judged("gate.tails.sheath", "Tails", "supply", edition.rule("existing.adequate"))
        yield point.failed(
            "The tails have no sheath.", "Renew them in insulated and sheathed cable."
        )


def looped_service(job: Job, edition: Edition) -> Iterator[Finding]:
    """Is the service looped to a neighbour while large loads are to come?"""
    loads = sorted(
        {c.serves for c in job.circuits if c.serves in _NETWORK_LOADS and not c.existing}
    )
    point = judged(
        "gate.looped", "Service cable", "supply", edition.rule("notice.network_operator")
    )
    if job.supply.looped == "yes" and loads:
        yield point.failed(
            f"The service is looped to a neighbour, and here it is to carry: {', '.join(loads)}.",
            "Tell the network operator; it unloops or enlarges the service before the load "
            "comes, or limits it.",
        )
    elif job.supply.looped is None and loads:
        yield point.unknown(
            f"It is not known whether the service is looped; it is to carry: {', '.join(loads)}.",
            "Look for a second service cable at the cut-out, or ask the network operator.",
        )


def origin(job: Job, edition: Edition) -> Iterator[Finding]:
    """Judge the origin as found."""
    yield cutout(job, edition)
    yield polarity(job, edition)
    yield isolation(job, edition)
    yield from other_sources(job, edition)
    yield tails_size(job, edition)
    yield tails_length(job, edition)
    yield from tails_sheath(job, edition)
    yield from looped_service(job, edition)
