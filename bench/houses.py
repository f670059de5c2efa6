"""Random houses for the surge bench, the same for the same seed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from boardwright.surge.assumptions import Assumptions
from boardwright.surge.build import network_of
from boardwright.surge.curves import LogPoints
from boardwright.surge.elements import Branch, Capacitor, Element, Generator, Line, Node, Varistor
from boardwright.surge.home import (
    ConnectedAppliance,
    HomeSurge,
    SpdAsWired,
    SpdConnection,
    SurgeCircuit,
    SurgeEarthing,
)
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.waveforms import GENERATOR_A, CombinationWave

Place = tuple[Node, Node]


@dataclass(frozen=True, slots=True)
class House:
    """A network, the places that count in it and its SPD's varistor."""

    network: SurgeNetwork
    places: tuple[Place, ...]
    varistor: str


EARTH = Node("origin", "PE")


def one_loop_house(seed: int) -> House:
    """Return a house as one loop: one bus, one SPD, six radial circuits.

    The reference circuit of the prototype with its ranges: circuits of 3 to 40 m, six
    kinds of load, 1 to 20 kV, supply of 3 to 50 m.
    """
    draw = np.random.default_rng(seed)
    bus, tap = Node("board", "L"), Node("SPD", "L")
    street, origin = Node("street", "L"), Node("origin", "L")
    charge_v = GENERATOR_A.charge_for_v(1.0) * float(np.exp(draw.uniform(np.log(1e3), np.log(2e4))))
    elements: list[Element] = [
        Generator("surge", street, EARTH, GENERATOR_A, charge_v),
        _line("supply", street, origin, (float(draw.uniform(3, 50)), 45.0, 165e6)),
        Branch("tails", origin, bus, 1e-3, 1.6e-6),
        Branch("lead", bus, tap, 5e-3, float(draw.uniform(0.6e-6, 2e-6))),
        Varistor("SPD", tap, EARTH, _power_law(430.0)),
        Capacitor("SPD own", tap, EARTH, 3e-9),
    ]
    places = [(bus, EARTH)]
    for at in range(6):
        start, end = Node(f"circuit {at}", "start"), Node(f"circuit {at}", "L")
        elements.append(Branch(f"breaker {at}", bus, start, 10e-3, 0.5e-6))
        elements.append(
            _line(f"cable {at}", start, end, (float(draw.uniform(3, 40)), 100.0, 180e6))
        )
        elements += _load(at, end, draw)
        places.append((end, EARTH))
    return House(SurgeNetwork(EARTH, tuple(elements)), tuple(places), "SPD")


def _line(name: str, near: Node, far: Node, make: tuple[float, float, float]) -> Line:
    length_m, z0_ohm, speed = make
    return Line(
        name, (near,), (far,), length_m, 0.0, ((z0_ohm / speed,),), ((1 / (z0_ohm * speed),),)
    )


def _power_law(at_1_ma_v: float) -> LogPoints:
    """Return a varistor of exponent 31."""
    return LogPoints(((1e-3, at_1_ma_v), (1e3, at_1_ma_v * 1e6 ** (1 / 31))))


def _load(at: int, end: Node, draw: np.random.Generator) -> list[Element]:
    kind = int(draw.integers(0, 6))
    farads = float(np.exp(draw.uniform(np.log(1e-9), np.log(100e-9))))
    capacitor = Capacitor(f"filter {at}", end, EARTH, farads)
    resistor = Branch(f"load {at}", end, EARTH, float(draw.choice([50.0, 100.0, 1000.0])), 0.0)
    open_end = Branch(f"open {at}", end, EARTH, 1e9, 0.0)
    second: list[Element] = [
        Varistor(f"type 3 {at}", end, EARTH, _power_law(390.0)),
        Capacitor(f"type 3 own {at}", end, EARTH, 0.5e-9),
    ]
    choices: list[list[Element]] = [
        [open_end],
        [capacitor, open_end],
        [resistor],
        [capacitor, resistor],
        [*second, resistor],
        [resistor],
    ]
    return choices[kind]


def home_house(seed: int, assumed: Assumptions) -> House:
    """Return a house with line, neutral and earth apart, as the study builds it."""
    draw = np.random.default_rng(seed)
    earthing = list(SurgeEarthing)[int(draw.integers(0, 3))]
    gap = earthing is SurgeEarthing.TT or bool(draw.integers(0, 2))
    spd = SpdAsWired(
        SpdConnection.CT2 if gap else SpdConnection.CT1,
        uc_v=275.0,
        up_v=1500.0,
        in_8x20_a=20e3,
        lead_l_m=float(draw.uniform(0.1, 1.0)),
        lead_n_m=float(draw.uniform(0.05, 0.4)),
        lead_pe_m=float(draw.uniform(0.1, 0.8)),
        backup_fitted=bool(draw.integers(0, 2)),
        npe_sparkover_v=1500.0 if gap else None,
    )
    circuits = [SurgeCircuit(f"circuit {at}", float(draw.uniform(3, 40))) for at in range(3)]
    for at in range(2):
        appliance = ConnectedAppliance(
            f"appliance {at}",
            float(np.exp(draw.uniform(np.log(1e-9), np.log(100e-9)))),
            float(draw.choice([50.0, 200.0, 1000.0])),
            2500.0,
        )
        circuits.append(SurgeCircuit(f"studied {at}", float(draw.uniform(3, 40)), appliance))
    home = HomeSurge(
        earthing,
        float(draw.uniform(0.5, 3)),
        25.0,
        float(draw.uniform(0.5, 3)),
        16.0,
        4000.0,
        spd,
        tuple(circuits),
    )
    crest_v = float(np.exp(draw.uniform(np.log(2e3), np.log(2e4))))
    network = network_of(home, CombinationWave(GENERATOR_A, crest_v), assumed)
    places = tuple(
        (Node(place, "L"), Node(place, other))
        for place in ("board", "studied 0", "studied 1")
        for other in ("PE", "N")
    )
    return House(network, places, "SPD line varistor")
