"""Many surges of one network: its generator's size and the mains' moment drawn, peaks kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from boardwright.core.errors import FieldError
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.one_loop import laws_of, serves
from boardwright.surge.prepare import STEP_RULES, Accuracy, Prepared, StepRule, Watch, prepare
from boardwright.surge.runs import drive_of, empty_run, steps_to
from boardwright.surge.solver import crest
from boardwright.surge.waveforms import Array, SteadyVoltage

LANES = 160
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

    Memory does not grow with their number: waves are written over.

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
    ready = prepare(network, watch, rule, balance=False)
    steps = steps_to(ready.tables.step_s, t_end_s)
    reduced = serves(ready) and all(minus < 0 for _, minus in ready.columns)
    work = _Reduced(ready, draws, steps) if reduced else _General(ready, draws, steps)
    with ThreadPoolExecutor(CORES) as pool:
        done = 0
        for count in pool.map(work.chunk, _chunks(len(draws.surge_ratio), work.size)):
            done += count
            progress(done)
    name = "one varistor a subnetwork" if reduced else "general"
    return Peaks(name, work.volts, work.port_a, work.port_j)


def _chunks(count: int, size: int) -> Iterator[slice]:
    for first in range(0, count, size):
        yield slice(first, min(first + size, count))


class _Work:
    """What both kernels need: starts and sources, split into what each ratio multiplies."""

    size = LANES

    def __init__(self, ready: Prepared, draws: Draws, steps: int) -> None:
        self.ready, self.draws, self.steps = ready, draws, steps
        self.drive = drive_of(ready, steps)
        sources = [source for subnet in ready.subnets for source in subnet.sources]
        self.steady = np.array([isinstance(s.wave, SteadyVoltage) for s in sources], dtype=bool)
        count, ports = len(draws.surge_ratio), len(ready.tables.laws)
        self.volts = np.zeros((count, len(ready.columns)))
        self.port_a = np.zeros((count, ports))
        self.port_j = np.zeros((count, ports))
        room = empty_run(ready, 1)
        tables = ready.tables
        self.charge = np.zeros_like(room.state)
        scale = (2 / tables.step_s) ** 0.5
        for k, subnet in enumerate(ready.subnets):
            self.charge[k, : len(subnet.held)] = subnet.held * scale
        # Whatever else the start holds, the mains put there.
        self.mains = room.state - self.charge
        self.ring = room.ring

    def factors(self, part: slice) -> Array:
        """Return what each source is multiplied with, a line for each source."""
        surge, mains = self.draws.surge_ratio[part], self.draws.mains_ratio[part]
        return np.array([mains if steady else surge for steady in self.steady]).reshape(
            -1, len(surge)
        )


class _Reduced(_Work):
    """A hundred and more surges side by side."""

    def __init__(self, ready: Prepared, draws: Draws, steps: int) -> None:
        super().__init__(ready, draws, steps)
        source_v = float(np.abs(self.drive).sum(axis=1).max(initial=0.0))
        volts = [abs(g.charge_v) for g in ready.network.generators]
        most_v = 4 * max(sum(volts) + source_v, 1000.0) * float(np.abs(draws.surge_ratio).max())
        self.law, self.law_step_v = laws_of(ready, most_v)

    def chunk(self, part: slice) -> int:
        """Run one chunk; return how many surges it holds."""
        from boardwright.surge.one_loop_kernel import Lanes, run_lanes

        surge, mains = self.draws.surge_ratio[part], self.draws.mains_ratio[part]
        lanes, tables = len(surge), self.ready.tables
        width, ports = self.volts.shape[1], len(tables.laws)
        room = Lanes(
            self.charge[:, :, None] * surge + self.mains[:, :, None] * mains,
            np.zeros((len(tables.layout), tables.push.shape[2], lanes)),
            self.ring[:, :, None] * mains,
            self.factors(part),
            self.law,
            self.law_step_v,
            np.zeros((ports, 4, lanes)),
            np.zeros((width, 2, lanes)),
            np.zeros((width, lanes)),
            np.zeros((ports, lanes)),
            np.zeros((ports, lanes)),
        )
        run_lanes(tables, room, self.drive, self.steps)
        order = [column for column, _ in self.ready.columns]
        self.volts[part] = room.peak[order].T
        self.port_a[part], self.port_j[part] = room.peak_a.T, room.energy.T
        return lanes


class _General(_Work):
    """One surge after another."""

    size = 16

    def chunk(self, part: slice) -> int:
        """Run one chunk; return how many surges it holds."""
        from boardwright.surge.kernel import run

        surge, mains = self.draws.surge_ratio[part], self.draws.mains_ratio[part]
        factors, tables = self.factors(part), self.ready.tables
        out = empty_run(self.ready, self.steps)
        t_s: Array = np.arange(self.steps + 1, dtype=np.float64)
        t_s *= tables.step_s
        for at in range(len(surge)):
            out.state[:] = self.charge * surge[at] + self.mains * mains[at]
            out.ring[:] = self.ring * mains[at]
            out.laws[:] = tables.laws
            out.sums[:], out.fired_s[:], out.fired_watch[:] = 0.0, -1.0, np.nan
            run(tables, out, self.drive * factors[:, at], self.steps)
            for column, (plus, minus) in enumerate(self.ready.columns):
                wave = out.watch[:, plus] - (out.watch[:, minus] if minus >= 0 else 0.0)
                fired = np.abs(out.fired_watch[:, plus])
                sharp = float(np.nanmax(fired)) if np.isfinite(fired).any() else 0.0
                self.volts[part.start + at, column] = max(crest(t_s, np.abs(wave)), sharp)
            self.port_a[part.start + at] = np.abs(out.port_a).max(axis=0)
            self.port_j[part.start + at] = out.sums[2:]
        return len(surge)
