"""The non-linear elements as ports of the linear network, one step at a time."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from boardwright.core.errors import FieldError
from boardwright.surge.assemble import Equations, Port
from boardwright.surge.elements import Gap
from boardwright.surge.operating_point import arc_current_a, varistor_current_a
from boardwright.surge.waveforms import Array

_SWEEPS = 500


@dataclass(frozen=True, slots=True)
class System:
    """The linear network at one step size, solved once and for all.

    ``stacked`` turns a history into the next one and, below, into the open
    voltages of the ports; ``ohm`` is the ports' resistance table.
    """

    step_s: float
    from_history: Array
    from_currents: Array
    next_currents: Array
    stacked: Array
    ohm: tuple[tuple[float, ...], ...]

    @classmethod
    def of(cls, equations: Equations, rows: NDArray[np.intp], step_s: float) -> System:
        """Return the system of a network for a step. [s]"""
        e, b, count = equations.e, equations.b, len(equations.ports)
        try:
            inverse = np.asarray(np.linalg.inv(e * (2 / step_s) - equations.a), dtype=np.float64)
        except np.linalg.LinAlgError:
            raise FieldError(
                "elements",
                "a singular network",
                "a path with resistance or capacitance to each node",
            ) from None
        from_history: Array = inverse[:, rows]
        from_currents: Array = inverse @ b
        flux = e[rows] * (2 / step_s)
        tap = -b[:, :count].T
        return cls(
            step_s,
            from_history,
            from_currents,
            flux @ from_currents,
            np.concatenate([flux @ from_history, tap @ from_history]),
            tuple(tuple(float(v) for v in row) for row in -(tap @ from_currents)),
        )


@dataclass(frozen=True, slots=True)
class Crossing:
    """A gap that met its sparkover voltage within a step."""

    port: int
    fraction: float


class PortSolver:
    """Finds the port currents of each step; remembers them, and which gaps burn.

    Several ports are solved in turn until none moves. The network is passive and
    each curve rises, so this is a descent on a convex function: it cannot fail.
    Varistors stand beside their own capacitance, which all but uncouples them
    within a step, so two or three sweeps do.
    """

    def __init__(self, ports: tuple[Port, ...]) -> None:
        self._ports = ports
        self._last = [0.0] * len(ports)
        self._burning = [False] * len(ports)
        self._across = [0.0] * len(ports)
        self._next_across = [0.0] * len(ports)
        self.crossing: Crossing | None = None

    def currents(self, system: System, open_v: Array, driven_a: list[float]) -> Array:
        """Return the currents of the ports, then the driven ones. [A]"""
        count = len(self._ports)
        ohm, found = system.ohm, self._last
        volts = [
            v - sum(r * i for r, i in zip(ohm[at][count:], driven_a, strict=True))
            for at, v in enumerate(open_v.tolist())
        ]
        for _ in range(_SWEEPS):
            moved = 0.0
            for at in range(count):
                own = ohm[at][at]
                shared = sum(ohm[at][k] * found[k] for k in range(count) if k != at)
                new = self._current(at, volts[at] - shared, own)
                moved = max(moved, abs(new - found[at]) * own)
                found[at] = new
            # Volts that one more sweep would still shift.
            if count < 2 or moved < 1e-6:  # noqa: PLR2004
                break
        self._watch(volts, ohm)
        return np.array([*found, *driven_a])

    def _current(self, at: int, volts: float, ohm: float) -> float:
        port = self._ports[at]
        if not isinstance(port, Gap):
            return varistor_current_a(port.curve, volts, ohm, self._last[at])
        if not self._burning[at]:
            return 0.0
        return arc_current_a(volts, ohm, arc_v=port.arc_v, arc_ohm=port.arc_ohm)

    def _watch(self, volts: list[float], ohm: tuple[tuple[float, ...], ...]) -> None:
        """Note which gap meets its sparkover first, and at what part of the step."""
        self.crossing = None
        for at, port in enumerate(self._ports):
            if not isinstance(port, Gap) or self._burning[at]:
                continue
            now = volts[at] - sum(r * i for r, i in zip(ohm[at], self._last, strict=False))
            before, self._next_across[at] = self._across[at], now
            if abs(now) < port.sparkover_v:
                continue
            rise = abs(now) - math.copysign(before, before * now)
            part = (port.sparkover_v - abs(now) + rise) / rise if rise > 0 else 0.0
            if self.crossing is None or part < self.crossing.fraction:
                self.crossing = Crossing(at, min(max(part, 0.0), 1.0))

    def accept(self) -> None:
        """Take the step that was last asked for as done."""
        self._across = list(self._next_across)

    def fire(self, port: int) -> None:
        """Let a gap burn from here on."""
        self._burning[port] = True
