"""How hard a fault heats conductors: the current and the time that count for the adiabatic sum."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.circuits.fault import BREAKERS, device_zs_max_ohm, fault_a, least_fault_a
from boardwright.standards.edition import Edition

TABLED_S = (0.4, 5.0)
"""Times for which the tables of fuses hold a loop."""


@dataclass(frozen=True, slots=True)
class Overcurrent:
    """An overcurrent device; ``curve`` is empty for a fuse."""

    standard: str
    curve: str
    in_a: float


@dataclass(frozen=True, slots=True)
class Stress:
    """A current for a time. ``bounded``: the fuse's own, weaker current that lets through more."""

    current_a: float
    time_s: float
    bounded: bool = False

    @property
    def energy_a2s(self) -> float:
        """What heats the conductors, I²t. [A²s]"""
        return self.current_a**2 * self.time_s


def overcurrent_stress(
    device: Overcurrent, zs_ohm: float, *, limit_s: float, u0_v: float, edition: Edition
) -> Stress:
    """Return the stress of a fault that an overcurrent device clears.

    A breaker trips at once. Of a fuse the table knows the current that opens it in 0.4 s and in
    5 s; the stronger the fault the less energy a fuse lets through, so that what passes at such
    a current bounds what passes at any stronger one.
    """
    current_a = fault_a(u0_v, zs_ohm)
    if device.standard in BREAKERS:
        return Stress(current_a, edition.number("device.instantaneous_s"))
    found = [Stress(current_a, limit_s)]
    for time_s in TABLED_S:
        most_ohm = device_zs_max_ohm(
            edition,
            standard=device.standard,
            curve=device.curve,
            in_a=device.in_a,
            time_s=time_s,
            u0_v=u0_v,
        )
        if zs_ohm <= most_ohm:
            opens_a = least_fault_a(edition.number("cmin"), u0_v, most_ohm)
            found.append(Stress(opens_a, time_s, bounded=True))
    return min(found, key=lambda stress: stress.energy_a2s)
