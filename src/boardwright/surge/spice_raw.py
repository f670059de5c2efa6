"""Read what ngspice wrote: its raw file, and whether the run reached its end."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from boardwright.core.errors import BoardwrightError
from boardwright.surge.waveforms import Array

_NUMBER = "No. Variables:"
_POINTS = "No. Points:"


@dataclass(frozen=True, slots=True)
class SpiceResult:
    """Time and the saved node voltages, by node number."""

    t_s: Array
    nodes: dict[int, Array]


def read_raw(raw: bytes, t_end_s: float) -> SpiceResult:
    """Return the waves of a binary raw file of real numbers, if its run reached t_end_s.

    ngspice leaves a short file and a clean exit code behind an aborted run, so the last
    time is looked at and nothing else is believed.
    """
    head, mark, body = raw.partition(b"Binary:\n")
    text = head.decode("latin-1")
    if not mark or "Flags: real" not in text:
        raise BoardwrightError("ngspice: its output is not a binary raw file of real numbers.")
    count, points = _figure(text, _NUMBER), _figure(text, _POINTS)
    names = [line.split()[1] for line in text.partition("Variables:\n")[2].splitlines() if line]
    if points < 1 or len(names) != count or len(body) < 8 * count * points:
        raise BoardwrightError("ngspice: its output is cut short.")
    table = np.frombuffer(body, dtype="<f8", count=count * points).reshape(points, count)
    if not table[-1, 0] >= t_end_s * (1 - 1e-9):
        raise BoardwrightError(
            f"ngspice: its run stopped at {table[-1, 0]:.3g} s, before {t_end_s:.3g} s."
        )
    nodes = {
        int(name[2:-1]): table[:, at].copy()
        for at, name in enumerate(names)
        if name.startswith("v(") and name[2:-1].isdigit()
    }
    return SpiceResult(table[:, 0].copy(), nodes)


def _figure(text: str, label: str) -> int:
    return next(
        (int(line.removeprefix(label)) for line in text.splitlines() if line.startswith(label)), 0
    )
