"""Main protective bonding, service by service."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.core.findings import Finding, Rule
from boardwright.core.point import Point
from boardwright.gate.say import Reading, judged, least_mm2
from boardwright.job.job import Job
from boardwright.job.supply import Bond
from boardwright.standards.edition import Edition


def bonding(job: Job, edition: Edition) -> Iterator[Finding]:
    """Judge the bond of every service that the survey names."""
    if not job.earthing.bonds:
        yield judged("gate.bonding", "Bonding", "bonding", edition.rule("bonding.rule")).unknown(
            "The survey names no service: it is not known what must be bonded.",
            "Look where water, gas, oil and steel come in; a plastic service is recorded as not "
            "metallic.",
        )
    for bond in job.earthing.bonds:
        yield _presence(bond, edition) or _size(bond, job, edition)


def _point(bond: Bond, rule: Rule, reading: Reading | None = None) -> Point:
    name = bond.service.replace(" ", "-")
    subject = f"{bond.service.capitalize()} bonding"
    point = judged(f"gate.bonding.{name}", subject, name, rule)
    return point if reading is None else judged(point.check, subject, name, rule, reading)


def _presence(bond: Bond, edition: Edition) -> Finding | None:
    """Judge what can be judged without a size; None where the size decides."""
    point = _point(bond, edition.rule("bonding.rule"))
    if bond.metallic == "no":
        return point.spared(f"The {bond.service} service is not metallic where it comes in.")
    if bond.present == "yes":
        return None
    if bond.present == "no" and bond.metallic == "yes":
        return point.failed(
            f"The {bond.service} service is metallic and has no main bonding.",
            "Run a bonding conductor from the main earthing terminal and prove its continuity.",
        )
    unseen = "whether it is metallic" if bond.present == "no" else "whether it is bonded"
    return point.unknown(
        f"Of the {bond.service} service it is not known {unseen}.",
        "Look where the service comes in; bond it if it is metallic.",
    )


def _size(bond: Bond, job: Job, edition: Edition) -> Finding:
    asked_mm2, rule = least_bond_mm2(job, edition)
    point = _point(bond, rule, Reading(bond.csa_mm2, asked_mm2, "mm²"))
    if bond.csa_mm2 is None:
        return point.unknown(
            f"The bond of the {bond.service} service was not sized.",
            "Read its size off the conductor.",
        )
    if bond.csa_mm2 < _bearable_mm2(asked_mm2, job, edition):
        return _too_small(point, bond.csa_mm2, asked_mm2)
    if asked_mm2 is None:
        return _without_limit(point)
    if bond.verified != "yes":
        return _unproved(bond, edition)
    if bond.csa_mm2 < asked_mm2:
        return _disputed(point, bond.csa_mm2, asked_mm2)
    return point.passed(
        f"{bond.csa_mm2:g} mm² against {asked_mm2:g} mm²; clamp seen, continuity measured."
    )


def _bearable_mm2(asked_mm2: float | None, job: Job, edition: Edition) -> float:
    """Return the size under which no view of the trade lets a bond stay."""
    if asked_mm2 is None:
        return edition.number("bonding.other_min_mm2")
    # The dispute is over 6 mm² where 10 is asked, not over a larger supply's larger bond.
    least_of_all = min(row["mm2"] for row in edition.table("bonding_pme").rows.values())
    if job.supply.system == "TN-C-S" and asked_mm2 <= least_of_all:
        return edition.number("bonding.old_pme_mm2")
    return asked_mm2


def _without_limit(point: Point) -> Finding:
    return point.unknown(
        "The size that the bond must have is not known.",
        "Find out the size of the supply's neutral (PME) or of the earthing conductor.",
    )


def _too_small(point: Point, csa_mm2: float, asked_mm2: float | None) -> Finding:
    asked = "any main bond must have" if asked_mm2 is None else f"the {asked_mm2:g} mm² asked for"
    return point.failed(
        f"{csa_mm2:g} mm² is less than {asked}.",
        "Run a bond of the size that the table gives, and prove its continuity.",
    )


def _unproved(bond: Bond, edition: Edition) -> Finding:
    return _point(bond, edition.rule("bonding.rule")).unknown(
        f"The bond of the {bond.service} service was not proved by measurement.",
        "Measure its continuity from the main earthing terminal to the clamp, and see the clamp.",
    )


def _disputed(point: Point, csa_mm2: float, asked_mm2: float) -> Finding:
    """Lay out both views on an old, smaller bond on PME: the trade has not settled it."""
    return point.advised(
        f"{csa_mm2:g} mm² on PME where new work asks {asked_mm2:g} mm²: some let it stay if it "
        "complied when fitted, shows no damage and is shown to be adequate; others insist on the "
        "larger size.",
        f"Decide, and record why; {asked_mm2:g} mm² ends the argument.",
    )


def least_bond_mm2(job: Job, edition: Edition) -> tuple[float | None, Rule]:
    """Return the least copper for a main bond, None where a size is missing, with its rule."""
    if job.supply.system == "TN-C-S":
        table = edition.table("bonding_pme")
        return least_mm2(table, job.supply.neutral_mm2), edition.rule("bonding_pme")
    earthing_mm2 = job.earthing.conductor_mm2
    rule = edition.rule("bonding.other_share_of_earthing")
    if earthing_mm2 is None:
        return None, rule
    share_mm2 = earthing_mm2 * edition.number("bonding.other_share_of_earthing")
    floor_mm2, cap_mm2 = (
        edition.number("bonding.other_min_mm2"),
        edition.number("bonding.other_max_mm2"),
    )
    return min(max(share_mm2, floor_mm2), cap_mm2), rule
