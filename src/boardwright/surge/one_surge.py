"""A network prepared once, then surged again and again: another size, another mains angle.

What a surge leaves behind is peaks: of the watched voltages, of the currents of varistors
and gaps, and their energy.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from boardwright.core.errors import FieldError
from boardwright.surge.legs import (
    IN,
    INPUTS,
    LANES,
    PEAK,
    SENT,
    TAPS,
    Legs,
    ends_by_lane,
    inputs_by_lane,
    legs_of,
)
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.one_loop import laws_of, most_v, port_ohm, serves
from boardwright.surge.prepare import STEP_RULES, Accuracy, Prepared, StepRule, Watch, prepare
from boardwright.surge.runs import drive_of, empty_run, start_parts, steps_to
from boardwright.surge.solver import crest
from boardwright.surge.sparks import run_through
from boardwright.surge.tables import PORT
from boardwright.surge.waveforms import Array, SteadyVoltage


@dataclass(frozen=True, slots=True)
class SurgePeaks:
    """What one surge leaves behind. [V, A, J]"""

    volts: Array
    port_a: Array
    port_j: Array


class RepeatedSurge:
    """A network ready for one surge after another.

    Parameters
    ----------
    network, watch
        The network and the voltages whose peaks are wanted.
    t_end_s
        The time to stop each surge at. [s]
    rule
        The steps allowed.
    most_ratio
        The largest surge that will be asked for, the network's own being 1.
    """

    def __init__(
        self,
        network: SurgeNetwork,
        watch: Watch,
        t_end_s: float,
        *,
        rule: StepRule = STEP_RULES[Accuracy.QUICK],
        most_ratio: float = 1.0,
    ) -> None:
        self._most_ratio = most_ratio
        ready = prepare(network, watch, rule, balance=False)
        steps = steps_to(ready.tables.step_s, t_end_s)
        legs = legs_of(ready) if serves(ready) else None
        whole = all(minus < 0 for _, minus in ready.columns)
        self._method = (
            _General(ready, steps)
            if legs is None or not whole
            else _Radial(ready, steps, legs, most_ratio)
        )

    @property
    def kernel(self) -> str:
        """The kernel that the network's shape has chosen."""
        return self._method.name

    def solve(self, surge_ratio: float = 1.0, mains_ratio: float = 1.0) -> SurgePeaks:
        """Return the peaks of one surge.

        Parameters
        ----------
        surge_ratio
            What the generators' charge and every impulse are multiplied with.
        mains_ratio
            What each steady source is multiplied with: the sine of the mains' angle.
        """
        for name, ratio, most in (
            ("surge_ratio", surge_ratio, self._most_ratio),
            ("mains_ratio", mains_ratio, 1.0),
        ):
            # A varistor's table ends there; not a number is more than any number, too.
            if not abs(ratio) <= most * (1 + 1e-9):
                raise FieldError(name, ratio, f"a number from -{most:g} to {most:g}")
        return self._method.solve(surge_ratio, mains_ratio)


class _Method:
    """What both kernels need: the sources, and the start split into what each ratio multiplies."""

    def __init__(self, ready: Prepared, steps: int) -> None:
        self._ready, self._steps = ready, steps
        self._drive = drive_of(ready, steps)
        sources = [source for subnet in ready.subnets for source in subnet.sources]
        self._steady = np.array([isinstance(s.wave, SteadyVoltage) for s in sources], dtype=bool)
        self._charge, self._mains = start_parts(ready)

    def _driven(self, surge_ratio: float, mains_ratio: float) -> Array:
        factors = np.where(self._steady, mains_ratio, surge_ratio)
        return np.asarray(self._drive * factors)


