"""What a run needs beside its tables: room for its state, and what the sources do."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from boardwright.core.errors import FieldError
from boardwright.surge.elements import CurrentSource
from boardwright.surge.prepare import Prepared
from boardwright.surge.tables import END, STORES, WAVES, Tables
from boardwright.surge.waveforms import Array

_MOST_STEPS = 20_000_000

# Places in the sums: what the sources gave, what resistances took, then each port.
SUPPLIED, RESISTANCES, FIRST_PORT = range(3)


class Run(NamedTuple):
    """What a kernel writes: the state it steps, and what it leaves behind."""

    state: Array
    """Waves into stores and line ends, a line for each subnetwork."""
    ring: Array
    """Waves out of the line ends, one line of it for each of the last steps."""
    now: Array
    before: Array
    """Outputs at this step and at the one before, a line for each subnetwork."""
    laws: Array
    """What each port is, and what becomes of it."""
    fired_s: Array
    """When each gap sparked over; below 0 if it did not."""
    fired_watch: Array
    """What was watched at that moment, a line for each port."""
    scratch: Array
    last: Array
    """Outputs at the end of the run."""
    sums: Array
    """Energy: supplied, lost in resistances, then taken by each port. [J]"""
    watch: Array
    """What was watched, a line for each step."""
    port_a: Array
    """Currents of the ports, a line for each step."""
    moment: Array
    """At what part of the step after the last a gap would spark over, and which gap."""


def steps_to(step_s: float, t_end_s: float, *, least: int = 2) -> int:
    """Return how many steps reach a time."""
    if not 0 < t_end_s < np.inf:
        raise FieldError("t_end_s", t_end_s, "a time over 0")
    steps = max(least, int(np.ceil(t_end_s / step_s - 1e-6)))
    if steps > _MOST_STEPS:
        raise FieldError(
            "t_end_s", t_end_s, f"at most {_MOST_STEPS * step_s:.3g} s, {_MOST_STEPS:,} steps"
        )
    return steps


def empty_run(ready: Prepared, steps: int, given: Tables | None = None) -> Run:
    """Return the room for a run with a network's own or given tables, standing at its start."""
    tables = given or ready.tables
    layout = tables.layout
    ports, seen = len(tables.laws), len(ready.start.seen)
    scale = (2 / tables.step_s) ** 0.5
    state = np.zeros((len(layout), tables.table.shape[2]))
    for k, held in enumerate(ready.start.held):
        stores, waves, end = layout[k, [STORES, WAVES, END]]
        state[k, :stores] = held * scale
        state[k, stores : stores + waves] = ready.start.waves_in[end : end + waves]
    # A step twice as long reads twice as far back at the moment it takes over.
    depth = 1 << int(tables.whole.max(initial=0) + 12).bit_length()
    width = tables.push.shape[2]
    watch = np.zeros((steps + 1, seen))
    watch[0] = ready.start.seen
    return Run(
        state,
        np.tile(ready.start.waves_out, (depth, 1)),
        np.zeros((len(layout), width)),
        np.zeros((len(layout), width)),
        tables.laws.copy(),
        np.full(ports, -1.0),
        np.full((ports, seen), np.nan),
        np.zeros((3, width)),
        np.zeros((len(layout), width)),
        np.zeros(2 + ports),
        watch,
        np.zeros((steps + 1, ports)),
        np.zeros(2),
    )


def start_parts(ready: Prepared) -> tuple[Array, Array]:
    """Return what charged capacitors and what the mains put into the state at the start."""
    both = empty_run(ready, 1).state
    charge = np.zeros_like(both)
    scale = (2 / ready.tables.step_s) ** 0.5
    for k, subnet in enumerate(ready.subnets):
        charge[k, : len(subnet.held)] = subnet.held * scale
    return charge, both - charge


def drive_of(ready: Prepared, steps: int) -> Array:
    """Return the values of the sources half a step in, then at each step."""
    t_s: Array = np.arange(steps + 1, dtype=np.float64)
    t_s *= ready.tables.step_s
    t_s[0] = ready.tables.step_s / 2
    return driven(ready, t_s)


def driven(ready: Prepared, t_s: Array) -> Array:
    """Return the values of the sources, a line for each time."""
    sources = [source for subnet in ready.subnets for source in subnet.sources]
    drive = np.zeros((len(t_s), len(sources)))
    for at, source in enumerate(sources):
        if isinstance(source, CurrentSource):
            drive[:, at] = source.wave.current_a(t_s)
        else:
            drive[:, at] = source.wave.voltage_v(t_s)
    return drive


def line_energy_j(tables: Tables, out: Run, last: int) -> float:
    """Return the energy on its way through the lines at a step. [J]"""
    mask = len(out.ring) - 1
    total = 0.0
    for end, steps in enumerate(tables.delay_steps):
        whole = int(steps)
        wave = out.ring[np.arange(last - whole - 1, last + 1) & mask, end]
        middle = (wave[1:] + wave[:-1]) / 2
        # The oldest sample interval has partly left the line already.
        share = steps - whole
        oldest = wave[1] - share / 2 * (wave[1] - wave[0])
        total += float(middle[1:] @ middle[1:]) + share * oldest**2
    return total * tables.step_s / 4
