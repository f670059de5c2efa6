"""Peaks and bands of a home with its cables as travelling waves, by the compiled kernel."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from boardwright.surge.assumptions import Assumptions
from boardwright.surge.bands import (
    BOARD,
    PEAKS_S,
    STANDARD_SURGE,
    Band,
    NamedSurge,
    Peaks,
    Runs,
    ends_of,
    places_of,
    worse,
)
from boardwright.surge.build import network_of
from boardwright.surge.elements import Varistor
from boardwright.surge.home import HomeSurge
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.prepare import STEP_RULES, Accuracy, Watch, prepare
from boardwright.surge.solver import crest
from boardwright.surge.waves import run_prepared


@dataclass(frozen=True, slots=True)
class SpdLoad:
    """What one varistor carries of the surge, against what its device is rated for."""

    name: str
    current_a: float
    energy_j: float
    limit_a: float | None

    @property
    def overloaded(self) -> bool:
        """True where the current is above the device's rating."""
        return self.limit_a is not None and self.current_a > self.limit_a


Given = TypeVar("Given")
Found = TypeVar("Found")

_CORES = 2
_FULL_S = 60e-6
"""A varistor's energy comes with the tail of the surge."""

_QUICK = STEP_RULES[Accuracy.QUICK]


@dataclass(frozen=True, slots=True)
class PlaceBand:
    """What a place sees over the uncertain inputs, against its rated impulse voltage."""

    place: str
    appliance: str
    uw_v: float
    mode: str
    band: Band

    @property
    def passes(self) -> bool:
        """True where the whole band lies at or below the rated impulse voltage."""
        return self.band.p95_v <= self.uw_v


def wave_peaks(network: SurgeNetwork, home: HomeSurge) -> Peaks:
    """Return the peaks of a home, its cables followed as travelling waves."""
    places = places_of(home)
    watch = Watch(tuple(pair for place in places for pair in ends_of(place)))
    solution = run_prepared(prepare(network, watch, _QUICK, balance=False), PEAKS_S)
    volts = [crest(solution.t_s, np.abs(wave)) for wave in solution.states.T]
    return {place: worse(volts[2 * at], volts[2 * at + 1]) for at, place in enumerate(places)}


def bands_of(
    home: HomeSurge, assumed: Assumptions, *, surge: NamedSurge = STANDARD_SURGE
) -> tuple[PlaceBand, ...]:
    """Return the band of the board and of each appliance, the board first."""
    runs = Runs.of(home, assumed, surge, solver=wave_peaks)
    return tuple(
        PlaceBand(place, appliance, uw_v, runs.middle[place].mode, runs.band(place))
        for place, appliance, uw_v in rated(home)
    )


def loads_of(
    home: HomeSurge, assumed: Assumptions, *, surge: NamedSurge = STANDARD_SURGE
) -> tuple[SpdLoad, ...]:
    """Return what each varistor of a home carries, its inputs at their typical values."""
    network = network_of(home, surge.wave, assumed)
    ready = prepare(network, Watch((ends_of(BOARD)[0],)), _QUICK, balance=False)
    solution = run_prepared(ready, _FULL_S)
    return tuple(
        SpdLoad(
            part.name,
            crest(solution.t_s, np.abs(solution.current_a(part.name))),
            solution.energy_j(part.name),
            part.imax_8x20_a,
        )
        for part in network.elements
        if isinstance(part, Varistor)
    )


def rated(home: HomeSurge) -> tuple[tuple[str, str, float], ...]:
    """Return place, appliance and rated impulse voltage of each place, the board first."""
    appliances = [
        (circuit.name, circuit.appliance.name, circuit.appliance.uw_v)
        for circuit in home.studied
        if circuit.appliance is not None
    ]
    return ((BOARD, "", home.board_uw_v), *appliances)


def side_by_side(work: Callable[[Given], Found], given: Iterable[Given]) -> list[Found]:
    """Return the work done on each, two at a time: the kernel leaves the interpreter free."""
    with ThreadPoolExecutor(_CORES) as pool:
        return list(pool.map(work, given))
