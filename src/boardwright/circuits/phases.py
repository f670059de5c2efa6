"""Which phase each one-phase circuit of a three-phase home takes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import sqrt

from boardwright.job.job import Job

PHASES = ("L1", "L2", "L3")


def unbalance_a(l1_a: float, l2_a: float, l3_a: float) -> float:
    """Return what three unlike lines leave for the neutral, at unity power factor. [A]

    References
    ----------
    BS 7671, A722.1.

    Examples
    --------
    >>> round(unbalance_a(32, 10, 6), 2)
    24.25
    """
    return sqrt((l1_a - (l2_a + l3_a) / 2) ** 2 + 3 * (l2_a - l3_a) ** 2 / 4)


def phases_of(job: Job, ib_a: Mapping[str, float]) -> dict[str, str]:
    """Return the phase of each one-phase circuit: as surveyed, else shared; none on one phase."""
    if job.supply.phases == 1:
        return {}
    single_a = {c.id: ib_a[c.id] for c in job.circuits if c.phases == 1}
    three_a = sum(ib_a[c.id] for c in job.circuits if c.phases > 1)
    fixed = {c.id: c.phase for c in job.circuits if c.phase is not None}
    return share_phases(single_a, fixed, other_a=dict.fromkeys(PHASES, three_a))


def share_phases(
    loads_a: Mapping[str, float], fixed: Mapping[str, str], *, other_a: Mapping[str, float]
) -> dict[str, str]:
    """Return the phase of each circuit, the fullest phase as low as could be reached.

    The longest-first rule, then moves and swaps of two until neither lowers the sum of squares.
    The sum of squares, because it levels all three phases and not only the fullest.

    Parameters
    ----------
    loads_a
        Design current of each one-phase circuit by its id. [A]
    fixed
        Circuits whose phase the survey gives.
    other_a
        What three-phase circuits already put on each phase. [A]
    """
    chosen = {name: phase for name, phase in fixed.items() if name in loads_a}
    free = sorted((n for n in loads_a if n not in chosen), key=lambda n: (-loads_a[n], n))
    for name in free:
        sums_a = _sums(loads_a, chosen, other_a)
        counts = [list(chosen.values()).count(phase) for phase in PHASES]
        # Equal currents, as of circuits with no load yet, are shared by number.
        best = min(range(3), key=lambda k: (sums_a[k], counts[k], k))
        chosen[name] = PHASES[best]
    while _improve(loads_a, chosen, free, other_a):
        pass
    return {name: chosen[name] for name in loads_a}


def _sums(
    loads_a: Mapping[str, float], chosen: Mapping[str, str], other_a: Mapping[str, float]
) -> list[float]:
    return [
        other_a.get(phase, 0.0) + sum(loads_a[n] for n, p in chosen.items() if p == phase)
        for phase in PHASES
    ]


def _squares(
    loads_a: Mapping[str, float], chosen: Mapping[str, str], other_a: Mapping[str, float]
) -> float:
    return sum(total_a**2 for total_a in _sums(loads_a, chosen, other_a))


def _improve(
    loads_a: Mapping[str, float],
    chosen: dict[str, str],
    free: Sequence[str],
    other_a: Mapping[str, float],
) -> bool:
    """Make the first move or swap that levels the phases; tell whether there was one."""
    before = _squares(loads_a, chosen, other_a)
    for changed in _changes(chosen, free):
        tried = {**chosen, **changed}
        if _squares(loads_a, tried, other_a) < before - 1e-9:
            chosen.update(changed)
            return True
    return False


def _changes(chosen: Mapping[str, str], free: Sequence[str]) -> list[dict[str, str]]:
    moves = [{name: phase} for name in free for phase in PHASES if phase != chosen[name]]
    swaps = [
        {one: chosen[other], other: chosen[one]}
        for k, one in enumerate(free)
        for other in free[k + 1 :]
        if chosen[one] != chosen[other]
    ]
    return moves + swaps
