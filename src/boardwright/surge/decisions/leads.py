"""An SPD with other leads than it has: longer, shorter, through its terminals, elsewhere."""

from __future__ import annotations

from dataclasses import replace

from boardwright.board.results import Arrangement, Placement, Role
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
    placed, module = [], rail[0].module
    for placement in order:
        placed.append(_at(placement, module, rail[0]))
        module += placement.item.device.modules
    rest = tuple(p for p in arrangement.placements if p.rail != spd.rail)
    new = replace(arrangement, placements=(*placed, *rest))
    return new, abs(new.placement(spd.item.id).x_mm - spd.x_mm) / 1000


def _at(placement: Placement, module: int, first: Placement) -> Placement:
    x_mm = first.x_mm + (module - first.module) * _pitch_mm(placement)
    return replace(placement, module=module, x_mm=x_mm)


def _pitch_mm(placement: Placement) -> float:
    return placement.item.device.width_mm / placement.item.device.modules
