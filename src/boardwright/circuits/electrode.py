"""Earth electrodes: what a rod, a strip, a plate or several rods read, and what is then allowed.

Soil is taken as alike everywhere. It never is: a computed electrode is a guess at how many rods to
bring, and the reading decides.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log, pi, sqrt

from boardwright.circuits.fault import rcd_zs_max_ohm
from boardwright.standards.edition import Edition

MOST_RODS = 20
"""Beyond so many rods another kind of electrode is the better question."""


@dataclass(frozen=True, slots=True)
class Rods:
    """Driven rods in a line, all alike; ``spacing_m`` counts for two and more."""

    length_m: float
    diameter_m: float
    count: int = 1
    spacing_m: float = 0.0


def rod_ohm(soil_ohm_m: float, length_m: float, diameter_m: float) -> float:
    """Return what one driven rod reads, ρ/(2πL)·(ln(8L/d) − 1). [Ω]

    References
    ----------
    BS 7430, vertical rod.

    Examples
    --------
    >>> round(rod_ohm(soil_ohm_m=55, length_m=3, diameter_m=0.025), 2)
    17.12
    """
    return soil_ohm_m * _rod_per_m(length_m, diameter_m)


def _rod_per_m(length_m: float, diameter_m: float) -> float:
    return (log(8 * length_m / diameter_m) - 1) / (2 * pi * length_m)


def soil_of_ohm_m(reading_ohm: float, length_m: float, diameter_m: float) -> float:
    """Return the soil's resistivity from what one driven rod reads. [Ω·m]"""
    return reading_ohm / _rod_per_m(length_m, diameter_m)


def plate_ohm(soil_ohm_m: float, area_m2: float) -> float:
    """Return what a buried plate reads, ρ/4·√(π/A). [Ω]

    References
    ----------
    BS 7430, from memory.

    Examples
    --------
    >>> round(plate_ohm(soil_ohm_m=100, area_m2=1), 2)
    44.31
    """
    return soil_ohm_m / 4 * sqrt(pi / area_m2)


def strip_ohm(soil_ohm_m: float, length_m: float, width_m: float, depth_m: float) -> float:
    """Return what a strip laid in the ground reads, ρ/(2πL)·(ln(8L²/(w·h)) − 2). [Ω]

    A strip is a round conductor whose radius is a quarter of its width.

    References
    ----------
    H. B. Dwight, Calculation of resistances to ground, 1936, from memory.
    """
    return soil_ohm_m / (2 * pi * length_m) * (log(8 * length_m**2 / (width_m * depth_m)) - 2)


def crowding_factor(count: int) -> float:
    """Return λ of rods in a line, (1/n)·Σ 1/|i − j| over all pairs (BS 7430).

    Examples
    --------
    >>> round(crowding_factor(3), 2)
    1.67
    """
    return sum(2 * (count - apart) / apart for apart in range(1, count)) / count


def rods_ohm(soil_ohm_m: float, rods: Rods) -> float:
    """Return what rods in a line read together, R/n·(1 + λ·ρ/(2πRs)). [Ω]

    Rods near one another share the same soil, so that two read more than half of one.
    """
    one_ohm = rod_ohm(soil_ohm_m, rods.length_m, rods.diameter_m)
    if rods.count == 1:
        return one_ohm
    share = soil_ohm_m / (2 * pi * one_ohm * rods.spacing_m)
    return one_ohm / rods.count * (1 + crowding_factor(rods.count) * share)


def dry_ohm(electrode_ohm: float, edition: Edition) -> float:
    """Return what an electrode may grow to in dry or frozen ground. [Ω]"""
    return electrode_ohm * edition.number("electrode.season_factor")


def largest_idn_a(electrode_ohm: float, edition: Edition) -> float:
    """Return the residual current that keeps the touch voltage to its limit (411.5.3). [A]"""
    return edition.number("touch_voltage_v") / electrode_ohm


def most_ohm(idn_a: float, edition: Edition) -> float:
    """Return the largest electrode for an RCD, no larger than what counts as stable. [Ω]"""
    by_touch_ohm = rcd_zs_max_ohm(edition.number("touch_voltage_v"), idn_a)
    return min(by_touch_ohm, edition.number("electrode.unstable_ohm"))


def rods_needed(soil_ohm_m: float, rod: Rods, limit_ohm: float) -> int | None:
    """Return how many such rods bring the reading to a limit; None beyond what is sensible."""
    for count in range(1, MOST_RODS + 1):
        tried = Rods(rod.length_m, rod.diameter_m, count, rod.spacing_m)
        if rods_ohm(soil_ohm_m, tried) <= limit_ohm:
            return count
    return None
