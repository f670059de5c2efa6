"""Checks on what has no overload protection of its own: RCCBs and the main switch (536.4.202)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import inf

from boardwright.board.results import BoardPlan, Role, Scheme
from boardwright.catalogue.devices import DeviceType
from boardwright.circuits.division import fuse_ahead_a
from boardwright.circuits.results import Section
from boardwright.core.findings import Finding
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point
from boardwright.verification.work import section_device


@check
def rccb_not_overloaded(facts: Facts) -> Iterator[Finding]:
    """Find what covers an RCCB: the fuse ahead, or the sum of the devices below (536.4.202)."""
    if facts.board is not None and facts.board.scheme is not Scheme.NEW_BOARD:
        return  # The sections are those of a new board: none is fitted where the old one stays.
    for section in facts.plan.sections:
        device = section_device(facts, section)
        rating_a = section.rcd_in_a if device is None else device.in_a
        if rating_a is not None and not waits_for_fuse(facts, section):
            yield _section(facts, section, rating_a)


def waits_for_fuse(facts: Facts, section: Section) -> bool:
    """Tell whether only the fuse ahead, which is not known, can cover a section's RCCB."""
    device = section_device(facts, section)
    rating_a = section.rcd_in_a if device is None else device.in_a
    if rating_a is None or upstream_a(facts) is not None:
        return False
    return sum(facts.plan.circuit(circuit_id).in_a for circuit_id in section.circuit_ids) > rating_a


def _section(facts: Facts, section: Section, rating_a: float) -> Finding:
    sum_a = sum(facts.plan.circuit(circuit_id).in_a for circuit_id in section.circuit_ids)
    name = f"RCD {section.id.removeprefix('rcd-').upper()}"
    rule = facts.edition.rule("assembly.overload")
    fuse_a = upstream_a(facts)
    point = Point("rcd.overload", name, section.id, rule, sum_a, rating_a, "A")
    below = f"the devices below it add up to {sum_a:g} A"
    if sum_a <= rating_a:
        return point.passed(f"{rating_a:g} A; {below}.")
    if fuse_a is not None and fuse_a <= rating_a:
        covered = f"{rating_a:g} A, covered by the fuse of {fuse_a:g} A ahead of it."
        return replace(point, value=fuse_a).passed(covered)
    return point.failed(
        f"{rating_a:g} A: {below}, and the fuse ahead is {fuse_a:g} A; diversity alone does not "
        "protect it.",
        f"Take an RCCB of {fuse_a:g} A, RCBOs on every way, or fewer circuits behind it; or ask "
        f"for a fuse of {rating_a:g} A at most.",
    )


def upstream_a(facts: Facts) -> float | None:
    """Return the rating of the fuse just ahead of the board. [A]"""
    return fuse_ahead_a(facts.job)


@check
def main_switch_not_overloaded(facts: Facts) -> Iterator[Finding]:
    """Hold main switch and assembly against the fuse ahead, or the devices below (536.4.202)."""
    rating_a, fuse_a = _assembly_a(facts), upstream_a(facts)
    if facts.board is None or rating_a is None:
        return
    below_a = _outgoing_a(facts.board)
    rule = facts.edition.rule("demand.main_switch")
    point = Point("demand.main_switch", "Main switch", "main-switch", rule, fuse_a, rating_a, "A")
    if fuse_a is not None and fuse_a <= rating_a:
        yield point.passed(f"Rated {rating_a:g} A behind a fuse of {fuse_a:g} A.")
    elif below_a <= rating_a:
        yield replace(point, value=below_a).passed(
            f"Rated {rating_a:g} A; the devices below it add up to {below_a:g} A."
        )
    elif fuse_a is not None:
        yield point.failed(
            f"Rated {rating_a:g} A behind a fuse of {fuse_a:g} A; the devices below add up to "
            f"{below_a:g} A.",
            "Choose an assembly of the fuse's rating, or ask for a smaller fuse.",
        )


def main_switch_waits_for_fuse(facts: Facts) -> bool:
    """Tell whether only the fuse ahead, which is not known, can cover the main switch."""
    rating_a = _assembly_a(facts)
    if facts.board is None or rating_a is None or upstream_a(facts) is not None:
        return False
    return _outgoing_a(facts.board) > rating_a


def _assembly_a(facts: Facts) -> float | None:
    """Return the lesser of main switch and assembly, None where there is none. [A]"""
    switch = _main_switch(facts)
    if facts.board is None or switch is None or switch.in_a is None:
        return None
    return min(switch.in_a, facts.board.enclosure.ina_a)


def _outgoing_a(board: BoardPlan) -> float:
    """Add up the ratings of the outgoing devices of the fullest phase. [A]"""
    ways = [item for item in board.items if item.role in {Role.CIRCUIT, Role.AS_FOUND}]
    phases = {item.phase for item in ways if item.phase} or {""}
    # A device without a rating, as one found and not read, leaves the sum open.
    return max(
        sum(
            inf if item.device.in_a is None else item.device.in_a
            for item in ways
            if item.phase in {"", phase}
        )
        for phase in phases
    )


def _main_switch(facts: Facts) -> DeviceType | None:
    if facts.board is None:
        return None
    return next((i.device for i in facts.board.items if i.role is Role.MAIN_SWITCH), None)
