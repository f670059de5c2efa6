"""Surge networks drawn at random over everything the network form allows, by seed."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import TypeVar

import numpy as np

from boardwright.surge.curves import LogPoints, VaristorCurve
from boardwright.surge.elements import (
    Branch,
    Capacitor,
    CoupledBranches,
    CurrentSource,
    Element,
    Gap,
    Generator,
    Line,
    Matrix,
    Node,
    Varistor,
    VoltageSource,
)
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.waveforms import (
    GENERATOR_A,
    GENERATOR_B,
    DampedSine8x20,
    Impulse1p2x50,
    Impulse8x20,
    RingWave,
    StepVoltage,
    first_negative_stroke_1x200,
    first_stroke_10x350,
    subsequent_stroke_0p25x100,
)
from tests.surge.rig import BLOCK_40, EARTH

Nodes = tuple[Node, ...]
Choice = TypeVar("Choice")
_CONDUCTORS = (("L",), ("L", "N"), ("L1", "L2", "L3"), ("L", "N", "PE"))


def drawn(seed: int) -> SurgeNetwork:
    """Return a network: a source, a way in, a board with what protects it, circuits."""
    return _Drawing(seed).network()


class _Drawing:
    """One network while it is drawn."""

    def __init__(self, seed: int) -> None:
        self._draw = np.random.default_rng(seed)
        self._count = itertools.count()
        self._elements: list[Element] = []
        self._conductors = self._pick(_CONDUCTORS)

    def network(self) -> SurgeNetwork:
        """Draw it."""
        street, board = self._place("street"), self._place("board")
        self._source(street)
        for node in street[1:]:
            # The other conductors are earthed where the surge comes in, each in its way.
            self._put(Branch(self._name("bond"), node, EARTH, self._log(1e-3, 100), self._coil()))
        self._way(street, board)
        for _ in range(int(self._draw.integers(1, 4))):
            self._protect(board)
        for at in range(int(self._draw.integers(1, 5))):
            self._circuit(board, at)
        return SurgeNetwork(EARTH, tuple(self._elements))

    def _put(self, *elements: Element) -> None:
        self._elements.extend(elements)

    def _name(self, kind: str) -> str:
        return f"{kind} {next(self._count)}"

    def _log(self, low: float, high: float) -> float:
        return float(np.exp(self._draw.uniform(np.log(low), np.log(high))))

    def _chance(self, part: float) -> bool:
        return bool(self._draw.random() < part)

    def _pick(self, choices: Sequence[Choice]) -> Choice:
        return choices[int(self._draw.integers(len(choices)))]

    def _coil(self) -> float:
        return self._log(2e-8, 5e-6) if self._chance(0.8) else 0.0

    def _place(self, place: str) -> Nodes:
        return tuple(Node(place, conductor) for conductor in self._conductors)

    def _source(self, street: Nodes) -> None:
        size, sign = self._log(500, 20e3), self._pick((1.0, 1.0, -1.0))
        plus, amps = street[0], sign * size / 2
        minus = street[1] if len(street) > 1 and self._chance(0.2) else EARTH
        volts, name = sign * size, self._name("surge")
        if self._chance(0.5):
            circuit = self._pick((GENERATOR_A, GENERATOR_B))
            charge_v = circuit.charge_for_v(1.0) * volts
            self._put(Generator(name, plus, minus, circuit, charge_v))
            return
        r_ohm = self._log(1, 100)
        sources: tuple[Element, ...] = (
            CurrentSource(name, plus, minus, Impulse8x20(amps)),
            CurrentSource(name, plus, minus, DampedSine8x20(amps)),
            CurrentSource(name, plus, minus, first_stroke_10x350(amps)),
            CurrentSource(name, plus, minus, first_negative_stroke_1x200(amps)),
            CurrentSource(name, plus, minus, subsequent_stroke_0p25x100(amps / 3)),
            VoltageSource(name, plus, minus, Impulse1p2x50(volts), r_ohm),
            VoltageSource(name, plus, minus, RingWave(volts), r_ohm),
            VoltageSource(name, plus, minus, StepVoltage(volts), r_ohm),
        )
        source = self._pick(sources)
        self._put(source)
        if isinstance(source, CurrentSource):
            # A current finds a way even where no surge arrester is.
            self._put(Branch(f"{name} way", plus, minus, self._log(2, 200), 0.0))

    def _way(self, street: Nodes, board: Nodes) -> None:
        kind = int(self._draw.integers(0, 4))
        if kind == 0:
            middle = self._place("meter")
            self._line("service", street, middle, self._log(1, 80))
            self._coupled("tails", middle, board)
        elif kind == 1:
            self._coupled("tails", street, board)
        elif kind == 2:
            self._line("service", street, board, self._log(0.3, 80))
        else:
            for near, far in zip(street, board, strict=True):
                l_h = self._coil()
                self._put(Branch(self._name("tail"), near, far, self._log(1e-3, 1), l_h))

    def _coupled(self, kind: str, near: Nodes, far: Nodes) -> None:
        metre_h, length_m = 1e-6, self._log(0.1, 5)
        pull = self._draw.uniform(0.2, 0.9)
        size = len(near)
        self._put(
            CoupledBranches(
                self._name(kind),
                near,
                far,
                tuple(self._log(1e-3, 1e-1) for _ in near),
                _table(size, metre_h * length_m, metre_h * length_m * pull),
            )
        )

    def _line(self, kind: str, near: Nodes, far: Nodes, length_m: float) -> None:
        size = len(near)
        z0_ohm, speed = self._draw.uniform(40, 200), self._draw.uniform(1.2e8, 2.8e8)
        loop_h = z0_ohm / speed
        earth_f = 1 / (z0_ohm * speed)
        between_f = earth_f * self._draw.uniform(0.2, 2) if size > 1 else 0.0
        if size > 1 and self._chance(0.2):
            earth_f = 0.0
        pull = self._draw.uniform(0.2, 0.7) if size > 1 else 0.0
        self._put(
            Line(
                self._name(kind),
                near,
                far,
                length_m,
                self._log(1e-3, 5e-2) if self._chance(0.5) else 0.0,
                _table(size, loop_h, loop_h * pull),
                _table(size, earth_f, between_f),
            )
        )

    def _two(self, place: Nodes) -> tuple[Node, Node]:
        ends = [*place, EARTH]
        first, second = self._draw.choice(len(ends), 2, replace=False)
        return ends[int(first)], ends[int(second)]

    def _protect(self, board: Nodes) -> None:
        a, b = self._two(board)
        name = self._name("SPD")
        tap, kind = Node(name, a.conductor), int(self._draw.integers(0, 4))
        self._put(Branch(f"{name} lead", a, tap, self._log(1e-3, 2e-2), self._log(5e-8, 2e-6)))
        if self._chance(0.7):
            self._put(Capacitor(f"{name} own", tap, b, self._log(0.1e-9, 5e-9)))
        if kind == 0:
            self._put(self._gap(name, tap, b))
        elif kind == 1:
            # A gap in series with a varistor, as some arresters have.
            middle = Node(f"{name} middle", a.conductor)
            self._put(self._gap(f"{name} gap", tap, middle))
            self._put(Varistor(name, middle, b, self._curve()))
            self._put(Capacitor(f"{name} middle own", middle, b, self._log(1e-9, 5e-9)))
        else:
            most_a = self._log(1e3, 60e3) if self._chance(0.3) else None
            self._put(Varistor(name, tap, b, self._curve(), most_a))

    def _gap(self, name: str, a: Node, b: Node) -> Gap:
        return Gap(name, a, b, self._log(600, 4000), self._log(15, 60), self._log(1e-3, 1e-1))

    def _curve(self) -> VaristorCurve:
        volts = self._log(200, 1000)
        choices: tuple[VaristorCurve, ...] = (
            BLOCK_40.times(volts / 430),
            LogPoints(((1e-3, volts), (1e3, volts * 1e6 ** (1 / self._draw.uniform(20, 50))))),
            LogPoints(((1e-3, volts), (1.0, 1.2 * volts), (1e3, 1.7 * volts), (1e4, 2.5 * volts))),
        )
        return self._pick(choices)

    def _circuit(self, board: Nodes, at: int) -> None:
        start, end = self._place(f"start {at}"), self._place(f"end {at}")
        for near, far in zip(board, start, strict=True):
            breaker = Branch(self._name("breaker"), near, far, self._log(1e-3, 5e-2), self._coil())
            self._put(breaker)
        if self._chance(0.8):
            self._line("cable", start, end, self._log(0.05, 60))
        else:
            self._coupled("cord", start, end)
        for _ in range(int(self._draw.integers(1, 4))):
            self._load(end)
        if self._chance(0.3):
            last = self._place(f"last {at}")
            self._line("flex", end, last, self._log(0.05, 5))
            self._load(last)

    def _load(self, place: Nodes) -> None:
        a, b = self._two(place)
        name, kind = self._name("load"), int(self._draw.integers(0, 7))
        if kind == 0:
            self._put(Branch(name, a, b, 1e9, 0.0))
        elif kind == 1:
            self._put(Branch(name, a, b, self._log(1e-3, 1e4), 0.0))
        elif kind == 2:
            self._put(Capacitor(name, a, b, self._log(50e-12, 2e-6)))
        elif kind == 3:
            # A filter behind a lead, with a divider that sees little.
            inside, low = Node(name, a.conductor), Node(f"{name} low", a.conductor)
            self._put(
                Branch(f"{name} lead", a, inside, self._log(1e-2, 10), self._log(5e-8, 2e-6)),
                Capacitor(f"{name} filter", inside, b, self._log(1e-9, 1e-6)),
                Branch(f"{name} high", inside, low, self._log(10, 1e5), 0.0),
                Branch(f"{name} low", low, b, self._log(1e-2, 10), self._coil()),
            )
        elif kind == 4:
            self._put(
                Varistor(name, a, b, self._curve()),
                Capacitor(f"{name} own", a, b, self._log(0.1e-9, 2e-9)),
            )
        elif kind == 5:
            self._put(Branch(name, a, b, self._log(1e-2, 10), self._log(1e-7, 1e-4)))
        else:
            self._put(
                Branch(name, a, b, self._log(10, 1e4), 0.0),
                Capacitor(f"{name} filter", a, b, self._log(0.5e-9, 1e-6)),
            )


def _table(size: int, own: float, other: float) -> Matrix:
    return tuple(tuple(own if a == b else other for b in range(size)) for a in range(size))
