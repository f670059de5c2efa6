"""Residual current: where a 30 mA RCD must be, of which type, and what leaks through it already."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.catalogue.catalogue import Catalogue
from boardwright.circuits.results import AfddNeed
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.standards.edition import Edition

TYPES = ("AC", "A", "F", "B")
"""RCD types, each covering the ones before it."""


def rcd_reasons(circuit: Circuit, in_a: float, edition: Edition) -> tuple[str, ...]:
    """Return why a circuit needs additional protection, each reason with its clause."""
    return tuple(_reason(edition, key) for key in rcd_need_keys(circuit, in_a, edition))


def rcd_need_keys(circuit: Circuit, in_a: float, edition: Edition) -> tuple[str, ...]:
    """Return the edition's keys of the reasons, for whoever cites them."""
    return tuple(_needs(circuit, in_a, edition))


def _needs(circuit: Circuit, in_a: float, edition: Edition) -> Iterator[str]:
    small = in_a <= edition.number("rcd_need.sockets_max_a")
    # A socket-outlet in a cooker's control unit is one as any other.
    if (circuit.serves == "sockets" and small) or circuit.load.with_socket:
        yield "rcd_need.sockets"
    if circuit.serves == "lighting":
        yield "rcd_need.lighting"
    if circuit.serves == "outdoor":
        yield "rcd_need.outdoor"
    if circuit.serves == "EV point":
        yield "rcd_need.ev"
    if circuit.bathroom:
        yield "rcd_need.bathroom"
    # Armour that is earthed protects a cable in a wall by itself (522.6.204).
    if circuit.cable.concealed == "yes" and not circuit.cable.type.startswith("swa"):
        yield "rcd_need.concealed"


def _reason(edition: Edition, key: str) -> str:
    entry = edition.entry(key)
    return f"{entry.value} ({entry.clause})"


def least_rcd_type(circuit: Circuit, catalogue: Catalogue, edition: Edition) -> str:
    """Return the least RCD type that suits a circuit, its appliances and their maker."""
    wanted = [_by_service(circuit, edition)]
    wanted += [
        catalogue.appliances[appliance.kind].rcd_type
        for appliance in circuit.appliances
        if appliance.kind in catalogue.appliances
    ]
    if circuit.maker_rcd_type:
        # The equipment's maker knows it: their word replaces the guess from what it serves.
        any_type = TYPES[int(edition.table("rcd_type").rows["any"]["least"])]
        wanted = [any_type, circuit.maker_rcd_type]
    return max(wanted, key=TYPES.index)


def _by_service(circuit: Circuit, edition: Edition) -> str:
    rows = edition.table("rcd_type").rows
    row = rows.get(circuit.serves, rows["any"])
    least = row.get("without_dc", row["least"]) if _dc_ruled_out(circuit) else row["least"]
    return TYPES[int(least)]


def _dc_ruled_out(circuit: Circuit) -> bool:
    detected = circuit.ev is not None and circuit.ev.dc_detection == "yes"
    separated = circuit.source is not None and circuit.source.dc_separated == "yes"
    return detected or separated


def leakage_a(circuit: Circuit, catalogue: Catalogue) -> float:
    """Return the standing earth leakage: the clamp's reading, else its appliances'. [A]"""
    if circuit.readings.leakage_a is not None:
        return circuit.readings.leakage_a
    return sum(
        catalogue.appliances[appliance.kind].leakage_a * appliance.count
        for appliance in circuit.appliances
        if appliance.kind in catalogue.appliances
    )


def leakage_limit_a(leakage_fraction: float, idn_a: float) -> float:
    """Return the standing leakage that one RCD should bear at most (531.3.2). [A]

    Examples
    --------
    >>> round(leakage_limit_a(leakage_fraction=0.3, idn_a=0.03), 4)
    0.009
    """
    return leakage_fraction * idn_a


def leakage_share(leakage_a: float, leakage_fraction: float, idn_a: float) -> float:
    """Return how much of the leakage allowed on one RCD is used up."""
    return leakage_a / leakage_limit_a(leakage_fraction, idn_a)


def trip_chance(leakage_a: float, idn_a: float, edition: Edition) -> str:
    """Return in words how near a standing leakage brings an RCD to tripping by itself.

    An RCD must trip at IdN and must not below half of it; between the two nobody can say.
    """
    if leakage_a >= idn_a:
        return "it will trip, and stay off until something that leaks is unplugged"
    if leakage_a >= edition.number("rcd.trip_from_fraction") * idn_a:
        return "it may trip at any time"
    if leakage_a > leakage_limit_a(edition.number("rcd.leakage_fraction"), idn_a):
        return "a little more may trip it"
    return "it bears that"


def afdd_need(circuit: Circuit, in_a: float, job: Job, edition: Edition) -> AfddNeed:
    """Return whether arc-fault detection must or should be there (421.1.7)."""
    small = circuit.phases == 1 and in_a <= edition.number("afdd.sockets_max_a")
    if circuit.serves != "sockets" or not small:
        return AfddNeed.NONE
    classes = edition.text("afdd.classes").split(", ")
    if job.premises.building_class in classes:
        return AfddNeed.REQUIRED
    recommended = edition.text("afdd.elsewhere") == "recommended"
    return AfddNeed.RECOMMENDED if recommended else AfddNeed.NONE
