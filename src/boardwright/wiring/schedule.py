"""The conductors with their sizes, paths and lengths, in the order of work."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from boardwright.board.results import TERMINAL_RISE_MM, Role
from boardwright.catalogue.devices import MODULE_MM
from boardwright.job.job import Job
from boardwright.wiring.geometry import FRONT_MM, path_length_mm
from boardwright.wiring.joint import COLOURS, Joint
from boardwright.wiring.labels import label
from boardwright.wiring.layout import Layout
from boardwright.wiring.places import Places, Spot
from boardwright.wiring.practice import figure
from boardwright.wiring.results import Conductor, End, Origin, Point, SpdLeads
from boardwright.wiring.routes import Course, route

_PHASE_MM = {"L1": 2.2, "L2": 0.0, "L3": -2.2}


def schedule(layout: Layout, joints: tuple[Joint, ...], job: Job) -> tuple[Conductor, ...]:
    """Return the conductors of all joints, in the joints' order."""
    places = Places(layout, joints)
    spots = {j.id: _spots(places, j) for j in joints}
    courses = [
        Course(
            j.id, begin.anchor, end.anchor, j.csa_mm2,
            core=j.begin.startswith("cable-"), fan_x_mm=places.fan_x_mm(j, end),
        )
        for j in joints
        if not j.teeth
        for begin, end in [spots[j.id]]
    ]  # fmt: skip
    paths = route(layout.arrangement, courses)
    return tuple(
        _conductor(j, spots[j.id], paths.get(j.id) or _comb_path(layout, places, j), job)
        for j in joints
    )


def _spots(places: Places, joint: Joint) -> tuple[Spot, Spot]:
    return (
        places.spot(joint.begin, joint.end, joint),
        places.spot(joint.end, joint.begin, joint),
    )


def _comb_path(layout: Layout, places: Places, joint: Joint) -> tuple[Point, ...]:
    """Return the way of a busbar, from the tooth that feeds it to its far end."""
    begin, end = (places.spot(name, "", joint) for name in (joint.begin, joint.end))
    placed = [spot.placement for spot in (begin, end) if spot.placement]
    rail = placed[0].rail
    drops_mm = [b.below_rail_mm for b in layout.arrangement.enclosure.busbars if b.rail == rail]
    # The phases of a comb lie one behind the other; apart, so that each can be seen.
    y_mm = placed[0].y_mm - drops_mm[0] + _PHASE_MM.get(joint.function, 0.0)
    # A device alone on its rail has a comb too, cut to one module.
    alone_mm = MODULE_MM if joint.begin == joint.end else 0.0
    ends_mm = (begin.anchor.x_mm, end.anchor.x_mm + alone_mm)
    return tuple((x_mm, y_mm, FRONT_MM) for x_mm in ends_mm)


def _conductor(
    joint: Joint, spots: tuple[Spot, Spot], path: tuple[Point, ...], job: Job
) -> Conductor:
    begin, end = (_end(spot, job) for spot in spots)
    route_mm = path_length_mm(path, joint.csa_mm2)
    return Conductor(
        id=joint.id,
        begin=begin,
        end=end,
        function=joint.function,
        csa_mm2=joint.csa_mm2,
        colour=joint.colour or COLOURS[joint.function],
        origin=joint.origin,
        path=path,
        route_mm=route_mm,
        length_mm=route_mm + outside_mm(joint, job) + _ends_mm(joint, begin, end),
        group=joint.group,
        teeth=joint.teeth,
    )


def _end(spot: Spot, job: Job) -> End:
    part = spot.terminal or spot.bar
    return End(
        terminal=spot.name,
        label=label(spot, job),
        torque_nm=part.torque_nm if part else None,
        strip_mm=part.strip_mm if part else None,
    )


def _ends_mm(joint: Joint, begin: End, end: End) -> float:
    """Return what the terminations add to a cut length. [mm]"""
    if joint.origin is Origin.BUSBAR:
        return 0.0
    strips_mm = (begin.strip_mm or 0.0) + (end.strip_mm or 0.0)
    if joint.origin is Origin.FLYING:
        return end.strip_mm or 0.0
    if joint.begin.startswith("cable-"):
        return strips_mm
    large = joint.csa_mm2 >= figure("cut", "large_from_mm2")
    return strips_mm + figure("cut", "allowance_large_mm" if large else "allowance_mm")


