"""The equations of a network whose lines have cut it into subnetworks.

Each subnetwork is E·dx/dt = A·x + B·u with node voltages and branch currents in x.
E is written as F·Fᵀ, a column of F for each thing that stores energy: then Fᵀ·x is
what it holds (its square over two is the energy), and a line's end has a column of
the same kind. That is what lets one small table step the whole subnetwork.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from boardwright.surge.assemble import Port
from boardwright.surge.elements import (
    Branch,
    Capacitor,
    CoupledBranches,
    CurrentSource,
    Gap,
    Line,
    Node,
    Source,
    Varistor,
    VoltageSource,
)
from boardwright.surge.modes import modes_of
from boardwright.surge.network import Groups, SurgeNetwork
from boardwright.surge.waveforms import Array

# A port's own leakage: a node between two varistors would else float.
LEAK_S = 1e-9

# Under this a conductance would drown its neighbours in rounding; a current of its own does not.
_CURRENT_BELOW_OHM = 1e-2


@dataclass(frozen=True, slots=True)
class WaveEnd:
    """One mode of a line at one of its ends."""

    line: str
    mode: int
    far: bool
    delay_s: float


@dataclass(frozen=True, slots=True)
class Subnet:
    """One subnetwork. Columns of ``store``, ``wave``, ``port`` and ``source`` act on x.

    ``loss`` turns x into amounts whose squares are the watts of the resistances;
    ``loss_source`` adds the sources' own part. ``held`` is what each store starts with.
    """

    nodes: tuple[Node, ...]
    currents: tuple[str, ...]
    ports: tuple[Port, ...]
    sources: tuple[Source, ...]
    ends: tuple[WaveEnd, ...]
    a: Array
    store: Array
    wave: Array
    port: Array
    source: Array
    loss: Array
    loss_source: Array
    held: Array


class _Builder:
    """Collects rows and columns over the whole network, then deals them out."""

    def __init__(self, network: SurgeNetwork) -> None:
        self.reference = network.reference
        self.nodes = network.nodes
        self.place = {node: at for at, node in enumerate(self.nodes)}
        self.groups = Groups()
        self.currents: list[str] = []
        self.current_home: list[Node] = []
        self.a: list[tuple[int, int, float]] = []
        self.store: list[tuple[list[tuple[int, float]], float]] = []
        self.wave: list[tuple[list[tuple[int, float]], WaveEnd]] = []
        self.port: list[tuple[list[tuple[int, float]], Port]] = []
        self.source: list[tuple[list[tuple[int, float]], Source]] = []
        self.loss: list[tuple[list[tuple[int, float]], float, str]] = []
        for element in network.elements:
            self._add(element)

    def _add(self, element: object) -> None:
        match element:
            case Branch():
                self._branch(element)
            case CoupledBranches():
                self._coupled(element)
            case Capacitor():
                self._join(element.a, element.b)
                ends = self._pair(element.a, element.b)
                root = element.c_f**0.5
                held = root * element.u0_v
                self.store.append(([(row, sign * root) for row, sign in ends], held))
            case Varistor() | Gap():
                self._join(element.a, element.b)
                ends = self._pair(element.a, element.b)
                self.port.append(([(row, -sign) for row, sign in ends], element))
                self._conduct(ends, LEAK_S)
            case CurrentSource() | VoltageSource():
                self._source(element)
            case Line():
                self._line(element)

    def _join(self, *nodes: Node) -> None:
        real = [node for node in nodes if node != self.reference]
        for node in real[1:]:
            self.groups.join(real[0], node)

    def _pair(self, a: Node, b: Node) -> list[tuple[int, float]]:
        ends = ((a, 1.0), (b, -1.0))
        return [(self.place[node], sign) for node, sign in ends if node in self.place]

    def _conduct(self, ends: list[tuple[int, float]], siemens: float) -> None:
        for row, sign in ends:
            for column, other in ends:
                self.a.append((row, column, -siemens * sign * other))

    def _current(self, name: str, ends: list[tuple[int, float]], r_ohm: float) -> int:
        """Add a current of its own and its equation; return its row."""
        row = len(self.nodes) + len(self.currents)
        self.currents.append(name)
        self.current_home.append(self.nodes[ends[0][0]])
        self.a.append((row, row, -r_ohm))
        for node, sign in ends:
            self.a += [(row, node, sign), (node, row, -sign)]
        if r_ohm:
            self.loss.append(([(row, r_ohm**0.5)], 0.0, ""))
        return row

    def _branch(self, branch: Branch) -> None:
        self._join(branch.a, branch.b)
        ends = self._pair(branch.a, branch.b)
        if branch.l_h == 0 and branch.r_ohm >= _CURRENT_BELOW_OHM:
            self._conduct(ends, 1 / branch.r_ohm)
            root = branch.r_ohm**-0.5
            self.loss.append(([(row, sign * root) for row, sign in ends], 0.0, ""))
            return
        row = self._current(branch.name, ends, branch.r_ohm)
        if branch.l_h:
            self.store.append(([(row, branch.l_h**0.5)], 0.0))

    def _coupled(self, pair: CoupledBranches) -> None:
        self._join(*pair.near, *pair.far)
        rows = [
            self._current(f"{pair.name}.{near.conductor}", self._pair(near, far), r_ohm)
            for near, far, r_ohm in zip(pair.near, pair.far, pair.r_ohm, strict=True)
        ]
        for column in np.linalg.cholesky(np.array(pair.l_h)).T:
            parts = zip(rows, column, strict=True)
            self.store.append(([(row, float(value)) for row, value in parts if value], 0.0))

    def _source(self, source: Source) -> None:
        self._join(source.plus, source.minus)
        ends = self._pair(source.plus, source.minus)
        if isinstance(source, CurrentSource):
            self.source.append((ends, source))
            return
        self._conduct(ends, 1 / source.r_ohm)
        self.source.append(([(row, sign / source.r_ohm) for row, sign in ends], source))
        root = source.r_ohm**-0.5
        self.loss.append(([(row, sign * root) for row, sign in ends], -root, source.name))

    def _line(self, line: Line) -> None:
        waves, bare = modes_of(line)
        self._join(*line.near)
        self._join(*line.far)
        for at, mode in enumerate(waves):
            for nodes, far in ((line.near, False), (line.far, True)):
                column = self._shared(nodes, mode.share, 1.0)
                for row, value in column:
                    for other_row, other in column:
                        self.a.append((row, other_row, -value * other))
                self.wave.append((column, WaveEnd(line.name, at, far, mode.delay_s)))
        for at, still in enumerate(bare):
            self._join(*line.near, *line.far)
            ends = self._shared(line.near, still.share, 1.0)
            ends += self._shared(line.far, still.share, -1.0)
            row = self._current(f"{line.name}.common {at}", ends, 0.0)
            self.store.append(([(row, still.l_h**0.5)], 0.0))

    def _shared(
        self, nodes: tuple[Node, ...], share: Array, sign: float
    ) -> list[tuple[int, float]]:
        # Two conductors may end on one node.
        total: dict[int, float] = {}
        for node, part in zip(nodes, share, strict=True):
            if node in self.place:
                row = self.place[node]
                total[row] = total.get(row, 0.0) + sign * float(part)
        return list(total.items())


def subnets_of(network: SurgeNetwork) -> tuple[Subnet, ...]:
    """Return the subnetworks of a network of parts, the first mentioned first."""
    built = _Builder(network)
    members: dict[Node, list[int]] = {}
    homes = [*built.nodes, *built.current_home]
    owner = [built.groups.root(node) for node in homes]
    for row, root in enumerate(owner):
        members.setdefault(root, []).append(row)
    size = len(homes)
    a = np.zeros((size, size))
    for row, column, value in built.a:
        a[row, column] += value
    return tuple(_deal(built, rows, a) for rows in members.values())


def _deal(built: _Builder, rows: list[int], a: Array) -> Subnet:
    here = {row: at for at, row in enumerate(rows)}
    count = len(built.nodes)
    ports = [item for item in built.port if item[0] and item[0][0][0] in here]
    sources = [item for item in built.source if item[0] and item[0][0][0] in here]
    # An end that lies on the reference alone belongs anywhere: it sends back what arrives.
    waves = [item for item in built.wave if (item[0][0][0] if item[0] else 0) in here]
    stores = [item for item in built.store if item[0] and item[0][0][0] in here]
    losses = [item for item in built.loss if item[0] and item[0][0][0] in here]
    names = [source.name for _, source in sources]
    loss_source = np.zeros((len(losses), len(sources)))
    for at, (_, value, name) in enumerate(losses):
        if name:
            loss_source[at, names.index(name)] = value
    return Subnet(
        tuple(built.nodes[row] for row in rows if row < count),
        tuple(built.currents[row - count] for row in rows if row >= count),
        tuple(port for _, port in ports),
        tuple(source for _, source in sources),
        tuple(end for _, end in waves),
        a[np.ix_(rows, rows)],
        _table([column for column, _ in stores], here),
        _table([column for column, _ in waves], here),
        _table([column for column, _ in ports], here),
        _table([column for column, _ in sources], here),
        _table([column for column, _, _ in losses], here).T,
        loss_source,
        np.array([held for _, held in stores]),
    )


def _table(columns: list[list[tuple[int, float]]], here: dict[int, int]) -> Array:
    table = np.zeros((len(here), len(columns)))
    for at, column in enumerate(columns):
        for row, value in column:
            table[here[row], at] += value
    return table
