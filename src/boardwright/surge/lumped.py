"""Replace what the lumped solver has no equation for: lines and generators."""

from __future__ import annotations

from itertools import pairwise

from boardwright.surge.elements import (
    Branch,
    Capacitor,
    CoupledBranches,
    Element,
    Generator,
    Line,
    Matrix,
    Node,
)
from boardwright.surge.network import SurgeNetwork

# A section may hold 5 m: its own resonance then lies above 10 MHz, beyond what a
# 1.2/50 front drives. Four sections follow even an open 40 m end to about 1 %.
SECTION_M = 5.0
SECTIONS_MOST = 4


def lumped(network: SurgeNetwork) -> SurgeNetwork:
    """Return the network with each line as pi sections and each generator as its parts."""
    elements: list[Element] = []
    for element in network.elements:
        if isinstance(element, Line):
            elements.extend(sections(element, network.reference))
        elif isinstance(element, Generator):
            elements.extend(generator_parts(element))
        else:
            elements.append(element)
    return SurgeNetwork(network.reference, tuple(elements))


def generator_parts(generator: Generator) -> list[Element]:
    """Return a generator as its charged capacitor, resistances and coil."""
    store = Node(f"{generator.name}.store", generator.plus.conductor)
    circuit, minus, name = generator.circuit, generator.minus, generator.name
    return [
        Capacitor(f"{name}.cc", store, minus, circuit.cc_f, generator.charge_v),
        Branch(f"{name}.rs1", store, minus, circuit.rs1_ohm, 0.0),
        Branch(f"{name}.rm", store, generator.plus, circuit.rm_ohm, circuit.lr_h),
        Branch(f"{name}.rs2", generator.plus, minus, circuit.rs2_ohm, 0.0),
    ]


def sections(line: Line, reference: Node) -> list[Element]:
    """Return a line as pi sections, whose totals are the line's own."""
    count = min(SECTIONS_MOST, max(1, round(line.length_m / SECTION_M)))
    piece_m = line.length_m / count
    inner = [
        tuple(Node(f"{line.name}.{at}", node.conductor) for node in line.near)
        for at in range(1, count)
    ]
    stations = [line.near, *inner, line.far]
    elements: list[Element] = []
    for at, (near, far) in enumerate(pairwise(stations)):
        elements.append(
            CoupledBranches(
                f"{line.name}.{at}.series",
                near,
                far,
                (line.r_ohm_per_m * piece_m,) * len(near),
                tuple(tuple(piece_m * value for value in row) for row in line.l_h_per_m),
            )
        )
    for at, station in enumerate(stations):
        # Half of each piece's capacitance stands at each of its ends.
        shunt_m = piece_m / 2 if at in {0, count} else piece_m
        elements.extend(
            _shunts(f"{line.name}.{at}", station, (*station, reference), line.c_f_per_m, shunt_m)
        )
    return elements


def _shunts(
    name: str,
    station: tuple[Node, ...],
    others: tuple[Node, ...],
    c_f_per_m: Matrix,
    length_m: float,
) -> list[Element]:
    elements: list[Element] = []
    for row, node in enumerate(station):
        for column in range(row, len(station)):
            other = others[-1] if column == row else others[column]
            c_f = c_f_per_m[row][column] * length_m
            if c_f > 0 and node != other:
                elements.append(Capacitor(f"{name}.c{row}{column}", node, other, c_f))
    return elements
