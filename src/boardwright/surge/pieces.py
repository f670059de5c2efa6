"""A long run in short steps, piece by piece: jumps on a step's end, and some samples kept.

The start and each spark are jumps, and what rings after a jump is quicker than anything
later: the steps are shortest there and grow. Where a gap sparks over the step is cut, the
waves on their way are put between their samples, and the run goes on from that moment. Of
the millions of steps every so many is kept, and those around each highest value.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from boardwright.surge.calm import calm
from boardwright.surge.prepare import Prepared
from boardwright.surge.runs import FIRST_PORT, RESISTANCES, Run, driven, empty_run, steps_to
from boardwright.surge.sparks import carry
from boardwright.surge.tables import (
    BURNING,
    END,
    ENOUGH,
    LOSSES,
    SPARKOVER_V,
    STORES,
    WAVES,
    Tables,
    lagrange,
    tables_of,
)
from boardwright.surge.waveforms import Array

PIECE_STEPS = 8192
KEPT_STEPS = 50_000
# After a jump the step is this power of two shorter, for so long; then half that for as long
# again, and so on.
SHORTENINGS = 6
SHORTEST_FOR_S = 62.5e-9
# A spark through an arc of milliohms moves the charge of nanofarads in about this time; in
# shorter steps rounding grows at a node that hangs on a coil and an open gap.
_LEAST_STEP_S = 2e-12
# Numbers that hold the waves on their way; of long cables shorter steps would need more.
_MOST_ON_WAY = 10_000_000
# A spark within this part of a step of its start is on it.
_ON_IT = 1e-3
# Port currents are exact enough for coils at this step; no better than this part of that.
_USUAL_STEP_S = 4e-9
_LEAST_PART = 3e-3
_AROUND = np.arange(-2, 3)


class Walked(NamedTuple):
    """What was kept of a run: times, what was watched, the ports' currents; and its end."""

    t_s: Array
    watch: Array
    port_a: Array
    tables: Tables
    out: Run


def walk(ready: Prepared, t_end_s: float) -> Walked:
    """Run a prepared network to t_end_s, in steps of its own size or shorter ones."""
    walker = _Walker(ready, t_end_s)
    while not walker.arrived:
        walker.piece()
    return walker.walked()