def outside_mm(joint: Joint, job: Job) -> float:
    """Return the length of a conductor outside the enclosure, 0 where not surveyed. [mm]"""
    place = joint.begin.partition(".")[0]
    submain = job.supply.submain
    if "board" in (place, joint.end.partition(".")[0]):
        return 1000 * box_lead_m(job)
    if place == "meter":
        return 1000 * ((submain.length_m if submain else job.supply.tails.length_m) or 0.0)
    if place == "met":
        return 1000 * ((submain.length_m if submain else job.earthing.conductor_length_m) or 0.0)
    return 0.0


def box_lead_m(job: Job) -> float:
    """Return the way of a lead from the board as found to a box beside it. [m]"""
    return job.wishes.separate_box_lead_m or figure("defaults", "box_lead_m")


def spd_leads(
    layout: Layout, joints: tuple[Joint, ...], conductors: Sequence[Conductor], job: Job
) -> SpdLeads | None:
    """Return the SPD's leads as the standard counts them, from screw to screw. [m]

    Line tap to back-up to SPD, neutral bar to SPD, SPD to earth bar: the branch alone. The
    tap is where the busbar's tooth leaves the comb, or the cable's begin at the main switch.
    """
    if layout.of_role(Role.SPD) is None:
        return None
    places = Places(layout, joints)
    counted_mm: dict[str, float] = {"L": 0.0, "N": 0.0, "PE": 0.0}
    by_id = {c.id: c for c in conductors}
    for joint in (j for j in joints if j.id.startswith("spd-")):
        length_mm = by_id[joint.id].route_mm + _screws_mm(places, joint) + outside_mm(joint, job)
        kind = joint.function if joint.function in ("N", "PE") else joint.id
        counted_mm[kind] = counted_mm.get(kind, 0.0) + length_mm
    v_wired = any(j.id.endswith("-board") for j in joints)
    backup_mm = _backup_mm(layout)
    # With V wiring nothing of line and neutral is in parallel: the supply passes the terminal.
    line_mm = 0.0 if v_wired else _line_mm(layout, counted_mm) + backup_mm
    return SpdLeads(
        line_m=line_mm / 1000,
        neutral_m=counted_mm["N"] / 1000,
        pe_m=counted_mm["PE"] / 1000,
        v_wired=v_wired,
        backup_m=backup_mm / 1000,
        assumed=layout.separate and job.wishes.separate_box_lead_m is None,
    )


def _line_mm(layout: Layout, counted_mm: dict[str, float]) -> float:
    """Return the longest of the phases' lines, tap and lead together; a tooth has neither. [mm]"""
    lines = ("l", "l1", "l2", "l3")
    sums_mm = [
        counted_mm.get(f"spd-{line}", 0.0) + counted_mm.get(f"spd-tap-{line}", 0.0)
        for line in lines
    ]
    longest_mm = max(sums_mm)
    return longest_mm or _tooth_mm(layout)


def _screws_mm(places: Places, joint: Joint) -> float:
    """Return the way inside both terminals, from the part's edge to the screw. [mm]"""
    return sum(spot.anchor.screw_mm for spot in _spots(places, joint))


def _tooth_mm(layout: Layout) -> float:
    """Return the way from a comb to the screw above it. [mm]"""
    drops_mm = [b.below_rail_mm for b in layout.arrangement.enclosure.busbars]
    return drops_mm[0] - TERMINAL_RISE_MM if drops_mm else 0.0


def _backup_mm(layout: Layout) -> float:
    """Return the way through the back-up device, its tooth included. [mm]"""
    backup = layout.of_role(Role.SPD_BACKUP)
    if backup is None:
        return 0.0
    toothed = any(t.busbar for t in backup.device.terminals)
    tooth_mm = _tooth_mm(layout) if toothed and not layout.separate else 0.0
    return 2 * TERMINAL_RISE_MM + tooth_mm


def numbered(conductors: Sequence[Conductor], steps: dict[str, int]) -> tuple[Conductor, ...]:
    """Return the conductors with the number of the step that makes each."""
    return tuple(replace(c, step=steps.get(c.id, 0)) for c in conductors)
