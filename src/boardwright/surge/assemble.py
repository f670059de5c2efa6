"""Turn a lumped network into the matrices of E·dx/dt = A·x + B·u.

x holds the voltage of each node and the current of each branch; u holds the
currents of the varistors, gaps and current sources, each from a to b.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from boardwright.surge.elements import (
    Branch,
    Capacitor,
    CoupledBranches,
    CurrentSource,
    Gap,
    Matrix,
    Node,
    Varistor,
)
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.waveforms import Array

Port = Varistor | Gap

# A port's own leakage: a node between two varistors would else float.
_LEAK_S = 1e-9


@dataclass(frozen=True, slots=True)
class Equations:
    """The matrices of a network, its start, and what each row stands for."""

    nodes: tuple[Node, ...]
    branches: tuple[str, ...]
    ports: tuple[Port, ...]
    sources: tuple[CurrentSource, ...]
    e: Array
    a: Array
    b: Array
    start: Array


@dataclass(frozen=True, slots=True)
class _Rows:
    """Branches of one element: their names, ends, resistances and inductances."""

    names: tuple[str, ...]
    ends: tuple[tuple[Node, Node], ...]
    r_ohm: tuple[float, ...]
    l_h: Matrix


def assemble(network: SurgeNetwork) -> Equations:
    """Return the equations of a network of lumped elements."""
    nodes = network.nodes
    place = {node: at for at, node in enumerate(nodes)}
    groups = tuple(_groups(network))
    branches = tuple(name for group in groups for name in group.names)
    ports = tuple(item for item in network.elements if isinstance(item, Varistor | Gap))
    sources = tuple(item for item in network.elements if isinstance(item, CurrentSource))
    size = len(nodes) + len(branches)
    e, a = np.zeros((size, size)), np.zeros((size, size))
    b = np.zeros((size, len(ports) + len(sources)))
    start = np.zeros(size)
    _put_branches(e, a, groups, place)
    _put_capacitors(e, start, network, place)
    ends = [(port.a, port.b) for port in ports]
    # A source drives its current out of plus: inside it flows from minus to plus.
    ends += [(source.minus, source.plus) for source in sources]
    for column, (tail, head) in enumerate(ends):
        for node, sign in ((tail, -1.0), (head, 1.0)):
            if node in place:
                b[place[node], column] += sign
    for port in ports:
        _put_pair(a, port.a, port.b, place, -_LEAK_S)
    return Equations(nodes, branches, ports, sources, e, a, b, start)


def _groups(network: SurgeNetwork) -> Iterator[_Rows]:
    for element in network.elements:
        if isinstance(element, Branch):
            yield _Rows(
                (element.name,), ((element.a, element.b),), (element.r_ohm,), ((element.l_h,),)
            )
        elif isinstance(element, CoupledBranches):
            names = tuple(f"{element.name}.{node.conductor}" for node in element.near)
            ends = tuple(zip(element.near, element.far, strict=True))
            yield _Rows(names, ends, element.r_ohm, element.l_h)


def _put_branches(e: Array, a: Array, groups: tuple[_Rows, ...], place: dict[Node, int]) -> None:
    row = len(place)
    for group in groups:
        count = len(group.names)
        e[row : row + count, row : row + count] = group.l_h
        for at in range(count):
            a[row + at, row + at] = -group.r_ohm[at]
            for node, sign in zip(group.ends[at], (1.0, -1.0), strict=True):
                if node in place:
                    a[row + at, place[node]] += sign
                    a[place[node], row + at] -= sign
        row += count


def _put_capacitors(e: Array, start: Array, network: SurgeNetwork, place: dict[Node, int]) -> None:
    for element in network.elements:
        if not isinstance(element, Capacitor):
            continue
        ends = _put_pair(e, element.a, element.b, place, element.c_f)
        # Only a capacitor to the reference may start charged, which is all a
        # generator needs; its node then starts at that voltage.
        if element.u0_v and len(ends) == 1:
            start[ends[0][0]] = ends[0][1] * element.u0_v


def _put_pair(
    matrix: Array, a: Node, b: Node, place: dict[Node, int], value: float
) -> list[tuple[int, float]]:
    """Add an admittance between two nodes; return their rows with their signs."""
    ends = [(place[node], sign) for node, sign in ((a, 1.0), (b, -1.0)) if node in place]
    for row, sign in ends:
        for column, other in ends:
            matrix[row, column] += sign * other * value
    return ends