class _Walker:
    """A run between two of its pieces; its step 0 is where it stands."""

    def __init__(self, ready: Prepared, t_end_s: float) -> None:
        self._ready, self._end_s = ready, t_end_s
        step_s = ready.tables.step_s
        self._grades = [
            _sharp(tables_of(ready.subnets, ready.rows, step_s / parts))
            for parts in reversed(_parts(ready))
        ]
        self._grade, self._jump_s, self._now_s = 0, 0.0, 0.0
        self._out = empty_run(ready, PIECE_STEPS, self._tables)
        # Where the energy goes that a jump's half-steps lose; 0 where there is no jump.
        self._heats = RESISTANCES
        self._most = np.zeros(self._out.watch.shape[1] + self._out.port_a.shape[1])
        self._kept: list[tuple[Array, Array]] = []

    @property
    def _tables(self) -> Tables:
        return self._grades[self._grade]

    @property
    def arrived(self) -> bool:
        """Whether the end is reached."""
        return self._end_s - self._now_s < self._tables.step_s * 1e-6

    def piece(self) -> None:
        """Take one piece: to its full length, the end, a longer step or a spark."""
        from boardwright.surge.kernel import run, start

        tables, until_s = self._tables, self._end_s
        if self._grade < len(self._grades) - 1:
            # Half a step's length goes with half the time since the jump, whatever comes first.
            shorter = SHORTENINGS + 1 - len(self._grades) + self._grade
            until_s = min(until_s, self._jump_s + SHORTEST_FOR_S * 2**shorter)
        left = steps_to(tables.step_s, until_s - self._now_s, least=1)
        count = min(PIECE_STEPS, left)
        times = np.arange(count + 1, dtype=np.float64)
        times[0] = 0.5 if self._heats else 0.0
        drive = driven(self._ready, np.asarray(self._now_s + times * tables.step_s))
        taken, jumped = 0, np.zeros((0, 0))
        if self._heats:
            start(tables, self._out, drive, self._heats)
            taken, self._heats = 1, 0
            jumped = self._values(slice(1, 3))
        taken = run(tables, self._out, drive, taken + 1, count, 1)
        self._keep(taken)
        if len(jumped):
            self._keep_jump(jumped)
        if taken < count:
            self._spark(taken, drive)
            return
        self._rebase(count)
        if count == left and not self.arrived:
            self._lengthen()

    def _keep(self, taken: int) -> None:
        """Keep every so many samples and those around what is higher than all before."""
        step_s = self._tables.step_s
        every = max(1, round(self._end_s / KEPT_STEPS / step_s))
        values = calm(self._values(slice(taken + 1)))
        sizes = np.abs(values)
        tops = sizes.argmax(axis=0)
        highest = sizes[tops, np.arange(len(tops))]
        around = (tops[highest > self._most, None] + _AROUND).ravel()
        self._most = np.maximum(self._most, highest)
        # The first of a piece is the last of the one before.
        first = 1 if self._kept else 0
        kept = np.unique(np.concatenate([np.arange(first, taken + 1, every), around, [taken]]))
        kept = kept[(kept >= first) & (kept <= taken)]
        self._kept.append((self._now_s + kept * step_s, values[kept]))

    def _values(self, rows: slice) -> Array:
        return np.hstack([self._out.watch[rows], self._out.port_a[rows]])

    def _keep_jump(self, after: Array) -> None:
        """Keep where a jump led: the line back from a whole step after it and half a one."""
        t_s, values = self._kept[-1]
        led = 2 * after[1] - after[0]
        moment_s = self._now_s + self._tables.step_s * _ON_IT
        place = int(np.searchsorted(t_s, moment_s))
        self._kept[-1] = (np.insert(t_s, place, moment_s), np.insert(values, place, led, axis=0))
        self._most = np.maximum(self._most, np.abs(led))

    def walked(self) -> Walked:
        """Return what was kept."""
        t_s, values = (np.concatenate(parts) for parts in zip(*self._kept, strict=True))
        count = self._out.watch.shape[1]
        return Walked(t_s, values[:, :count], values[:, count:], self._tables, self._out)

    def _rebase(self, count: int) -> None:
        """Count steps from where the run stands."""
        out = self._out
        if shift := count & (len(out.ring) - 1):
            out.ring[:] = np.roll(out.ring, -shift, axis=0)
        out.watch[0], out.port_a[0] = out.watch[count], out.port_a[count]
        self._now_s += count * self._tables.step_s

    def _lengthen(self) -> None:
        """Go on in steps twice as long."""
        old = self._out
        self._grade += 1
        new = self._moved(old, 0.0, 2.0)
        carry(self._tables, old, new, 2.0**-0.5)
        new.watch[0], new.port_a[0] = old.watch[0], old.port_a[0]
        new.ring[0] = old.ring[0]
        self._receive(new, new.ring, 1.0, 0)
        self._out = new

    def _moved(self, old: Run, place: float, ratio: float) -> Run:
        """Return a run at a place past a step of the old one, its step ``ratio`` times as long."""
        new = empty_run(self._ready, PIECE_STEPS, self._tables)
        back = np.arange(int(self._tables.whole.max(initial=0)) + 4)
        new.ring[-back & (len(new.ring) - 1)] = between(
            old.ring, np.asarray(place - back * ratio), int(np.floor(place))
        )
        new.laws[:] = old.laws
        new.laws[:, ENOUGH] = self._tables.laws[:, ENOUGH]
        return new._replace(sums=old.sums)

    def _spark(self, taken: int, drive: Array) -> None:
        """Go to the moment within the next step at which a gap sparks over, and stand there."""
        part, gap = float(self._out.moment[0]), int(self._out.moment[1])
        old, old_s = self._out, self._tables.step_s
        landed, row, landed_s = old, taken, old_s
        if part > _ON_IT:
            landed, row, landed_s = self._landed(taken, part, drive), 1, part * old_s
        self._now_s += (taken + part) * old_s
        self._jump_s, self._grade = self._now_s, 0
        new_s = self._tables.step_s
        new = self._moved(old, taken + part, new_s / old_s)
        new.ring[0] = landed.ring[row & (len(landed.ring) - 1)]
        for k, (stores, losses) in enumerate(self._tables.layout[:, [STORES, LOSSES]]):
            held = landed.last[k, losses : losses + stores]
            new.state[k, :stores] = held * (landed_s / new_s) ** 0.5
        self._receive(new, new.ring, 0.5, 0)
        new.laws[gap, BURNING] = 1.0
        new.watch[0], new.port_a[0] = landed.watch[row], landed.port_a[row]
        self._out, self._heats = new, FIRST_PORT + gap

    def _landed(self, taken: int, part: float, drive: Array) -> Run:
        """Take one step of a part of the usual size."""
        from boardwright.surge.kernel import run

        ready, step_s = self._ready, self._tables.step_s
        tables = tables_of(ready.subnets, ready.rows, part * step_s)
        # What leaves in this step is read by hand: no wave is on its way in its ring.
        tables = tables._replace(whole=np.full_like(tables.whole, 2))
        short = empty_run(ready, 1, tables)._replace(sums=self._out.sums)
        carry(tables, self._out, short, part**-0.5)
        self._receive(short, self._out.ring, taken + part, taken)
        short.laws[:] = self._out.laws
        short.laws[:, SPARKOVER_V] = np.inf
        moment_s = self._now_s + (taken + part) * step_s
        given = np.vstack([drive[taken], driven(ready, np.array([moment_s]))])
        run(tables, short, given, 1, 1, 0)
        return short

    def _receive(self, new: Run, ring: Array, place: float, newest: int) -> None:
        """Set the waves that arrive at a run's line ends at a place of a ring. [steps]"""
        tables = self._tables
        ends = np.arange(len(tables.whole))
        sent = between(ring[:, tables.partner], place - tables.delay_steps, newest)
        waves = sent[ends, ends]
        for k, (stores, count, end) in enumerate(tables.layout[:, [STORES, WAVES, END]]):
            new.state[k, stores : stores + count] = waves[end : end + count]


