"""Checks at the origin: electrode, tails, fault rating, demand against the fuse."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from boardwright.catalogue.devices import Kind
from boardwright.circuits.capacity import capacity_table
from boardwright.circuits.fault import rcd_zs_max_ohm
from boardwright.circuits.lookup import row_up_to
from boardwright.core.findings import Finding
from boardwright.gate.say import least_mm2
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.rcd_overload import (
    main_switch_waits_for_fuse,
    upstream_a,
    waits_for_fuse,
)
from boardwright.verification.say import Point, joined
from boardwright.verification.work import circuits_of_work, incomer_rcd, keeps_board, rcd_of

_LESS_LOAD = "Limit a load automatically, or ask the network operator for more"
_BREAKERS = (Kind.MCB, Kind.RCBO, Kind.AFDD)


@check
def electrode(facts: Facts) -> Iterator[Finding]:
    """Ask of a TT electrode that the RCD keeps the touch voltage under 50 V (411.5.3).

    That it was not read, or may not stay as it is, the gate says.
    """
    electrode_ohm = facts.job.earthing.electrode_ohm
    if facts.job.supply.system != "TT" or electrode_ohm is None:
        return
    edition, idn_a = facts.edition, _largest_idn_a(facts)
    most_ohm = rcd_zs_max_ohm(edition.number("touch_voltage_v"), idn_a)
    rule = edition.rule("zs.rcd")
    point = Point("supply.electrode", "Electrode", "electrode", rule, electrode_ohm, most_ohm, "Ω")
    season_factor = edition.number("electrode.season_factor")
    dry_ohm = season_factor * electrode_ohm
    shown = f"RA {electrode_ohm:g} Ω, {most_ohm:.0f} Ω being allowed for {idn_a * 1000:g} mA"
    if electrode_ohm > most_ohm:
        yield point.failed(
            f"RA {electrode_ohm:g} Ω, over {most_ohm:.0f} Ω for an RCD of {idn_a * 1000:g} mA.",
            "Drive a deeper or a second rod.",
        )
    elif dry_ohm > most_ohm:
        season = edition.rule("electrode.season_factor")
        yield replace(point, rule=joined(rule, season), value=dry_ohm).advised(
            f"{shown}; in dry or frozen ground it may grow {season_factor:g} times, to "
            f"{dry_ohm:g} Ω, and not do.",
            "Drive a deeper or a second rod, or read it again in a dry season.",
        )
    else:
        yield point.passed(f"{shown}; {season_factor:g} times as much in a dry season still does.")


def _largest_idn_a(facts: Facts) -> float:
    incomer = incomer_rcd(facts)
    if incomer is not None and incomer.idn_a is not None:
        return incomer.idn_a
    residual = [rcd_of(facts, result)[1] for _, result in circuits_of_work(facts)]
    if keeps_board(facts) and facts.job.existing_board is not None:
        residual += [device.idn_a for device in facts.job.existing_board.devices]
    least_a = facts.edition.number("rcd.additional_idn_a")
    return max((idn_a for idn_a in residual if idn_a), default=least_a)


@check
def tails_carry_the_fuse(facts: Facts) -> Iterator[Finding]:
    """Ask of the tails that they carry what the cut-out fuse lets pass (433.1.1).

    What was not read, and tails under the distributor's size, the gate says.
    """
    supply, edition = facts.job.supply, facts.edition
    csa_mm2, fuse_a = supply.tails.csa_mm2, supply.cutout_fuse_a
    asked_mm2 = least_mm2(edition.table("tails_mm2"), fuse_a)
    if csa_mm2 is None or fuse_a is None or csa_mm2 < (asked_mm2 or 0):
        return
    table = capacity_table(edition, "singles", supply.phases)
    row = row_up_to(table, csa_mm2)
    rule = joined(edition.rule("overload"), edition.cell_rule(table.key, row, "C"))
    iz_a = table.rows[row]["C"]
    point = Point("supply.tails", "Tails", "tails", rule, fuse_a, iz_a, "A")
    shown = f"{csa_mm2:g} mm² carries {iz_a:g} A clipped direct; the fuse is {fuse_a:g} A"
    if fuse_a <= iz_a:
        yield point.passed(f"{shown}.")
    else:
        yield point.failed(f"{shown}.", "Renew the tails, or ask for a smaller fuse.")


@check
def fuse_known(facts: Facts) -> Iterator[Finding]:
    """Name all that waits for the rating of the fuse ahead, once."""
    if upstream_a(facts) is not None:
        return
    waiting = ["the demand"]
    if main_switch_waits_for_fuse(facts):
        waiting.append("the main switch")
    waiting += [
        f"RCD {section.id.removeprefix('rcd-').upper()}"
        for section in facts.plan.sections
        if waits_for_fuse(facts, section)
    ]
    point = Point("supply.fuse", "Fuse ahead", "supply", facts.edition.rule("assembly.overload"))
    yield point.unknown(
        f"Its rating is not known, and decides: {', '.join(waiting)}.",
        "Read the rating on the cut-out's carrier.",
    )


@check
def demand_against_fuse(facts: Facts) -> Iterator[Finding]:
    """Set the demand beside the fuse (311.1): allowances are guidance, what was logged is not."""
    demand, fuse_a = facts.plan.demand, upstream_a(facts)
    rule = facts.edition.rule("demand.guidance") if demand.logged else demand.rule
    point = Point("demand.fuse", "Demand", "demand", rule, demand.total_a, fuse_a, "A")
    how = (
        f"logged ({facts.job.demand_logged_source})"
        if demand.logged and facts.job.demand_logged_source
        else "logged"
        if demand.logged
        else "by the household allowances"
    )
    shown = f"{demand.total_a:.1f} A {how}"
    if fuse_a is None:
        return
    if demand.total_a <= fuse_a:
        yield point.passed(f"{shown}, behind a fuse of {fuse_a:g} A.")
    elif demand.logged:
        yield point.failed(f"{shown}, over the fuse of {fuse_a:g} A.", f"{_LESS_LOAD}.")
    elif demand.total_a > fuse_a * facts.edition.number("demand.fuse_holds_factor"):
        yield point.failed(
            f"{shown}: the fuse of {fuse_a:g} A would not hold it for an hour or two.",
            f"{_LESS_LOAD}, or log the demand for a fortnight.",
        )
    else:
        yield point.advised(
            f"{shown}, over the fuse of {fuse_a:g} A; the allowances are guidance and often high.",
            f"Log the demand for a fortnight. {_LESS_LOAD}.",
        )


@check
def fault_rating(facts: Facts) -> Iterator[Finding]:
    """Ask of the board that it withstands its highest fault current (434.5.1, 536.4.201)."""
    ipf_a, icn_a = facts.plan.origin.ipf_board_max_a, _least_icn_a(facts)
    # That it was not read, the gate says.
    if keeps_board(facts) or ipf_a is None:
        return
    conditional_a = _conditional_a(facts)
    # The devices' own figure is asked first; the back-up's only where it is not enough.
    alone = icn_a is not None and (conditional_a is None or ipf_a <= icn_a)
    rated_a = icn_a if alone else conditional_a
    rule = facts.edition.rule("breaking_capacity")
    if not alone and conditional_a is not None:
        rule = joined(rule, facts.edition.rule("conditional.ipf_max_a"))
    point = Point("supply.fault_rating", "Fault rating", "supply", rule, ipf_a, rated_a, "A")
    if rated_a is not None and ipf_a <= rated_a:
        yield point.passed(f"{ipf_a / 1000:.2f} kA at the board, rated {rated_a / 1000:g} kA.")
    else:
        yield from _not_covered(facts, point, ipf_a)


def _not_covered(facts: Facts, point: Point, ipf_a: float) -> Iterator[Finding]:
    shown = f"{ipf_a / 1000:.2f} kA at the board"
    supply, makers_a = facts.job.supply, _makers_rating_a(facts)
    if supply.phases == 1 and supply.cutout_fuse_standard == "unknown":
        yield point.unknown(
            f"{shown}; the conditional rating needs the kind of cut-out fuse, which is not known.",
            "Read standard and rating on the cut-out's carrier.",
        )
    elif makers_a is not None and ipf_a <= makers_a:
        yield point.unknown(
            f"{shown}; the general 16 kA rating does not hold here, the maker's {makers_a / 1000:g}"
            " kA depends on the fuse ahead.",
            "Get the maker's word for this fuse and this arrangement.",
        )
    elif point.limit is None:
        yield point.unknown(f"{shown}; no devices are chosen yet.", "Choose a board.")
    else:
        yield point.failed(
            f"{shown}, over the {point.limit / 1000:g} kA of its devices.",
            "Choose devices of higher breaking capacity, or a maker's rating with back-up.",
        )


def _conditional_a(facts: Facts) -> float | None:
    """Return the conditional rating where fuse, service and phases meet its conditions. [A]"""
    edition, supply = facts.edition, facts.job.supply
    fuse_a, service_m = supply.cutout_fuse_a, supply.service_length_m
    meets = (
        supply.phases == edition.number("conditional.phases")
        and supply.cutout_fuse_standard in edition.text("conditional.fuse_standards").split(", ")
        and fuse_a is not None
        and fuse_a <= edition.number("conditional.fuse_max_a")
        and (service_m is None or service_m >= edition.number("conditional.service_min_m"))
    )
    if not meets:
        return None
    general_a, makers_a = edition.number("conditional.ipf_max_a"), _makers_rating_a(facts)
    return general_a if makers_a is None else min(general_a, makers_a)


def _makers_rating_a(facts: Facts) -> float | None:
    return None if facts.board is None else facts.board.enclosure.conditional_isc_a


def _least_icn_a(facts: Facts) -> float | None:
    if facts.board is None:
        return None
    rated = [i.device.icn_a for i in facts.board.items if i.device.kind in _BREAKERS]
    known = [icn_a for icn_a in rated if icn_a is not None]
    return min(known) if known and len(known) == len(rated) else None
