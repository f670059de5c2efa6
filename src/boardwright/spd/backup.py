"""What protects the SPD's branch when the SPD itself fails, and what a fuse ahead carries."""

from __future__ import annotations

from math import sqrt

from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import SpdData
from boardwright.spd.results import Backup, BackupKind
from boardwright.standards.edition import Edition


def choose_backup(
    spd: SpdData, family: str, cutout_fuse_a: float | None, catalogue: Catalogue
) -> Backup:
    """Return the back-up that the SPD's maker accepts.

    A tested MCB of its own goes first: with the cut-out as the only back-up, an SPD that fails
    short takes the whole home off supply, and only the network operator may put it back.
    """
    if spd.backup_internal:
        return Backup(BackupKind.INTERNAL, None, None, "Its maker built the back-up in.")
    tested = catalogue.devices.get(spd.backup_mcb)
    if tested is not None and family in tested.permitted_families:
        reason = f"{tested.name}, tested with it by its maker: if the SPD fails, the home stays on."
        return Backup(BackupKind.MCB, tested.in_a, tested, reason)
    if cutout_fuse_a is None:
        reason = (
            f"The cut-out fuse is not known; its maker accepts up to {spd.backup_max_gg_a:g} A."
        )
        return Backup(BackupKind.CUTOUT, None, None, reason)
    if cutout_fuse_a <= spd.backup_max_gg_a:
        reason = (
            f"Cut-out {cutout_fuse_a:g} A, within the {spd.backup_max_gg_a:g} A gG of its maker; "
            f"if the SPD fails short, the whole home goes off."
        )
        return Backup(BackupKind.CUTOUT, cutout_fuse_a, None, reason)
    reason = (
        f"The cut-out of {cutout_fuse_a:g} A is above the {spd.backup_max_gg_a:g} A gG that its "
        f"maker accepts, and no breaker tested with it may stand in this enclosure."
    )
    return Backup(BackupKind.NONE, None, None, reason)


def fuse_withstand_a(prearcing_a2s: float, shape_s: float) -> float:
    """Return the crest of the surge that just melts a fuse. [A]

    Parameters
    ----------
    prearcing_a2s
        Pre-arcing I²t of the fuse. [A²s]
    shape_s
        Integral of the squared current of the waveform of unit crest. [s]

    References
    ----------
    IEC 61643-12, from memory.

    Examples
    --------
    >>> round(fuse_withstand_a(prearcing_a2s=9_000, shape_s=14.01e-6) / 1000, 2)
    25.35
    """
    return sqrt(prearcing_a2s / shape_s)


def prearcing_needed_a2s(crest_a: float, shape_s: float) -> float:
    """Return the pre-arcing I²t that a fuse needs to carry a surge unharmed. [A²s]"""
    return crest_a**2 * shape_s


def withstand_bound_a(fuse_a: float, shape_s: float, edition: Edition) -> float | None:
    """Return an upper bound of the surge that a gG fuse carries, or None beyond the table. [A]

    It overrates the fuse, see the edition's note; a size between two rows takes the larger, so
    that it stays a bound. ``shape_s`` as in :func:`fuse_withstand_a`.
    """
    table = edition.table("fuse.gg_prearcing_min")
    sizes = sorted((float(row), row) for row in table.rows)
    row = next((row for size_a, row in sizes if size_a >= fuse_a), None)
    prearcing_a2s = table.cell(row, "i2t_a2s") if row else None
    if prearcing_a2s is None:
        return None
    return fuse_withstand_a(prearcing_a2s, shape_s)
