"""The check on what an SPD that fails short takes off supply."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from boardwright.board.results import Role, Scheme
from boardwright.core.findings import Finding
from boardwright.spd.ahead import own_ahead, shared_ahead
from boardwright.spd.results import BackupKind
from boardwright.spd.withstand import Ahead, half_cycle_a2s, prearcing_a2s
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point, joined
from boardwright.verification.spd_way import way_to_supply

_RCDS = (Role.INCOMER_RCD, Role.SECTION_RCD)


@check
def failed_spd(facts: Facts) -> Iterator[Finding]:
    """Name what opens when the SPD fails short, and what then goes dark (534.4.5, 314.1).

    Its own disconnector should part it first; this is the case in which it does not.
    """
    candidate = facts.spd.candidate
    if candidate is None or candidate.backup.kind is BackupKind.NONE:
        return
    point = Point("spd.failure", "SPD failed short", "spd", facts.edition.rule("spd.failure"))
    place = f"{_place(facts)}{_rcds(facts)}"
    own = own_ahead(candidate.backup)
    if own is not None:
        yield _with_own(point, own, place, facts)
        return
    shared = shared_ahead(facts.job)
    opens = shared[-1].name if shared else "The cut-out fuse"
    dark = "everything on this board" if facts.job.supply.submain else "the whole home"
    yield point.advised(
        f"{opens} is what opens: {dark} goes dark. A fault smaller than a fuse of this size "
        f"notices is left to the SPD's own disconnector.{place}",
        "A back-up of its own that its maker tested keeps the home on.",
    )


def _with_own(point: Point, own: Ahead, place: str, facts: Facts) -> Finding:
    """Say whether the SPD's own back-up opens alone, by the current of the first half cycle."""
    opens = f"{own.name} opens and the home stays on, without surge protection until it is renewed"
    missing = _missing(own, facts)
    if missing:
        return point.unknown(
            f"{opens}. Whether it opens alone waits for {missing}.{place}", f"Find out {missing}."
        )
    edition, ipf_a = facts.edition, facts.plan.origin.ipf_board_max_a or 0.0
    fuse = min(_cartridges(facts), key=lambda ahead: ahead.in_a or 0.0)
    fuse_a = fuse.in_a or 0.0
    passed_a2s, melts_a2s = half_cycle_a2s(ipf_a, edition), prearcing_a2s(fuse_a, edition)
    rule = joined(point.rule, edition.rule("fuse.gg_prearcing_min"))
    point = replace(point, rule=rule, value=round(passed_a2s), limit=melts_a2s, unit="A²s")
    half_cycle = f"a half cycle of {ipf_a:.0f} A is {passed_a2s:,.0f} A²s"
    if melts_a2s is not None and passed_a2s <= melts_a2s:
        return point.passed(
            f"{opens}: {half_cycle}, and a {fuse_a:g} A gG fuse{fuse.not_gg} bears "
            f"{melts_a2s:,.0f} A²s.{place}"
        )
    melts = "" if melts_a2s is None else f", more than the {melts_a2s:,.0f} A²s that may melt it"
    return point.advised(
        f"{opens}; but the {fuse_a:g} A fuse ahead may open with it and take the home off: "
        f"{half_cycle}{melts}.{place}",
        "Look up in the maker's tables up to what current the back-up opens alone.",
    )


def _missing(own: Ahead, facts: Facts) -> str:
    """Name what the sum cannot do without: it is of a breaker that trips in the first half cycle.

    At a current that trips it only by its heat, breaker and fuse are compared by their curves.
    """
    ipf_a, device = facts.plan.origin.ipf_board_max_a, facts.catalogue.devices.get(own.mcb)
    if device is None or not device.curve or device.in_a is None:
        return "its maker's figure for the built-in fuse"
    if ipf_a is None:
        return "the prospective fault current"
    if not _cartridges(facts):
        return "the cartridge fuse ahead, its rating or its kind"
    trips = facts.edition.table("trip_multiple").cell(device.curve, "0.4") or 0.0
    if ipf_a < trips * device.in_a:
        return f"the curves of both: {ipf_a:.0f} A does not trip it at once"
    return ""


def _cartridges(facts: Facts) -> list[Ahead]:
    return [ahead for ahead in shared_ahead(facts.job) if ahead.is_cartridge and ahead.in_a]


def _place(facts: Facts) -> str:
    """Say whether the main switch parts the SPD from the supply: who works on it must know."""
    if facts.arrangement is None or facts.wiring is None:
        return ""
    leads = facts.wiring.spd_leads
    if facts.arrangement.scheme is Scheme.SEPARATE_BOX or (leads and leads.v_wired):
        return " It hangs ahead of the main switch, which does not make it dead."
    way = way_to_supply(facts.arrangement, facts.wiring)
    if way is None:
        return " Where its line is tapped is not seen here."
    roles = [facts.arrangement.placement(item).item.role for item in way]
    if Role.MAIN_SWITCH in roles:
        return " It stands behind the main switch."
    return " It stands ahead of the main switch, which does not make it dead."


def _rcds(facts: Facts) -> str:
    """Name the RCDs on the SPD's way: a part that fails to earth trips them with all behind."""
    if facts.arrangement is None or facts.wiring is None:
        return ""
    way = way_to_supply(facts.arrangement, facts.wiring) or ()
    items = [facts.arrangement.placement(item).item for item in way]
    rcds = [item.label for item in items if item.role in _RCDS]
    if not rcds:
        return ""
    return f" A failure to earth trips {' and '.join(rcds)} first, and what is behind goes dark."
