"""An SPD with other leads than it has: longer, shorter, through its terminals, elsewhere."""

from __future__ import annotations

from dataclasses import replace

from boardwright.board.results import Arrangement, Placement, Role
from boardwright.spd.results import Candidate
from boardwright.surge.home import HomeSurge, SpdAsWired
from boardwright.wiring.results import SpdLeads

_SPD_ROLES = (Role.SPD, Role.SPD_BACKUP)


def with_spd(home: HomeSurge, spd: SpdAsWired | None) -> HomeSurge:
    """Return a home with another SPD at its board, or with none."""
    return replace(home, spd=spd)


def total_m(spd: SpdAsWired) -> float:
    """Return the leads together: the longer of line and neutral, and the earth. [m]"""
    return max(spd.lead_l_m, spd.lead_n_m) + spd.lead_pe_m


def of_total(spd: SpdAsWired, length_m: float) -> SpdAsWired:
    """Return an SPD whose leads are so long together, shared out as they are now."""
    now_m = total_m(spd)
    if now_m <= 0:
        half_m = length_m / 2
        return replace(spd, lead_l_m=half_m, lead_n_m=half_m, lead_pe_m=half_m)
    factor = length_m / now_m
    return replace(
        spd,
        lead_l_m=spd.lead_l_m * factor,
        lead_n_m=spd.lead_n_m * factor,
        lead_pe_m=spd.lead_pe_m * factor,
    )


def through(spd: SpdAsWired) -> SpdAsWired:
    """Return an SPD whose terminals the supply runs through: its earth lead alone is left."""
    return replace(spd, lead_l_m=0.0, lead_n_m=0.0)


def as_leads(spd: SpdAsWired, leads: SpdLeads) -> SpdAsWired:
    """Return an SPD with leads as another wiring gave them."""
    return replace(spd, lead_l_m=leads.line_m, lead_n_m=leads.neutral_m, lead_pe_m=leads.pe_m)


def at_far_end(arrangement: Arrangement) -> tuple[Arrangement, float]:
    """Return an arrangement with the SPD last on its rail, and how far that moved it. [m]

    What stood beyond it moves up towards the main switch in the order it had.
    """
    spd = next(p for p in arrangement.placements if p.item.role is Role.SPD)
    rail = sorted((p for p in arrangement.placements if p.rail == spd.rail), key=lambda p: p.module)
    moved = [p for p in rail if p.item.role in _SPD_ROLES]
    others = [p for p in rail if p not in moved]
    head = next((p for p in others if p.item.role is Role.MAIN_SWITCH), rail[0])
    # The far end is the one that the main switch does not stand at.
    from_left = not others or head.module <= others[len(others) // 2].module
    order = [*others, *moved] if from_left else [*moved, *others]
    new = _in_order(arrangement, order, rail[0])
    return new, abs(new.placement(spd.item.id).x_mm - spd.x_mm) / 1000


def with_device(arrangement: Arrangement, candidate: Candidate) -> Arrangement | None:
    """Return an arrangement with another SPD in the SPD's place and its back-up beside it.

    None where the rail has no room, or where a back-up would be needed that stands nowhere now.
    """
    spd = next(p for p in arrangement.placements if p.item.role is Role.SPD)
    rail = sorted((p for p in arrangement.placements if p.rail == spd.rail), key=lambda p: p.module)
    backup = candidate.backup.device
    if backup is not None and not any(p.item.role is Role.SPD_BACKUP for p in rail):
        return None
    devices = {Role.SPD: candidate.device, Role.SPD_BACKUP: backup}
    order = []
    for placement in rail:
        device = devices.get(placement.item.role, placement.item.device)
        if device is not None:
            order.append(replace(placement, item=replace(placement.item, device=device)))
    taken = sum(placement.item.device.modules for placement in order)
    room = arrangement.enclosure.rails[spd.rail].modules - rail[0].module
    return _in_order(arrangement, order, rail[0]) if taken <= room else None


def _in_order(arrangement: Arrangement, order: list[Placement], first: Placement) -> Arrangement:
    """Return an arrangement with one rail's devices side by side in an order."""
    placed, module = [], first.module
    for placement in order:
        placed.append(_at(placement, module, first))
        module += placement.item.device.modules
    rest = tuple(p for p in arrangement.placements if p.rail != first.rail)
    return replace(arrangement, placements=(*placed, *rest))


def _at(placement: Placement, module: int, first: Placement) -> Placement:
    x_mm = first.x_mm + (module - first.module) * _pitch_mm(placement)
    return replace(placement, module=module, x_mm=x_mm)


def _pitch_mm(placement: Placement) -> float:
    return placement.item.device.width_mm / placement.item.device.modules
