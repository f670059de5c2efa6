"""Halve the steps until the peaks of a network settle, and say how closely they did.

For the networks of homes the steps of ``prepare.py`` are known to be fine enough; any other
network may hold metres of lead that ring, jumps, or cables of centimetres. So its shortest
cable sets the first step, and one run after another checks the one before.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from boardwright.surge.elements import Line
from boardwright.surge.modes import shortest_delay_s
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.prepare import Prepared
from boardwright.surge.solver import Outcome, Solution
from boardwright.surge.waveforms import Array

# A node that sees less than this part of the largest voltage is held to this part.
FLOOR_RATIO = 1e-4
_TINY_V = 1e-30
# Energy that may be missing, as a part of what the surge brought.
BALANCE_RATIO = 5e-5
# Two steps of the first run; any shorter cable stands as lumped sections.
_LEAST_DELAY_S = 0.05e-9
_FIRST_STEPS = 2_000_000
# What one more run may take: steps, and numbers that these work on.
_MOST_STEPS = 5_000_000
_MOST_WORK = 1.5e10
_LEAST_STEP_S = 2e-12
# Against a first pair of runs that agree by chance.
_FIRST_PART = 3.0
_BEFORE_PART = 4.0
# After so many halvings that moved the peaks no less than those before, no more is tried.
_MOST_IN_VAIN = 3

Trial = Callable[[float], Solution | None]
"""A run in steps of a length, or none if that is too much work. [s]"""


def settled(trial: Trial, first: Solution, step_s: float, within_ratio: float) -> Solution:
    """Return a run whose node peaks one more halving of the step moved by less than asked.

    The last run is returned with the largest move as the estimate of its error. If the work
    grows too large before, the outcome says so.

    Parameters
    ----------
    trial
        Runs the network in steps of a length.
    first, step_s
        The first run, and its step. [s]
    within_ratio
        How far a peak may be off, as a part of itself.
    """
    found, before, in_vain = first, np.inf, 0
    while np.isfinite(found.states).all():
        step_s /= 2
        finer = trial(step_s) if in_vain < _MOST_IN_VAIN else None
        if finer is None or (_balanced(found) and not _balanced(finer)):
            # A run that makes or loses energy where a longer step did not has run away.
            return _unsettled(found)
        moved = _moved(found, finer)
        # One small move may be chance: the one before must have been small as well.
        error = moved if np.isinf(before) else max(moved, before / _BEFORE_PART)
        waves = _waves_moved(found, finer)
        found = replace(finer, peak_error_ratio=error, wave_error_ratio=waves)
        enough = within_ratio / _FIRST_PART if np.isinf(before) else within_ratio
        if error <= enough and _balanced(finer):
            break
        in_vain += moved >= before
        before = moved
    return found


def first_step_s(network: SurgeNetwork, longest_s: float, t_end_s: float) -> float:
    """Return the longest step that follows each wave of each cable but the shortest. [s]"""
    delays_s = [shortest_delay_s(item) for item in network.elements if isinstance(item, Line)]
    on_way_s = 2 * max(delays_s, default=0.0) / _FIRST_STEPS
    least_s = max(_LEAST_DELAY_S, 2 * t_end_s / _FIRST_STEPS, 2 * on_way_s)
    # A hair less than half, so that no delay is missed by rounding.
    halves_s = [delay_s / 2 * (1 - 1e-9) for delay_s in delays_s if delay_s >= least_s]
    return min([longest_s, *halves_s])


def affordable(ready: Prepared, t_end_s: float) -> bool:
    """Say whether a run is little enough work."""
    step_s = ready.tables.step_s
    steps = t_end_s / step_s
    on_way = float(ready.tables.delay_steps.sum())
    small = step_s >= _LEAST_STEP_S and max(steps, on_way) <= _MOST_STEPS
    return small and steps * ready.tables.table.size <= _MOST_WORK


def _moved(before: Solution, after: Solution) -> float:
    """Return how far the peak moved that moved most, as a part of itself."""
    old, new = _peaks(before), _peaks(after)
    if not new.max(initial=0.0) > 0:
        return 0.0
    return float((np.abs(new - old) / np.maximum(new, FLOOR_RATIO * new.max())).max())


def _balanced(solution: Solution) -> bool:
    return abs(solution.energy.gap_ratio) <= BALANCE_RATIO


def _waves_moved(before: Solution, after: Solution) -> float:
    """Return how far the wave moved that moved most, as a part of its peak.

    Nineteen in twenty samples moved less: beside a jump two runs stand on either side of it.
    """
    new, most = _peaks(after), 0.0
    for node, peak_v in zip(after.nodes, new, strict=True):
        there = np.interp(before.t_s, after.t_s, after.voltage_v(node))
        moved_v = float(np.quantile(np.abs(there - before.voltage_v(node)), 0.95))
        most = max(most, moved_v / max(float(peak_v), FLOOR_RATIO * float(new.max()), _TINY_V))
    return most


def _peaks(solution: Solution) -> Array:
    return np.array([solution.peak_v(node) for node in solution.nodes])


def _unsettled(solution: Solution) -> Solution:
    if solution.outcome in {Outcome.SOLVED, Outcome.SHORT_LINES_LUMPED}:
        return replace(solution, outcome=Outcome.NOT_SETTLED)
    return solution
