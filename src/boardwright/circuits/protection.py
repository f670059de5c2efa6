"""The device that a circuit asks for, before a maker is chosen."""

from __future__ import annotations

from boardwright.catalogue.catalogue import Catalogue
from boardwright.circuits.design_current import usual_row
from boardwright.circuits.lookup import figure
from boardwright.circuits.rcd import TYPES, afdd_need, least_rcd_type, rcd_reasons
from boardwright.circuits.results import Protection, RcdNeed
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.standards.edition import Edition

_DIVIDED = "split load"
SOURCES = ("PV", "battery")
"""What feeds energy back."""
OWN_RCD = ("EV point", "heat pump", *SOURCES)
"""What stands behind no RCD that it shares: it may blind it, feed it, or trip it."""
FUSES = ("BS 3036", "BS 88-3", "BS 1361")


def rating_a(circuit: Circuit, *, ib_a: float, iz_a: float, edition: Edition) -> float:
    """Return the rating of a circuit's device: as wanted, else the next standard one. [A]

    The usual rating is taken where the cable bears it, else the least that carries Ib; a cable
    that bears none is left to the check of Ib ≤ In ≤ Iz (433.1.1).
    """
    if circuit.wanted.in_a is not None:
        return circuit.wanted.in_a
    usual_a = figure(edition.table("usual"), usual_row(circuit), "in_a")
    # A ring's cable bears less than its device: the load has two ways to go (433.1.204).
    usual_fits = usual_a <= iz_a or circuit.topology == "ring"
    least_a = max(ib_a, usual_a) if usual_fits else ib_a
    ratings = sorted(float(row) for row in edition.table("breaker_ratings_a").rows)
    return next((rating for rating in ratings if rating >= least_a), ratings[-1])


def protection(
    circuit: Circuit, in_a: float, *, job: Job, catalogue: Catalogue, edition: Edition
) -> Protection:
    """Return the device that a circuit asks for."""
    reasons = rcd_reasons(circuit, in_a, edition)
    least = least_rcd_type(circuit, catalogue, edition)
    standard = _standard(circuit, job, needs_rcd=bool(reasons), least=least)
    residual = standard == "RCBO"
    return Protection(
        in_a=in_a,
        curve=circuit.wanted.curve,
        poles=_poles(circuit, job, residual=residual),
        phases=circuit.phases,
        rcd_type=(circuit.wanted.rcd_type or least) if residual else "",
        idn_a=(circuit.wanted.idn_a or edition.number("rcd.additional_idn_a"))
        if residual
        else None,
        rcd_need=RcdNeed.REQUIRED if reasons else RcdNeed.NOT_REQUIRED,
        rcd_reasons=reasons,
        afdd=afdd_need(circuit, in_a, job, edition),
        bidirectional=circuit.source is not None or circuit.serves in SOURCES,
        wanted=circuit.wanted.in_a is not None,
        standard=standard,
    )


def _standard(circuit: Circuit, job: Job, *, needs_rcd: bool, least: str) -> str:
    if circuit.wanted.standard in FUSES or circuit.wanted.standard == "RCBO":
        return circuit.wanted.standard
    # A source that needs no RCD but may feed DC does better without one than with a blinded one.
    source = circuit.serves in SOURCES and least == TYPES[-1]
    if source and not needs_rcd and job.supply.system != "TT":
        return "MCB"
    # Behind a section's RCD a breaker does, but what may blind or feed that RCD keeps its own.
    if job.wishes.division == _DIVIDED:
        return "RCBO" if circuit.serves in OWN_RCD else "MCB"
    return circuit.wanted.standard or "RCBO"


def _poles(circuit: Circuit, job: Job, *, residual: bool) -> int:
    """Count the poles that must switch; a breaker leaves the neutral to what stands ahead of it."""
    switched_neutral = residual and (
        circuit.serves in OWN_RCD or circuit.source is not None or job.supply.system == "TT"
    )
    lines = 3 if circuit.phases > 1 else 1
    return lines + switched_neutral
