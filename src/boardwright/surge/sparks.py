"""A run with gaps: short steps at the start and after a later spark, long ones for the rest.

A spark leaves a front of no length, and what rings after it is quicker than anything
before. The network goes on in short steps, waves on their way put between their samples,
and what stands at the end of that goes back into the long step; if a gap is still to spark
over then, the long step ends before it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from boardwright.surge.prepare import Prepared
from boardwright.surge.runs import RESISTANCES, Run, empty_run
from boardwright.surge.tables import END, LOSSES, STORES, WAVES, Tables, lagrange
from boardwright.surge.waveforms import Array

# At a gap that would spark over, or let it.
_STOP, _GO_ON = 1, 0


@dataclass(frozen=True, slots=True)
class Stretch:
    """What was written down in short steps: from one step of the run to another. [V, A]"""

    first: int
    last: int
    watch: Array
    port_a: Array


def run_through(ready: Prepared, out: Run, drive: Array, steps: int) -> tuple[Stretch, ...]:
    """Run a prepared network to its last step; return the stretches of short steps."""
    from boardwright.surge.kernel import run, start

    tables, after = ready.tables, ready.after_spark
    start(tables, out, drive, RESISTANCES)
    stretches: list[Stretch] = []
    # The moment of the spark decides what follows: the way up to it is walked in short steps.
    taken = 1 if after is not None else run(tables, out, drive, 2, steps, _STOP)
    while taken < steps and after is not None:
        parts = round(tables.step_s / after.step_s)
        last = min(steps, taken + round(ready.rule.ringing_s / tables.step_s))
        short = _shortened(ready, out, taken, (last - taken) * parts)
        run(after, short, _between(drive, taken, last, parts), 1, len(short.watch) - 1, _GO_ON)
        stretches.append(Stretch(taken, last, short.watch, short.port_a))
        _return(tables, out, short, taken, last)
        taken = run(tables, out, drive, last + 1, steps, _STOP)
    return tuple(stretches)


def spliced(
    ready: Prepared, out: Run, stretches: tuple[Stretch, ...]
) -> tuple[Array, Array, Array]:
    """Return time, what was watched and the ports' currents, short steps among long ones."""
    step_s = ready.tables.step_s
    t_s: Array = np.arange(len(out.watch), dtype=np.float64)
    t_s *= step_s
    if not stretches:
        return t_s, out.watch, out.port_a
    pieces: list[tuple[Array, Array, Array]] = []
    done = 0
    for one in stretches:
        long = slice(done, one.first)
        pieces.append((t_s[long], out.watch[long], out.port_a[long]))
        inside = np.linspace(t_s[one.first], t_s[one.last], len(one.watch))
        # The last of them is the first long one again.
        pieces.append((inside[:-1], one.watch[:-1], one.port_a[:-1]))
        done = one.last
    pieces.append((t_s[done:], out.watch[done:], out.port_a[done:]))
    times, watched, amps = zip(*pieces, strict=True)
    return np.concatenate(times), np.concatenate(watched), np.concatenate(amps)


def _between(drive: Array, first: int, last: int, parts: int) -> Array:
    """Return the sources at each short step, in straight lines; the first time is no half one."""
    whole = np.arange(last - first + 1, dtype=np.float64)
    places = np.arange((last - first) * parts + 1) / parts
    values = np.zeros((len(places), drive.shape[1]))
    for source in range(drive.shape[1]):
        values[:, source] = np.interp(places, whole, drive[first : last + 1, source])
    return values


def _shortened(ready: Prepared, out: Run, taken: int, steps: int) -> Run:
    """Return a run in short steps that stands where this one does."""
    tables, after = ready.tables, ready.after_spark
    assert after is not None  # noqa: S101  its caller has seen to it
    short = empty_run(ready, steps, after)._replace(sums=out.sums)
    root = (tables.step_s / after.step_s) ** 0.5
    carry(tables, out, short, root)
    short.laws[:] = out.laws
    short.watch[0], short.port_a[0] = out.watch[taken], out.port_a[taken]
    back = np.arange(int(after.whole.max(initial=0)) + 4)
    place = taken - back * after.step_s / tables.step_s
    # A cubic through four samples, the newest of which is the last one sent.
    second = np.minimum(np.floor(place).astype(np.int64), taken - 2)
    weights, mask = lagrange(np.asarray(place - second)), len(out.ring) - 1
    short.ring[-back & (len(short.ring) - 1)] = sum(
        weights[:, tap, None] * out.ring[(second - 1 + tap) & mask] for tap in range(4)
    )
    _arrived(after, short, 0)
    return short


def _return(tables: Tables, out: Run, short: Run, first: int, last: int) -> None:
    """Set the run to where the one in short steps ended."""
    steps, mask = len(short.watch) - 1, len(out.ring) - 1
    parts = steps // (last - first)
    carry(tables, short, out, parts**-0.5)
    out.laws[:] = short.laws
    out.watch[first + 1 : last + 1] = short.watch[parts::parts]
    out.port_a[first + 1 : last + 1] = short.port_a[parts::parts]
    back = np.arange(min(last - first, int(tables.whole.max(initial=0)) + 4))
    out.ring[(last - back) & mask] = short.ring[(steps - parts * back) & (len(short.ring) - 1)]
    fired = short.fired_s >= 0
    out.fired_s[fired] = short.fired_s[fired] + first * tables.step_s
    out.fired_watch[fired] = short.fired_watch[fired]
    _arrived(tables, out, last)


def carry(tables: Tables, old: Run, new: Run, root_ratio: float) -> None:
    """Carry what stores hold and how fast it moves to a step ``root_ratio`` squared shorter."""
    new.last[:] = old.last
    for k, (stores, losses) in enumerate(tables.layout[:, [STORES, LOSSES]]):
        held = old.last[k, losses : losses + stores]
        moves = old.state[k, :stores] - held
        new.last[k, losses : losses + stores] = held * root_ratio
        new.state[k, :stores] = held * root_ratio + moves / root_ratio


def _arrived(tables: Tables, out: Run, taken: int) -> None:
    """Set the waves that arrive at the step after the one taken."""
    newest = taken + 2 - tables.whole
    mask = len(out.ring) - 1
    waves = sum(
        tables.taps[:, tap] * out.ring[(newest - tap) & mask, tables.partner] for tap in range(4)
    )
    for k, (stores, count, end) in enumerate(tables.layout[:, [STORES, WAVES, END]]):
        out.state[k, stores : stores + count] = np.asarray(waves)[end : end + count]
