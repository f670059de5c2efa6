"""From a network to the tables of a run: its step, its subnetworks, what is watched."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

import numpy as np

from boardwright.core.errors import FieldError
from boardwright.surge.elements import Branch, Gap, Line, Node
from boardwright.surge.modes import shortest_delay_s
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.parts import parted
from boardwright.surge.steady import Standing, standing
from boardwright.surge.subnets import Subnet, subnets_of
from boardwright.surge.tables import Tables, tables_of
from boardwright.surge.waveforms import Array


class Accuracy(Enum):
    """How fine a study steps; bench/surge.py measures what each costs and gives."""

    QUICK = "quick"
    """For many surges at once: peaks to some tenths of a percent."""
    DEFAULT = "default"
    FINE = "fine"


@dataclass(frozen=True, slots=True)
class StepRule:
    """The steps a run may take.

    Parameters
    ----------
    longest_s
        The longest step. [s]
    shortest_s
        The shortest step; a cable too quick for it is lumped. [s]
    after_spark_s
        The longest step around a gap's spark, which leaves a front of no length at all:
        the ringing of the last metres of lead after it decides a peak. [s]
    ringing_s
        How long that is so, from the start or from a spark after that. [s]
    within_ratio
        How far a node's peak may be off, where steps are halved until it is not; without it
        the steps are taken as they are.
    """

    longest_s: float
    shortest_s: float
    after_spark_s: float
    ringing_s: float = 12e-6
    within_ratio: float | None = None

    @property
    def lump_below_s(self) -> float:
        """The delay that the shortest step can still follow. [s]"""
        return self.shortest_s * _LEAST_STEPS


# The cubic interpolation of a delay reaches from two steps back.
_LEAST_STEPS = 2

STEP_RULES = {
    Accuracy.QUICK: StepRule(10e-9, 5e-9, 1.25e-9, 5e-6),
    Accuracy.DEFAULT: StepRule(4e-9, 2e-9, 0.5e-9, 12e-6, 5e-4),
    Accuracy.FINE: StepRule(1e-9, 0.5e-9, 0.1e-9, 12e-6, 5e-5),
}


@dataclass(frozen=True, slots=True)
class Watch:
    """What a run writes down: voltages between two nodes, and currents of branches."""

    voltages: tuple[tuple[Node, Node], ...]
    branches: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Prepared:
    """A network ready to be stepped.

    ``rows`` holds what is watched of each subnetwork; ``after_spark`` the tables of a
    shorter step, if there is a gap. ``columns`` finds each watched
    thing among what a kernel writes: its column, and the one to be taken from it, or -1.
    """

    network: SurgeNetwork
    watch: Watch
    rule: StepRule
    lumped: tuple[str, ...]
    subnets: tuple[Subnet, ...]
    rows: list[list[Array]]
    tables: Tables
    after_spark: Tables | None
    start: Standing
    columns: tuple[tuple[int, int], ...]


def step_for_s(network: SurgeNetwork, rule: StepRule) -> float:
    """Return the step that the shortest line which is not lumped still allows. [s]"""
    delays_s = [shortest_delay_s(item) for item in network.elements if isinstance(item, Line)]
    followed_s = [delay_s for delay_s in delays_s if delay_s >= rule.lump_below_s]
    return min([rule.longest_s, *(delay_s / _LEAST_STEPS for delay_s in followed_s)])


def everything(network: SurgeNetwork) -> Watch:
    """Return a watch on each node and branch of a network."""
    branches = [item.name for item in network.elements if isinstance(item, Branch)]
    return Watch(tuple((node, network.reference) for node in network.nodes), tuple(branches))


def prepare(
    network: SurgeNetwork, watch: Watch, rule: StepRule, *, balance: bool = True
) -> Prepared:
    """Return a network ready to run; without ``balance`` its losses are not summed."""
    step_s = step_for_s(network, rule)
    parts = parted(network, lump_below_s=rule.lump_below_s)
    subnets = subnets_of(parts)
    if not balance:
        subnets = tuple(_without_losses(subnet) for subnet in subnets)
    seer = _Seer(parts, subnets)
    wanted = [seer.voltage(a, b) for a, b in watch.voltages]
    wanted += [(seer.current(name), -1) for name in watch.branches]
    rows = seer.rows()
    tables = tables_of(subnets, rows, step_s)
    after_spark = None
    if any(isinstance(item, Gap) for item in network.elements):
        parts_of_step = max(1, round(step_s / rule.after_spark_s))
        after_spark = tables_of(subnets, rows, step_s / parts_of_step)
    return Prepared(
        network,
        watch,
        rule,
        tuple(
            item.name
            for item in network.elements
            if isinstance(item, Line) and shortest_delay_s(item) < rule.lump_below_s
        ),
        subnets,
        rows,
        tables,
        after_spark,
        standing(subnets, rows),
        seer.columns(wanted),
    )


def _without_losses(subnet: Subnet) -> Subnet:
    return replace(subnet, loss=subnet.loss[:0], loss_source=subnet.loss_source[:0])


class _Seer:
    """Turns watched things into rows over the subnetworks' x."""

    def __init__(self, parts: SurgeNetwork, subnets: tuple[Subnet, ...]) -> None:
        self._subnets = subnets
        self._reference = parts.reference
        self._node = {
            node: (k, at) for k, net in enumerate(subnets) for at, node in enumerate(net.nodes)
        }
        self._current = {
            name: (k, len(net.nodes) + at)
            for k, net in enumerate(subnets)
            for at, name in enumerate(net.currents)
        }
        self._branch = {item.name: item for item in parts.elements if isinstance(item, Branch)}
        self._seen: list[tuple[int, Array]] = []

    def voltage(self, a: Node, b: Node) -> tuple[int, int]:
        """Return where the voltage of a against b will be: a column, less another or -1."""
        for node in (a, b):
            if node != self._reference and node not in self._node:
                raise FieldError("node", str(node), "a node of the network")
        if self._reference in {a, b} or self._home(a) == self._home(b):
            return self._add(((a, 1.0), (b, -1.0))), -1
        return self._add(((a, 1.0),)), self._add(((b, 1.0),))

    def current(self, name: str) -> int:
        """Return where the current of a branch will be."""
        if name in self._current:
            k, at = self._current[name]
            return self._put(k, {at: 1.0})
        if name not in self._branch:
            raise FieldError("name", name, "a branch of the network")
        branch = self._branch[name]
        return self._add(((branch.a, 1 / branch.r_ohm), (branch.b, -1 / branch.r_ohm)))

    def _home(self, node: Node) -> int:
        return self._node[node][0]

    def _add(self, ends: tuple[tuple[Node, float], ...]) -> int:
        real = [(self._node[node], factor) for node, factor in ends if node != self._reference]
        return self._put(real[0][0][0] if real else 0, {at: f for (_, at), f in real})

    def _put(self, k: int, parts: dict[int, float]) -> int:
        row = np.zeros(len(self._subnets[k].a))
        for at, factor in parts.items():
            row[at] = factor
        self._seen.append((k, row))
        return len(self._seen) - 1

    def rows(self) -> list[list[Array]]:
        """Return the rows of each subnetwork."""
        return [[row for home, row in self._seen if home == k] for k in range(len(self._subnets))]

    def columns(self, wanted: list[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
        """Return the columns of what was wanted, as the kernels write them."""
        order = sorted(range(len(self._seen)), key=lambda at: self._seen[at][0])
        place = {at: column for column, at in enumerate(order)}
        return tuple((place[a], place[b] if b >= 0 else -1) for a, b in wanted)