def _parts(ready: Prepared) -> list[int]:
    """Return into how many parts a step may be cut, 1 first."""
    step_s, waves = ready.tables.step_s, float(ready.tables.delay_steps.max(initial=0.0))
    waves *= len(ready.tables.delay_steps)
    shortest = min(step_s / _LEAST_STEP_S, _MOST_ON_WAY / max(waves, 1.0))
    return [2**power for power in range(SHORTENINGS + 1) if power == 0 or 2**power < shortest]


def _sharp(tables: Tables) -> Tables:
    """Return tables for jumps, and with port currents exact enough for their step.

    What is wrong of a current becomes a voltage of a coil, the larger the shorter the step.
    """
    tables.laws[:, ENOUGH] *= max(_LEAST_PART, min(1.0, tables.step_s / _USUAL_STEP_S))
    return tables._replace(sharp=1)


def between(ring: Array, places: Array, newest: int) -> Array:
    """Return the waves at places between the samples of a ring, a line for each place.

    A cubic through four samples; at a corner held between the two around, as ``hold`` does.
    """
    mask = len(ring) - 1
    low = np.floor(places).astype(np.int64)
    second = np.minimum(low, newest - 2)
    four = [ring[(second - 1 + tap) & mask] for tap in range(4)]
    weights = lagrange(np.asarray(places - second))
    waves = sum(weights[:, tap, None] * four[tap] for tap in range(4))
    old, new = ring[low & mask], ring[np.minimum(low + 1, newest) & mask]
    bend_old, bend_new = four[0] - 2 * four[1] + four[2], four[1] - 2 * four[2] + four[3]
    corner = 2 * np.abs(bend_new - bend_old) > np.abs(bend_new) + np.abs(bend_old)
    held = np.clip(waves, np.minimum(old, new), np.maximum(old, new))
    return np.asarray(np.where(corner, held, waves))
