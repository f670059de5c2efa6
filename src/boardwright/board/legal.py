"""Judges an arrangement from its places in millimetres, with no knowledge of how it was found.

Written apart from the model of the search, so that an error in one shows in the other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from boardwright.board.results import Arrangement, Placement, Role
from boardwright.catalogue.devices import MODULE_MM

TOLERANCE_MM = 0.05
"""Below this two edges count as one. [mm] Rounding, not play."""

_TEETH = ("L1", "L2", "L3")


def faults(arrangement: Arrangement) -> tuple[str, ...]:
    """Return what is wrong with an arrangement, one sentence each; none when it is legal."""
    return (
        *_outside(arrangement),
        *_overlapping(arrangement),
        *_switch_end(arrangement),
        *_numbering(arrangement),
        *_spd_branch(arrangement),
        *_gaps(arrangement),
        *_sections(arrangement),
        *_incomer(arrangement),
        *_teeth(arrangement),
        *_moved(arrangement),
    )


def _right_mm(placement: Placement) -> float:
    return placement.x_mm + placement.item.device.width_mm


def _from_switch(arrangement: Arrangement) -> list[Placement]:
    """Return the devices in the order in which one passes them from the main switch's end.

    Rail after rail, each from the same side.
    """
    sign = -1 if arrangement.enclosure.hand == "right" else 1
    return sorted(arrangement.placements, key=lambda p: (p.rail, sign * p.x_mm))


def _passed_mm(arrangement: Arrangement, placement: Placement) -> float:
    """Return the length of a device's own rail that lies before it. [mm]"""
    rail = arrangement.enclosure.rails[placement.rail]
    if arrangement.enclosure.hand == "right":
        return rail.x_mm + rail.modules * MODULE_MM - _right_mm(placement)
    return placement.x_mm - rail.x_mm


def _outside(arrangement: Arrangement) -> Iterator[str]:
    for placement in arrangement.placements:
        rail = arrangement.enclosure.rails[placement.rail]
        end_mm = rail.x_mm + rail.modules * MODULE_MM
        inside = rail.x_mm - TOLERANCE_MM <= placement.x_mm
        if not inside or _right_mm(placement) > end_mm + TOLERANCE_MM:
            yield f"{placement.item.id} stands beyond the end of the rail"
        steps = (placement.x_mm - rail.x_mm) / MODULE_MM
        if abs(steps - placement.module) * MODULE_MM > TOLERANCE_MM:
            yield f"{placement.item.id} does not stand at its module {placement.module}"
        if abs(placement.y_mm - rail.y_mm) > TOLERANCE_MM:
            yield f"{placement.item.id} does not stand on its rail"


def _overlapping(arrangement: Arrangement) -> Iterator[str]:
    ids = [placement.item.id for placement in arrangement.placements]
    for doubled in sorted({one for one in ids if ids.count(one) > 1}):
        yield f"{doubled} stands on the rail more than once"
    in_order = sorted(arrangement.placements, key=lambda p: (p.rail, p.x_mm))
    for left, right in pairwise(in_order):
        if left.rail == right.rail and _right_mm(left) > right.x_mm + TOLERANCE_MM:
            yield f"{left.item.id} and {right.item.id} overlap"


def _switch_end(arrangement: Arrangement) -> Iterator[str]:
    for placement in arrangement.placements:
        if placement.item.role is Role.MAIN_SWITCH:
            if abs(_passed_mm(arrangement, placement)) > TOLERANCE_MM:
                yield f"the main switch does not stand at the {arrangement.enclosure.hand} end"
            if placement.rail != 0:
                yield "the main switch does not stand on the first rail"


def _numbering(arrangement: Arrangement) -> Iterator[str]:
    """Ways count up from the main switch's neighbour, rail after rail, free ones too."""
    in_order = _from_switch(arrangement)
    rails = arrangement.enclosure.rails
    switch_mm = sum(p.item.device.width_mm for p in in_order if p.item.role is Role.MAIN_SWITCH)
    for placement in in_order:
        before_mm = sum(rail.modules for rail in rails[: placement.rail]) * MODULE_MM
        passed_mm = before_mm + _passed_mm(arrangement, placement)
        is_switch = placement.item.role is Role.MAIN_SWITCH
        way = 0 if is_switch else round((passed_mm - switch_mm) / MODULE_MM) + 1
        if placement.way != way:
            yield f"{placement.item.id} is numbered way {placement.way}, stands on way {way}"


def _spd_branch(arrangement: Arrangement) -> Iterator[str]:
    roles = [placement.item.role for placement in _from_switch(arrangement)]
    if Role.SPD_BACKUP in roles and Role.SPD in roles:
        in_order = _from_switch(arrangement)
        at = roles.index(Role.SPD_BACKUP)
        if roles[at + 1 : at + 2] != [Role.SPD] or not _touch(in_order[at], in_order[at + 1]):
            yield "the SPD does not stand beside its back-up, on the side away from the main switch"


