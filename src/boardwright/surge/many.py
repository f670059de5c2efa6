"""The same surge again and again, as chance has it: its size and the mains' moment drawn."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from boardwright.core.errors import FieldError
from boardwright.surge.batch import Draws, Peaks, run_many
from boardwright.surge.elements import Element, Generator, Node, VoltageSource
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.prepare import Watch
from boardwright.surge.waveforms import SteadyVoltage

# Nominal 230 V. The resistance is a supply's, too small to count beside a surge's.
MAINS_CREST_V = 230 * math.sqrt(2)
_MAINS_OHM = 1e-3

# Spread of the natural logarithm of a surge's size: an assumption of ours, without source.
SIZE_SPREAD = 0.3
MOST_TIMES = 1_000_000
_PARTS = (0.05, 0.5, 0.95, 1.0)


@dataclass(frozen=True, slots=True)
class ManySurges:
    """Peaks of many surges, and how they were drawn."""

    times: int
    seed: int
    network: SurgeNetwork
    nodes: tuple[Node, ...]
    peaks: Peaks

    @property
    def drawn(self) -> str:
        """How the surges were drawn, in words."""
        if any(isinstance(item, Generator) for item in self.network.elements):
            mains = f"the mains ({MAINS_CREST_V:.0f} V crest) at any angle alike"
        else:
            mains = "steady sources, if any, at any angle of the mains alike"
        low, high = (math.exp(sign * 1.645 * SIZE_SPREAD) for sign in (-1, 1))
        return (
            f"{self.times} surges, seed {self.seed}: {mains}; sizes spread about the network's"
            f" own, 90 in 100 between {low:.2f} and {high:.2f} of it (log-normal; an assumption)."
        )

    def text(self) -> str:
        """Return what 5, 50, 95 and 100 in 100 surges stay below, a line a node."""
        lines = [self.drawn, f"{'peak below, in V':32}      5 %     50 %     95 %   highest"]
        for node, row in zip(self.nodes, self._quantiles(), strict=True):
            lines.append(f"{node!s:32}" + "".join(f"{volts:9.0f}" for volts in row))
        lines.append("Computed for assumed surges only; voltages are counted from the reference.")
        return "\n".join(lines)

    def data(self) -> str:
        """Return the same as JSON."""
        nodes = {
            str(node): dict(zip(("p5_v", "p50_v", "p95_v", "highest_v"), row, strict=True))
            for node, row in zip(self.nodes, self._quantiles(), strict=True)
        }
        return json.dumps(
            {"drawn": self.drawn, "kernel": self.peaks.kernel, "nodes": nodes},
            indent=1,
            allow_nan=False,
        )

    def _quantiles(self) -> list[list[float]]:
        found = np.quantile(self.peaks.volts, _PARTS, axis=0).T
        return [[float(f"{value:.6g}") for value in row] for row in found]


def many_surges(
    network: SurgeNetwork,
    times: int,
    t_end_s: float,
    *,
    seed: int,
    progress: Callable[[int], None] = lambda _done: None,
) -> ManySurges:
    """Return the peaks of many surges of one network, the same for the same seed.

    Parameters
    ----------
    network
        The network; its generators are put in series with the mains.
    times
        How many surges.
    t_end_s
        The time to stop each at. [s]
    seed
        What the draws begin from.
    progress
        Told how many surges are done, again and again.
    """
    if not 1 <= times <= MOST_TIMES:
        raise FieldError("times", times, f"a whole number from 1 to {MOST_TIMES}")
    if seed < 0:
        raise FieldError("seed", seed, "a whole number of at least 0")
    draw = np.random.default_rng(seed)
    sizes = np.exp(draw.normal(0.0, SIZE_SPREAD, times))
    draws = Draws(sizes, np.sin(draw.uniform(0.0, 2 * np.pi, times)))
    nodes = network.nodes
    watch = Watch(tuple((node, network.reference) for node in nodes))
    peaks = run_many(on_the_mains(network), watch, draws, t_end_s, progress=progress)
    if not np.isfinite(peaks.volts).all():
        raise FieldError("network", "no finite voltage", "elements of sizes that a home has")
    return ManySurges(times, seed, network, nodes, peaks)


def on_the_mains(network: SurgeNetwork) -> SurgeNetwork:
    """Return the network with each generator in series with the mains at its crest."""
    elements: list[Element] = []
    for item in network.elements:
        if isinstance(item, Generator):
            mains = Node(f"{item.name}.mains", item.minus.conductor)
            wave = SteadyVoltage(MAINS_CREST_V)
            name = f"{item.name}.mains"
            elements.append(VoltageSource(name, mains, item.minus, wave, _MAINS_OHM))
            elements.append(replace(item, minus=mains))
        else:
            elements.append(item)
    return SurgeNetwork(network.reference, tuple(elements))
