"""Least conductors to an SPD: the standard's, its maker's, and the trade's inside the enclosure."""

from __future__ import annotations

from boardwright.catalogue.devices import SpdData
from boardwright.spd.results import Backup
from boardwright.standards.edition import Edition


def least_line_mm2(spd: SpdData, backup: Backup, edition: Edition) -> float:
    """Return the least copper of the SPD's line and neutral connections. [mm²]

    References
    ----------
    BS 7671, 534.4.10; behind a back-up of its own, common practice.
    """
    least_mm2 = max(edition.number(f"spd.csa_{_class(spd)}_line_mm2"), spd.csa_line_mm2)
    if backup.rating_a is None:
        return least_mm2
    return max(least_mm2, _practice_mm2(backup.rating_a, edition))


def least_pe_mm2(spd: SpdData, edition: Edition) -> float:
    """Return the least copper from the SPD to the earth bar (BS 7671, 534.4.10). [mm²]"""
    return max(edition.number(f"spd.csa_{_class(spd)}_pe_mm2"), spd.csa_pe_mm2)


def _class(spd: SpdData) -> str:
    return "t1" if "T1" in spd.types else "t2"


def _practice_mm2(rating_a: float, edition: Edition) -> float:
    """Return the size that is usual behind a back-up of that rating."""
    table = edition.table("spd.own_line_mm2")
    sizes = sorted((float(row), row) for row in table.rows)
    row = next((row for size_a, row in sizes if size_a >= rating_a), sizes[-1][1])
    return table.cell(row, "line_mm2") or 0.0