def _touch(one: Placement, other: Placement) -> bool:
    left, right = sorted((one, other), key=lambda p: p.x_mm)
    return one.rail == other.rail and abs(_right_mm(left) - right.x_mm) < TOLERANCE_MM


def _gaps(arrangement: Arrangement) -> Iterator[str]:
    """Where the board is new and its busbar single-phase, only the far end may stay free."""
    in_order = _from_switch(arrangement)
    fixed = any(placement.item.fixed_module is not None for placement in in_order)
    if fixed or _is_comb(arrangement):
        return
    for one, other in pairwise(in_order):
        if one.rail == other.rail and not _touch(one, other):
            yield f"a free place between {one.item.id} and {other.item.id}"
    firsts = {placement.rail: placement for placement in reversed(in_order)}
    for first in firsts.values():
        if _passed_mm(arrangement, first) > TOLERANCE_MM:
            yield f"a free place ahead of {first.item.id}"


def _sections(arrangement: Arrangement) -> Iterator[str]:
    placed = _from_switch(arrangement)
    in_order = [p.item for p in placed]
    rcds = {item.section: k for k, item in enumerate(in_order) if item.role is Role.SECTION_RCD}
    for section, at in rcds.items():
        own = [k for k, i in enumerate(in_order) if i.section == section and k != at]
        if own != list(range(at + 1, at + 1 + len(own))):
            yield f"section {section} is not one run of ways behind its RCD"
        if {placed[k].rail for k in own} - {placed[at].rail}:
            yield f"section {section} is parted over two rails"
    for at in rcds.values():
        for placement in placed[at:]:
            if placement.rail == placed[at].rail and not placement.item.section:
                yield (
                    f"{placement.item.id} belongs to no section and stands behind a section's RCD"
                )


def _incomer(arrangement: Arrangement) -> Iterator[str]:
    """Ask that the main switch and the SPD's branch, and nothing else, stand ahead of that RCD."""
    roles = [placement.item.role for placement in _from_switch(arrangement)]
    if Role.INCOMER_RCD in roles:
        ahead: Sequence[Role] = roles[: roles.index(Role.INCOMER_RCD)]
        if not {*ahead} <= {Role.MAIN_SWITCH, Role.SPD_BACKUP, Role.SPD}:
            yield "a circuit stands ahead of the RCD for all circuits"
        behind = roles[roles.index(Role.INCOMER_RCD) :]
        if {*behind} & {Role.SPD_BACKUP, Role.SPD}:
            yield "the SPD stands behind the RCD for all circuits"
        if any(p.rail for p in arrangement.placements if p.item.role is Role.INCOMER_RCD):
            yield "the RCD for all circuits does not stand on the main switch's rail"


def _is_comb(arrangement: Arrangement) -> bool:
    return any(busbar.phases == 3 for busbar in arrangement.enclosure.busbars)  # noqa: PLR2004


def _teeth(arrangement: Arrangement) -> Iterator[str]:
    """Each busbar terminal stands over a tooth of its own phase."""
    if not _is_comb(arrangement):
        return
    for placement in arrangement.placements:
        if placement.item.role not in {Role.CIRCUIT, Role.SPD_BACKUP}:
            continue
        for terminal in placement.item.device.terminals:
            phase = placement.item.phase if terminal.conductor == "L" else terminal.conductor
            if terminal.busbar and phase in _TEETH:
                begin_mm = _comb_begin_mm(arrangement, placement.rail)
                over_mm = placement.x_mm + terminal.offset_mm - begin_mm
                tooth = _TEETH[int(over_mm / MODULE_MM) % 3]
                if tooth != phase:
                    yield f"{placement.item.id}: its {phase} stands over the tooth of {tooth}"


def _comb_begin_mm(arrangement: Arrangement, rail: int) -> float:
    """Return where a rail's comb begins: right of a main switch on its left, else at its end."""
    left_mm = arrangement.enclosure.rails[rail].x_mm
    if arrangement.enclosure.hand != "left":
        return left_mm
    switches = [
        _right_mm(p)
        for p in arrangement.placements
        if p.item.role is Role.MAIN_SWITCH and p.rail == rail
    ]
    return max(switches, default=left_mm)


def _moved(arrangement: Arrangement) -> Iterator[str]:
    for placement in arrangement.placements:
        fixed = placement.item.fixed_module
        if fixed is not None and (placement.rail, placement.module) != (
            placement.item.fixed_rail,
            fixed,
        ):
            yield f"{placement.item.id} was moved from module {fixed} to {placement.module}"
