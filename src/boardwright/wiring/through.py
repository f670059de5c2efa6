"""V wiring: the supply runs in and out of the SPD's own terminals.

A lead carries the surge in parallel with the installation only where the supply's conductor does
not pass the SPD's terminal. With V wiring the line and the neutral have no such part at all.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.results import Item, Role
from boardwright.catalogue.devices import Terminal
from boardwright.job.job import Job
from boardwright.wiring.layout import Layout, terminals
from boardwright.wiring.results import SpdLeads

NO_TERMINALS = "the SPD has no through terminals for each live conductor"


def why_not_through(layout: Layout, job: Job, tails_mm2: float) -> str:
    """Return why the supply cannot run through the SPD's terminals here, or nothing.

    Only where the SPD hangs in a box on the supply: in a board its place behind the main switch
    would put the whole board's current through it, and no maker of the catalogue allows that.
    """
    return next(_hindrances(layout, job, tails_mm2), "")


def _hindrances(layout: Layout, job: Job, tails_mm2: float) -> Iterator[str]:
    item = layout.of_role(Role.SPD)
    data = item.device.spd if item else None
    if item is None or data is None or not layout.separate:
        yield "the SPD does not hang in a box on the supply"
        return
    lives = pairs(item)
    if len(lives) < job.supply.phases + 1 or data.through_current_a <= 0:
        yield NO_TERMINALS
    if layout.of_role(Role.SPD_BACKUP) is not None:
        yield "its back-up would have to carry the supply"
    fuse_a = job.supply.submain.fuse_a if job.supply.submain else job.supply.cutout_fuse_a
    if fuse_a is None:
        yield "the fuse ahead is not known"
    elif fuse_a > data.through_current_a:
        yield f"its terminals carry {data.through_current_a:g} A, the fuse ahead is {fuse_a:g} A"
    if any(terminal.capacity_mm2 < tails_mm2 for pair in lives for terminal in pair):
        yield f"its terminals do not take {tails_mm2:g} mm²"


def pairs(item: Item) -> tuple[tuple[Terminal, Terminal], ...]:
    """Return the pairs of terminals, joined inside, for each live conductor: in and out."""
    found = []
    for way_in in (t for t in terminals(item, "line") if not t.through):
        same = (t for t in terminals(item, "line") if t.conductor == way_in.conductor)
        out = next((t for t in same if t.through), None)
        if out is not None:
            found.append((way_in, out))
    return tuple(found)


def clears(before: SpdLeads, after: SpdLeads, limits_m: tuple[float, float]) -> bool:
    """Tell whether V wiring brings the leads within a limit that they would else exceed."""
    return _beyond(after, limits_m) < _beyond(before, limits_m)


def _beyond(leads: SpdLeads, limits_m: tuple[float, float]) -> int:
    return sum(leads.total_m > limit_m for limit_m in limits_m)
