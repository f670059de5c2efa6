"""A solved network as plain data and as words: what the surge command prints."""

from __future__ import annotations

import json
from collections.abc import Sequence

import numpy as np

from boardwright.surge.elements import Node
from boardwright.surge.solver import Solution

# As many points as a chart can show; peaks are taken from all steps.
_MOST_POINTS = 2000


def as_json(solution: Solution) -> str:
    """Return peaks, waveforms, energy and outcome of a solution as JSON."""
    every = max(1, -(-len(solution.t_s) // _MOST_POINTS))
    data = {
        "outcome": solution.outcome.name.lower(),
        "sentence": solution.outcome.value,
        "reference": str(solution.reference),
        "peak_error_ratio": solution.peak_error_ratio,
        "wave_error_ratio": solution.wave_error_ratio,
        "step_s": solution.step_s,
        "energy": {
            "supplied_j": solution.energy.supplied_j,
            "resistances_j": solution.energy.resistances_j,
            "ports_j": dict(zip(solution.ports, solution.energy.ports_j, strict=True)),
            "stored_at_end_j": solution.energy.stored_at_end_j,
            "gap_ratio": solution.energy.gap_ratio,
        },
        "t_s": _short(solution.t_s[::every]),
        "nodes": {str(node): _node(solution, node, every) for node in solution.nodes},
        "branches": {name: _current(solution, name, every) for name in solution.branches},
        "ports": {name: _current(solution, name, every) for name in solution.ports},
    }
    return json.dumps(data, indent=1, allow_nan=False)


def _node(solution: Solution, node: Node, every: int) -> dict[str, object]:
    wave = solution.voltage_v(node)
    return {"peak_v": solution.peak_v(node), "u_v": _short(wave[::every])}


def _current(solution: Solution, name: str, every: int) -> dict[str, object]:
    wave = solution.current_a(name)
    return {"peak_a": float(np.abs(wave).max()), "i_a": _short(wave[::every])}


def _short(
    values: Sequence[float] | np.ndarray[tuple[int, ...], np.dtype[np.float64]],
) -> list[float]:
    return [float(f"{value:.7g}") for value in values]


def as_text(solution: Solution) -> str:
    """Return the peaks of a solution, one line each, and how it ended."""
    lines = [solution.outcome.value]
    lines += [f"{node!s:32} {solution.peak_v(node):9.1f} V" for node in solution.nodes]
    lines += [
        f"{name:32} {np.abs(solution.current_a(name)).max():9.1f} A  {joules:9.3f} J"
        for name, joules in zip(solution.ports, solution.energy.ports_j, strict=True)
    ]
    gap = abs(solution.energy.gap_ratio)
    lines.append(f"Energy supplied {solution.energy.supplied_j:.3f} J; not found again: {gap:.4%}.")
    if solution.peak_error_ratio is not None:
        peak, wave = solution.peak_error_ratio, solution.wave_error_ratio or 0.0
        lines.append(
            f"Estimated numerical error at the worst node: peak {peak:.3%},"
            f" wave {wave:.2%} of the peak."
        )
    lines.append("Computed for this assumed surge only; voltages are counted from the reference.")
    return "\n".join(lines)
