"""Solve a surge network with its cables as travelling waves, compiled.

``solver.py`` does a single small study in plain NumPy with its cables as lumped
sections, which needs nothing compiled; this is for accuracy, and for many surges.
"""

from __future__ import annotations

import numpy as np

from boardwright.surge.elements import Varistor
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.pieces import walk
from boardwright.surge.prepare import (
    STEP_RULES,
    Accuracy,
    Prepared,
    StepRule,
    Watch,
    everything,
    prepare,
)
from boardwright.surge.runs import Run, drive_of, empty_run, line_energy_j, steps_to
from boardwright.surge.settle import affordable, first_step_s, settled
from boardwright.surge.solver import Energy, Outcome, Solution
from boardwright.surge.sparks import Stretch, run_through, spliced
from boardwright.surge.tables import LOSSES, STORES, Tables
from boardwright.surge.waveforms import Array


def solve_waves(
    network: SurgeNetwork,
    t_end_s: float,
    *,
    rule: StepRule = STEP_RULES[Accuracy.DEFAULT],
    watch: Watch | None = None,
) -> Solution:
    """Return what the network does from its start to t_end_s, its lines as travelling waves.

    Where the rule says how far a peak may be off, runs in shorter and shorter steps follow
    until it is settled; else one run in the rule's own steps.

    Parameters
    ----------
    network
        The network.
    t_end_s
        The time to stop at. [s]
    rule
        The steps that the accuracy asked for allows.
    watch
        What to write down, nodes against the reference; without it, everything.
    """
    seen = everything(network) if watch is None else watch
    steps_to(rule.longest_s, t_end_s)
    if rule.within_ratio is None:
        return run_prepared(prepare(network, seen, rule), t_end_s)

    def ready(step_s: float) -> Prepared:
        return prepare(network, seen, StepRule(step_s, step_s, step_s))

    def trial(step_s: float) -> Solution | None:
        made = ready(step_s)
        return walk_through(made, t_end_s) if affordable(made, t_end_s) else None

    step_s = first_step_s(network, rule.longest_s, t_end_s)
    first = walk_through(ready(step_s), t_end_s)
    return settled(trial, first, step_s, rule.within_ratio)


def run_prepared(ready: Prepared, t_end_s: float) -> Solution:
    """Return the run of a prepared network to t_end_s."""
    steps = steps_to(ready.tables.step_s, t_end_s)
    out = empty_run(ready, steps)
    stretches = run_through(ready, out, drive_of(ready, steps), steps)
    return solution_of(ready, out, stretches)


def solution_of(ready: Prepared, out: Run, stretches: tuple[Stretch, ...]) -> Solution:
    """Return what a run left behind, by the names of the network."""
    t_s, watch, port_a = spliced(ready, out, stretches)
    seen = _seen(ready, watch)
    fired = [(out.fired_s[at], at) for at in np.flatnonzero(out.fired_s >= 0)]
    for moment_s, at in sorted(fired):
        t_s, seen, port_a = _inserted(
            (t_s, seen, port_a), moment_s, _seen(ready, out.fired_watch[at : at + 1])[0]
        )
    return _named(ready, (t_s, seen, port_a), energy_of(ready, out))


def walk_through(ready: Prepared, t_end_s: float) -> Solution:
    """Return the run of a prepared network to t_end_s in short steps of one size."""
    walked = walk(ready, t_end_s)
    waves = (walked.t_s, _seen(ready, walked.watch), walked.port_a)
    return _named(ready, waves, _energy_at(ready, walked.tables, walked.out, 0))


def _named(ready: Prepared, waves: tuple[Array, Array, Array], energy: Energy) -> Solution:
    t_s, seen, port_a = waves
    return Solution(
        outcome_of(ready, seen, port_a),
        ready.network.reference,
        tuple(a for a, _ in ready.watch.voltages),
        ready.watch.branches,
        tuple(port.name for subnet in ready.subnets for port in subnet.ports),
        t_s,
        seen,
        port_a,
        energy,
        ready.tables.step_s,
    )


def _seen(ready: Prepared, written: Array) -> Array:
    minus = np.hstack([written, np.zeros((len(written), 1))])
    plus_at, minus_at = np.array(ready.columns, dtype=np.intp).reshape(-1, 2).T
    return np.asarray(written[:, plus_at] - minus[:, minus_at])


def _inserted(
    waves: tuple[Array, Array, Array], moment_s: float, watched: Array
) -> tuple[Array, Array, Array]:
    """Insert the moment a gap fired: its peak would else lie between two samples."""
    t_s, seen, port_a = waves
    at = int(np.searchsorted(t_s, moment_s))
    if not 0 < at < len(t_s) or t_s[at] == moment_s:
        return waves
    share = (moment_s - t_s[at - 1]) / (t_s[at] - t_s[at - 1])
    between = seen[at - 1] + share * (seen[at] - seen[at - 1])
    # What stands in other subnetworks than the gap's was not written down.
    row = np.where(np.isnan(watched), between, watched)
    return (
        np.insert(t_s, at, moment_s),
        np.insert(seen, at, row, axis=0),
        np.insert(port_a, at, port_a[at - 1], axis=0),
    )


def outcome_of(ready: Prepared, seen: Array, port_a: Array) -> Outcome:
    """Return how a run ended."""
    if not (np.isfinite(seen).all() and np.isfinite(port_a).all()):
        return Outcome.NOT_FINITE
    ports = [port for subnet in ready.subnets for port in subnet.ports]
    for column, port in enumerate(ports):
        most_a = port.imax_8x20_a if isinstance(port, Varistor) else None
        if most_a is not None and np.abs(port_a[:, column]).max() > most_a:
            return Outcome.OVERLOADED
    return Outcome.SHORT_LINES_LUMPED if ready.lumped else Outcome.SOLVED


def energy_of(ready: Prepared, out: Run) -> Energy:
    """Return where the energy of a run went, what lines still hold included."""
    return _energy_at(ready, ready.tables, out, len(out.watch) - 1)


def _energy_at(ready: Prepared, tables: Tables, out: Run, last: int) -> Energy:
    start = ready.start
    at_start_j = sum(float(held @ held) for held in start.held) / 2
    at_start_j += float(start.waves_out**2 @ tables.delay_steps) * tables.step_s / 4
    at_end_j = line_energy_j(tables, out, last)
    for k, (stores, losses) in enumerate(tables.layout[:, [STORES, LOSSES]]):
        held = out.last[k, losses : losses + stores]
        # A store's wave squared is its energy by the step: see tables.py.
        at_end_j += float(held @ held) * tables.step_s / 4
    return Energy(
        supplied_j=at_start_j + float(out.sums[0]),
        resistances_j=float(out.sums[1]),
        ports_j=tuple(float(value) for value in out.sums[2:]),
        stored_at_end_j=at_end_j,
    )
