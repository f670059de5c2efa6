"""What protects the SPD's branch when the SPD itself fails."""

from __future__ import annotations

from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import SpdData
from boardwright.spd.results import Backup, BackupKind


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
