"""Peaks of every place over the inputs nobody measures, each input moved alone."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from boardwright.surge.assumptions import AssumedInput, Assumptions
from boardwright.surge.build import network_of
from boardwright.surge.elements import Node
from boardwright.surge.home import HomeSurge
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.solver import Solution, solve
from boardwright.surge.waveforms import GENERATOR_A, CombinationWave

ROUND_V = 50.0
BOARD = "board"

# Every peak lies in the front and the first ringing after it.
PEAKS_S = 12e-6


@dataclass(frozen=True, slots=True)
class NamedSurge:
    """The surge a study assumes, by the name the standards give it."""

    name: str
    open_crest_v: float

    @property
    def wave(self) -> CombinationWave:
        """The combination wave of this size, undershoot within the limit."""
        return CombinationWave(GENERATOR_A, self.open_crest_v)


STANDARD_SURGE = NamedSurge("6 kV / 3 kA combination wave", 6000.0)


@dataclass(frozen=True, slots=True)
class Peak:
    """The highest voltage of a place, and between which conductors."""

    peak_v: float
    mode: str


@dataclass(frozen=True, slots=True)
class Band:
    """Where a peak lies over the uncertain inputs, rounded to 50 V. [V]"""

    p5_v: float
    typical_v: float
    p95_v: float


@dataclass(frozen=True, slots=True)
class InputEffect:
    """How far one uncertain input moves a peak, from its low and its high end. [V]"""

    name: str
    words: str
    at_low_v: float
    at_high_v: float


Peaks = Mapping[str, Peak]
"""The peak of each place, by its name."""

Solver = Callable[[SurgeNetwork, HomeSurge], Peaks]
"""How a network of a home is solved for its peaks."""


def places_of(home: HomeSurge) -> tuple[str, ...]:
    """Return the places of a study: the board, then each appliance's end of its cable."""
    return (BOARD, *(circuit.name for circuit in home.studied))


def ends_of(place: str) -> tuple[tuple[Node, Node], tuple[Node, Node]]:
    """Return between which nodes a place is strained: to earth, and between the lines."""
    line, neutral, earth = (Node(place, conductor) for conductor in ("L", "N", "PE"))
    return (line, earth), (line, neutral)


def worse(to_earth_v: float, to_neutral_v: float) -> Peak:
    """Return what counts: equipment is rated between its terminals and to earth alike."""
    if to_neutral_v > to_earth_v:
        return Peak(to_neutral_v, "line to neutral")
    return Peak(to_earth_v, "line to earth")


def peaks_in(solution: Solution, home: HomeSurge) -> dict[str, Peak]:
    """Return the peak of each place of a home in a solution."""
    return {
        place: worse(*(solution.peak_v(a, b) for a, b in ends_of(place)))
        for place in places_of(home)
    }


def lumped_peaks(network: SurgeNetwork, home: HomeSurge) -> Peaks:
    """Return the peaks of a home by the lumped solver, which needs nothing compiled."""
    return peaks_in(solve(network, PEAKS_S), home)


@dataclass(frozen=True, slots=True)
class Runs:
    """The middle run and the runs with one input moved."""

    middle: Peaks
    moved: Mapping[str, tuple[Peaks, Peaks]]
    count: int

    @classmethod
    def of(
        cls,
        home: HomeSurge,
        assumed: Assumptions,
        surge: NamedSurge,
        *,
        solver: Solver = lumped_peaks,
        middle: Peaks | None = None,
    ) -> Runs:
        """Solve a home with each input at its low and at its high end; ``middle`` if known."""
        wave, count = surge.wave, 1
        if middle is None:
            middle = solver(network_of(home, wave, assumed), home)
        moved = {}
        for item in inputs_that_matter(home, assumed):
            ends = []
            for value in (item.low, item.high):
                if value == item.typical:
                    ends.append(middle)
                    continue
                network = network_of(home, wave, assumed.having(item.name, value))
                ends.append(solver(network, home))
                count += 1
            moved[item.name] = (ends[0], ends[1])
        return cls(middle, moved, count)

    def band(self, place: str) -> Band:
        """Return the band of a place: changes up and down, each added by root of squares."""
        middle_v = self.middle[place].peak_v
        up = down = 0.0
        for ends in self.moved.values():
            changes = [0.0, *(end[place].peak_v - middle_v for end in ends)]
            up += max(changes) ** 2
            down += min(changes) ** 2
        return Band(
            rounded_v(max(0.0, middle_v - math.sqrt(down))),
            rounded_v(middle_v),
            rounded_v(middle_v + math.sqrt(up)),
        )

    def movers(self, place: str, assumed: Assumptions) -> tuple[InputEffect, ...]:
        """Return the three inputs that move a place most, the largest first."""
        middle_v = self.middle[place].peak_v
        effects = [
            InputEffect(
                name,
                assumed.inputs[name].words,
                round(low[place].peak_v - middle_v, 1),
                round(high[place].peak_v - middle_v, 1),
            )
            for name, (low, high) in self.moved.items()
        ]
        effects.sort(key=lambda effect: -max(abs(effect.at_low_v), abs(effect.at_high_v)))
        return tuple(effects[:3])


def inputs_that_matter(home: HomeSurge, assumed: Assumptions) -> Iterator[AssumedInput]:
    """Yield the inputs that this home has at all."""
    absent = set()
    if not home.spds:
        absent |= {"lead_factor", "varistor_factor"}
    if not any(spd.backup_fitted for spd in home.spds):
        absent.add("backup_h")
    if all(circuit.appliance is not None for circuit in home.circuits):
        absent.add("others_share")
    if not home.studied:
        absent.add("appliance_factor")
    for name, item in assumed.inputs.items():
        if name not in absent and item.low < item.high:
            yield item


def rounded_v(exact_v: float) -> float:
    """Return a voltage to the 50 V that its inputs are worth at best. [V]"""
    return ROUND_V * round(exact_v / ROUND_V)
