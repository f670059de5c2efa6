"""What is found of a socket circuit's extent: the floor it serves, the spurs that leave it."""

from __future__ import annotations

from boardwright.circuits.results import CircuitResult
from boardwright.circuits.site import Site
from boardwright.core.findings import Finding
from boardwright.core.point import Point
from boardwright.job.circuit import Circuit

_SMALL_RADIAL_A = 20.0


def floor_area(circuit: Circuit, result: CircuitResult, site: Site) -> Finding | None:
    """Hold the floor area against that of a conventional circuit; None where it is not known.

    The areas are a convention, not a rule: they stand for a load that the cable bears.
    """
    area_m2 = circuit.load.area_m2
    if circuit.serves != "sockets" or area_m2 is None:
        return None
    key = _area_key(circuit, result)
    limit_m2 = site.edition.number(key)
    rule = site.edition.rule(key)
    point = Point("circuit.area", result.name, result.id, rule, area_m2, limit_m2, "m²")
    if area_m2 <= limit_m2:
        return point.passed(f"It serves {area_m2:g} m², {limit_m2:g} m² being usual for its kind.")
    return point.advised(
        f"It serves {area_m2:g} m², over the {limit_m2:g} m² usual for its kind.",
        "Give a part of the floor a circuit of its own, or show by its loads that this one does.",
    )


def _area_key(circuit: Circuit, result: CircuitResult) -> str:
    if circuit.topology == "ring":
        return "ring.area_m2"
    return "radial.20_a_area_m2" if result.in_a <= _SMALL_RADIAL_A else "radial.32_a_area_m2"


def ring_spurs(circuit: Circuit, result: CircuitResult, site: Site) -> Finding | None:
    """Hold a ring's unfused spurs against its points; None where either is not known."""
    spurs, points = circuit.load.spurs, circuit.load.points
    if circuit.topology != "ring" or spurs is None or points is None:
        return None
    # The survey counts every outlet, those at the end of spurs too: each spur feeds one.
    on_ring = max(points - spurs, 0)
    rule = site.edition.rule("ring.spurs")
    point = Point("circuit.spurs", result.name, result.id, rule, spurs, on_ring, "spurs")
    shown = f"{spurs} unfused spurs leave a ring of {on_ring} points"
    if spurs <= on_ring:
        return point.passed(f"{shown}.")
    return point.failed(f"{shown}.", "Take spurs into the ring, or feed them through fuses.")