class _Radial(_Method):
    """One bus, legs eight abreast."""

    name = "radial, one varistor a part"

    def __init__(self, ready: Prepared, steps: int, legs: Legs, most_ratio: float) -> None:
        super().__init__(ready, steps)
        self._legs = legs
        self._law, step_v = laws_of(ready, most_v(ready, self._drive, most_ratio))
        self._law_per_v = 1 / step_v
        self._charge_in = inputs_by_lane(legs, self._charge)
        self._mains_in = inputs_by_lane(legs, self._mains)
        self._mains_out = ends_by_lane(legs, ready.start.waves_out)
        self._ohms = [
            (int(ready.tables.layout[k, PORT]), port_ohm(ready, k))
            for k, subnet in enumerate(ready.subnets)
            if subnet.ports
        ]
        self._order = legs.seen_lane[[column for column, _ in ready.columns]]

    def solve(self, surge_ratio: float, mains_ratio: float) -> SurgePeaks:
        """Return the peaks of one surge."""
        from boardwright.surge.kernel_legs import (
            CHUNK,
            KEPT,
            MOST_A,
            OHM,
            TAKEN_J,
            Leap,
            run_legs,
        )

        legs, groups = self._legs, len(self._legs.groups)
        rows = _aligned(legs.groups)
        came = self._charge_in * surge_ratio + self._mains_in * mains_ratio
        _part(rows, IN, INPUTS)[:] = came.reshape(groups, -1)
        gone = self._mains_out * mains_ratio
        _part(rows, SENT, TAPS - SENT)[:] = np.tile(gone.reshape(groups, LANES), TAPS - SENT)
        sent = _aligned(np.broadcast_to(gone, (legs.depth + CHUNK, len(gone))))
        ports = np.zeros((len(self._law), KEPT))
        for port, ohm in self._ohms:
            ports[port, OHM] = ohm
        leap = Leap(rows, sent, self._law, self._law_per_v, np.zeros(len(legs.signal_bus)), ports)
        drive = self._driven(surge_ratio, mains_ratio)
        run_legs(legs, leap, drive, self._steps, self._ready.tables.step_s)
        peaks = _part(rows, PEAK, 1).reshape(-1)
        return SurgePeaks(peaks[self._order], ports[:, MOST_A], ports[:, TAKEN_J])


def _part(rows: Array, first: int, count: int) -> Array:
    return rows[:, LANES * first : LANES * (first + count)]


def _aligned(values: Array) -> Array:
    """Return a copy that begins where a register's worth of memory does."""
    room = np.empty(values.size + LANES)
    first = -(room.ctypes.data // room.itemsize) % LANES
    copy = room[first : first + values.size].reshape(values.shape)
    copy[:] = values
    return copy


class _General(_Method):
    """Any network."""

    name = "general"

    def solve(self, surge_ratio: float, mains_ratio: float) -> SurgePeaks:
        """Return the peaks of one surge."""
        ready = self._ready
        out = empty_run(ready, self._steps)
        out.state[:] = self._charge * surge_ratio + self._mains * mains_ratio
        out.ring[:] *= mains_ratio
        drive = self._driven(surge_ratio, mains_ratio)
        stretches = run_through(ready, out, drive, self._steps)
        step_s = ready.tables.step_s
        waves = [_Waves(0.0, step_s, out.watch)]
        port_a = [np.abs(out.port_a).max(axis=0, initial=0.0)]
        for one in stretches:
            parts = (len(one.watch) - 1) // (one.last - one.first)
            waves.append(_Waves(one.first * step_s, step_s / parts, one.watch))
            # Between its samples a peak is found among the short steps alone.
            out.watch[one.first + 1 : one.last] = 0.0
            port_a.append(np.abs(one.port_a).max(axis=0, initial=0.0))
        volts = [self._peak_v(waves, out.fired_watch, *column) for column in ready.columns]
        return SurgePeaks(np.array(volts), np.max(port_a, axis=0), out.sums[2:])

    def _peak_v(self, waves: list[_Waves], fired: Array, plus: int, minus: int) -> float:
        """Return the largest voltage of one column less another, if there is one. [V]"""
        found = []
        for one in waves:
            wave = one.watch[:, plus] - one.watch[:, minus] if minus >= 0 else one.watch[:, plus]
            found.append(crest(one.t_s, np.abs(wave)))
        at_sparks = np.abs(fired[:, plus])
        if np.isfinite(at_sparks).any():
            found.append(float(np.nanmax(at_sparks)))
        return max(found)


class _Waves:
    """What was watched in steps of one size."""

    def __init__(self, first_s: float, step_s: float, watch: Array) -> None:
        self.watch = watch
        self.t_s = np.asarray(first_s + step_s * np.arange(len(watch)))
