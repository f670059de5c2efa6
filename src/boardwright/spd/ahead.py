"""What stands between the network and an SPD: its own back-up, and the fuses of the home."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.job.job import Job
from boardwright.spd.results import Backup, BackupKind
from boardwright.spd.withstand import Ahead

CUTOUT = "Cut-out fuse"
SUBMAIN = "Distribution circuit fuse"


def own_ahead(backup: Backup) -> Ahead | None:
    """Return the device that protects the SPD alone, or None where the home's fuse has to."""
    if backup.kind is BackupKind.INTERNAL:
        return Ahead("spd", "Built-in fuse of the SPD", backup.rating_a, own=True)
    if backup.device is None:
        return None
    return Ahead("spd", backup.device.name, backup.rating_a, mcb=backup.device.id, own=True)


def shared_ahead(job: Job) -> tuple[Ahead, ...]:
    """Return what feeds the whole home or board and carries the SPD's surge as well.

    A rating that was not read leaves its device out: that it is missing, another check says.
    """
    return tuple(_shared(job))


def _shared(job: Job) -> Iterator[Ahead]:
    supply, submain = job.supply, job.supply.submain
    if supply.cutout_fuse_a is not None:
        name = _named(CUTOUT, supply.cutout_fuse_a)
        yield Ahead(
            "supply",
            name,
            supply.cutout_fuse_a,
            supply.cutout_fuse_standard,
            put_back="only the network operator or supplier may put it back",
        )
    if submain is not None:
        breaker = submain.fuse_standard.startswith("MCB")
        name = "Distribution circuit breaker" if breaker else SUBMAIN
        standard = "" if breaker else submain.fuse_standard
        yield Ahead(
            submain.id,
            _named(name, submain.fuse_a),
            submain.fuse_a,
            standard,
            put_back="whoever has access to the intake puts it back",
        )


def _named(name: str, in_a: float) -> str:
    return f"{name} {in_a:g} A"
