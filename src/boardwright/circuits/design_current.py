"""Design current, Ib, and what a circuit counts for when its load is not known."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.circuits.allowance import allowed_a, purpose_of
from boardwright.circuits.lookup import figure
from boardwright.job.circuit import Circuit
from boardwright.standards.edition import Edition

_RING = ", ring"
_LARGE_RADIAL_MM2 = 4.0


@dataclass(frozen=True, slots=True)
class DesignCurrent:
    """Ib, and the current of everything connected, before any allowance.

    ``assumed`` is true where neither power nor current of the load is known.
    """

    ib_a: float
    connected_a: float
    assumed: bool


def current_a(power_w: float, u0_v: float, phases: int = 1) -> float:
    """Return the current of a load at unity power factor, evenly on its phases. [A]

    Examples
    --------
    >>> round(current_a(power_w=9500, u0_v=230, phases=1), 3)
    41.304
    """
    return power_w / (u0_v * phases)


def usual_row(circuit: Circuit) -> str:
    """Return the row of the table of usual figures that a circuit falls under."""
    if circuit.serves != "sockets":
        return circuit.serves
    if circuit.topology == "ring":
        return "sockets, ring"
    return "sockets, 4 mm2" if circuit.cable.line_mm2 >= _LARGE_RADIAL_MM2 else "sockets"


def known_power_w(circuit: Circuit) -> float | None:
    """Return the power of a circuit's load, or what its source feeds back by its plate. [W]"""
    return circuit.load.power_w or (circuit.source.power_w if circuit.source else None)


def design_current(circuit: Circuit, u0_v: float, edition: Edition) -> DesignCurrent:
    """Return a circuit's design current; an unknown load fills the device there, or the usual."""
    load, power_w = circuit.load, known_power_w(circuit)
    if load.ib_a is not None:
        return DesignCurrent(load.ib_a, load.ib_a, assumed=False)
    if power_w is None:
        usual_a = figure(edition.table("usual"), usual_row(circuit), "ib_a")
        ib_a = circuit.wanted.in_a or usual_a
        return DesignCurrent(ib_a, ib_a, assumed=True)
    connected_a = current_a(power_w, u0_v, circuit.phases)
    ib_a = connected_a
    if purpose_of(circuit) == edition.text("design_current.with_allowance"):
        sockets = int(load.with_socket)
        ib_a = allowed_a(edition, purpose_of(circuit), (connected_a,), sockets=sockets)
    return DesignCurrent(ib_a, connected_a, assumed=False)
