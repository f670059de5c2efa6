"""Many surges of one network: its generator's size and the mains' moment drawn, peaks kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from boardwright.core.errors import FieldError
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.one_surge import RepeatedSurge
from boardwright.surge.prepare import STEP_RULES, Accuracy, StepRule, Watch
from boardwright.surge.waveforms import Array

CHUNK = 16
CORES = 2


@dataclass(frozen=True, slots=True)
class Draws:
    """What differs from surge to surge.

    Parameters
    ----------
    surge_ratio
        What the generators' charge and every impulse are multiplied with.
    mains_ratio
        What each steady source is multiplied with: the sine of the mains' angle.
    """

    surge_ratio: Array
    mains_ratio: Array

    def __post_init__(self) -> None:
        if self.surge_ratio.shape != self.mains_ratio.shape or self.surge_ratio.ndim != 1:
            raise FieldError(
                "draws.mains_ratio", self.mains_ratio.shape, "as many numbers as surge_ratio"
            )
        if not (np.isfinite(self.surge_ratio).all() and np.isfinite(self.mains_ratio).all()):
            raise FieldError("draws", "a number that is not finite", "finite numbers")


@dataclass(frozen=True, slots=True)
class Peaks:
    """Peaks of many surges: a line for each surge. [V, A, J]"""

    kernel: str
    volts: Array
    port_a: Array
    port_j: Array


def run_many(
    network: SurgeNetwork,
    watch: Watch,
    draws: Draws,
    t_end_s: float,
    *,
    rule: StepRule = STEP_RULES[Accuracy.QUICK],
    progress: Callable[[int], None] = lambda _done: None,
) -> Peaks:
    """Return the peaks of many surges of one network, two at a time.

    Memory does not grow with their number but for the peaks themselves.

    Parameters
    ----------
    network, watch
        The network and the voltages whose peaks are wanted.
    draws
        What differs from surge to surge.
    t_end_s
        The time to stop each at. [s]
    rule
        The steps allowed.
    progress
        Told how many surges are done, again and again.
    """
    most_ratio = float(np.abs(draws.surge_ratio).max(initial=0.0))
    ready = RepeatedSurge(network, watch, t_end_s, rule=rule, most_ratio=most_ratio)
    volts: list[Array] = []
    port_a: list[Array] = []
    port_j: list[Array] = []

    def chunk(part: slice) -> list[tuple[Array, Array, Array]]:
        pairs = zip(draws.surge_ratio[part], draws.mains_ratio[part], strict=True)
        found = [ready.solve(float(surge), float(mains)) for surge, mains in pairs]
        return [(one.volts, one.port_a, one.port_j) for one in found]

    with ThreadPoolExecutor(CORES) as pool:
        for found in pool.map(chunk, _chunks(len(draws.surge_ratio))):
            for store, values in zip(
                (volts, port_a, port_j), zip(*found, strict=True), strict=True
            ):
                store.extend(values)
            progress(len(volts))
    return Peaks(ready.kernel, np.array(volts), np.array(port_a), np.array(port_j))


def _chunks(count: int) -> Iterator[slice]:
    for first in range(0, count, CHUNK):
        yield slice(first, min(first + CHUNK, count))
