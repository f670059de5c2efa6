"""Take a network apart into what the travelling-wave solver has an equation for."""

from __future__ import annotations

from dataclasses import replace

from boardwright.surge.elements import Branch, Element, Generator, Line, Node
from boardwright.surge.lumped import generator_parts, sections
from boardwright.surge.modes import shortest_delay_s
from boardwright.surge.network import SurgeNetwork


def parted(network: SurgeNetwork, *, lump_below_s: float) -> SurgeNetwork:
    """Return the network with generators as their parts and lines without loss.

    A line quicker than ``lump_below_s`` becomes lumped sections: the interpolation of
    its delay needs two whole steps. The resistance of another is halved between its
    two ends, which is exact at direct current and close for a few ohms in a hundred.
    """
    elements: list[Element] = []
    for element in network.elements:
        if isinstance(element, Generator):
            elements.extend(generator_parts(element))
        elif isinstance(element, Line):
            if shortest_delay_s(element) < lump_below_s:
                elements.extend(sections(element, network.reference))
            else:
                elements.extend(_lossless(element))
        else:
            elements.append(element)
    return SurgeNetwork(network.reference, tuple(elements))


def _lossless(line: Line) -> list[Element]:
    if line.r_ohm_per_m == 0:
        return [line]
    half_ohm = line.r_ohm_per_m * line.length_m / 2
    parts: list[Element] = []
    inner: list[tuple[Node, ...]] = []
    for end, nodes in (("near", line.near), ("far", line.far)):
        inside = tuple(Node(f"{line.name}.{end}", str(at)) for at in range(len(nodes)))
        parts += [
            Branch(f"{line.name}.{end}.{at}", outer, node, half_ohm, 0.0)
            for at, (outer, node) in enumerate(zip(nodes, inside, strict=True))
        ]
        inner.append(inside)
    return [*parts, replace(line, near=inner[0], far=inner[1], r_ohm_per_m=0.0)]
