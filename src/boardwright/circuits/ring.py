"""What a healthy ring reads: end to end, and at each socket with its ends crossed."""

from __future__ import annotations

from boardwright.circuits.conductor import r20_ohm_per_m
from boardwright.standards.edition import Edition


def crossed_ohm(one_ohm: float, other_ohm: float, along_fraction: float) -> float:
    """Return what a socket reads between two conductors whose ends are crossed. [Ω]

    ``along_fraction`` is how far round the ring the socket lies. Line and neutral of one size
    read alike everywhere; a thinner protective conductor reads most in the middle.

    Examples
    --------
    >>> [round(crossed_ohm(0.5928, 0.9680, x), 4) for x in (0, 0.25, 0.5)]
    [0.3677, 0.3846, 0.3902]
    """
    spread_ohm2 = along_fraction * (1 - along_fraction) * (one_ohm - other_ohm) ** 2
    return (spread_ohm2 + one_ohm * other_ohm) / (one_ohm + other_ohm)


def uncrossed_ohm(one_ohm: float, along_fraction: float) -> float:
    """Return what a socket reads where the ends of one leg were joined instead of crossed. [Ω]

    Both conductors then run in parallel both ways: nothing at the board, a half in the middle.

    Examples
    --------
    >>> [round(uncrossed_ohm(0.5928, x), 4) for x in (0.1, 0.25, 0.5)]
    [0.1067, 0.2223, 0.2964]
    """
    return 2 * one_ohm * along_fraction * (1 - along_fraction)


def lead_offset_ohm(reading_ohm: float, one_ohm: float, other_ohm: float) -> float:
    """Return what leads not nulled would have to add, were they alone to blame. [Ω]

    The offset stands in both end-to-end readings and in the crossed one, of which they make a
    quarter of their sum.
    """
    return 2 * (reading_ohm - crossed_ohm(one_ohm, other_ohm, 0.5))


def length_of_m(edition: Edition, end_to_end_ohm: float, csa_mm2: float) -> float:
    """Return the length of ring that an end-to-end reading speaks of. [m]"""
    return end_to_end_ohm / r20_ohm_per_m(edition, csa_mm2)


def due_ratio(edition: Edition, line_mm2: float, cpc_mm2: float) -> float:
    """Return r2/r1 of a ring in one cable: 1.63 for 2.5/1.5 mm²."""
    return r20_ohm_per_m(edition, cpc_mm2) / r20_ohm_per_m(edition, line_mm2)
