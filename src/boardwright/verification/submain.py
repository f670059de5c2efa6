"""Checks on the distribution circuit between the intake and a remote board."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.circuits.fault import adiabatic_mm2
from boardwright.circuits.lookup import figure
from boardwright.circuits.origin import submain_drop_v
from boardwright.circuits.submain import curve_of, stress_at_board
from boardwright.core.findings import Finding, Sense
from boardwright.job.supply import Submain
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point

_NAME = "Distribution circuit"


@check
def loop_disconnects(facts: Facts) -> Iterator[Finding]:
    """Ask of its own device that it clears a fault in the time for distribution (411.3.2.3)."""
    submain, origin = facts.job.supply.submain, facts.plan.origin
    if submain is None:
        return
    if facts.job.supply.system == "TT":
        yield _behind_rcd(facts, submain)
        return
    most_ohm = origin.submain_zs_max_ohm
    rule = facts.edition.rule("disconnection_s")
    point = Point("supply.submain.zs", _NAME, submain.id, rule, origin.zdb_ohm, most_ohm, "Ω")
    if origin.zdb_ohm is None or most_ohm is None:
        yield point.unknown("Zs at the board is not known.", "Measure Ze at the intake.")
    elif origin.zdb_ohm <= most_ohm:
        yield point.passed(
            f"Zs {origin.zdb_ohm:.2f} Ω at the board, {most_ohm:.2f} Ω being allowed behind "
            f"{submain.fuse_standard} {submain.fuse_a:g} A."
        )
    else:
        yield point.failed(
            f"Zs {origin.zdb_ohm:.2f} Ω at the board, over {most_ohm:.2f} Ω behind "
            f"{submain.fuse_standard} {submain.fuse_a:g} A.",
            "Fit a smaller fuse, or a larger cable.",
        )


@check
def fuses_are_selective(facts: Facts) -> Iterator[Finding]:
    """Ask of two fuses in line that the smaller blows alone (536.4.1.3)."""
    submain, cutout_a = facts.job.supply.submain, facts.job.supply.cutout_fuse_a
    # How far a breaker and a fuse ahead of it are selective, only their makers' tables say.
    if submain is None or cutout_a is None or curve_of(submain):
        return
    least_factor = facts.edition.number("fuse.selectivity_ratio")
    rule = facts.edition.rule("fuse.selectivity_ratio")
    # A standard series is not exact: 100 over 63 A is 1.59 and counts as 1.6.
    ratio = round(cutout_a / submain.fuse_a, 1)
    point = Point("supply.submain.selectivity", _NAME, submain.id, rule)
    shown = f"A fuse of {submain.fuse_a:g} A behind one of {cutout_a:g} A, {ratio:g} to 1"
    if ratio >= least_factor:
        yield point.passed(
            f"{shown}, {least_factor:g} being asked: a fault beyond it blows the smaller alone."
        )
    else:
        yield point.advised(
            f"{shown}, under {least_factor:g}: a fault may blow the cut-out's fuse too, which is "
            "not yours to replace.",
            "Fit a smaller fuse where the demand allows it, and tell the owner.",
        )


def _behind_rcd(facts: Facts, submain: Submain) -> Finding:
    point = Point("supply.submain.zs", _NAME, submain.id, facts.edition.rule("rcd_need.tt"))
    if submain.rcd_ahead == "yes":
        return point.passed("An RCD stands ahead of it, as a TT supply asks.")
    if submain.rcd_ahead is None:
        return point.unknown(
            "Whether an RCD stands ahead of it is not known.", "Look at the intake."
        )
    return point.failed(
        "On TT no fuse clears an earth fault, and no RCD stands ahead of it.",
        "Fit a time-delayed RCD at the intake.",
    )


@check
def cable_carries_the_fuse(facts: Facts) -> Iterator[Finding]:
    """Ask of the distribution cable that it carries what its fuse lets pass (433.1.1)."""
    submain, iz_a = facts.job.supply.submain, facts.plan.origin.submain_iz_a
    if submain is None or iz_a is None:
        return
    rule = facts.edition.rule("overload")
    point = Point("supply.submain.overload", _NAME, submain.id, rule, submain.fuse_a, iz_a, "A")
    shown = f"{submain.line_mm2:g} mm² carries {iz_a:g} A by the worst method; the fuse is "
    if submain.fuse_a <= iz_a:
        yield point.passed(f"{shown}{submain.fuse_a:g} A.")
    else:
        yield point.failed(f"{shown}{submain.fuse_a:g} A.", "Fit a smaller fuse.")


@check
def protective_conductor_survives(facts: Facts) -> Iterator[Finding]:
    """Ask of its protective conductor that it bears a fault at the board (543.1.3).

    A fuse is counted by the current that just opens it in a time of its table: its maker's curve
    may still pass what fails here.
    """
    submain, zdb_ohm = facts.job.supply.submain, facts.plan.origin.zdb_ohm
    if submain is None or zdb_ohm is None or facts.job.supply.system == "TT":
        return
    edition = facts.edition
    stress = stress_at_board(submain, facts.job, zdb_ohm, edition)
    time_s = stress.time_s
    k_factor = figure(edition.table("k"), submain.cable, "protective")
    least_mm2 = adiabatic_mm2(stress.current_a, time_s, k_factor)
    rule = edition.rule("adiabatic")
    point = Point(
        "supply.submain.cpc",
        _NAME,
        submain.id,
        rule,
        submain.cpc_mm2,
        least_mm2,
        "mm²",
        Sense.AT_LEAST,
    )
    shown = f"Protective conductor {submain.cpc_mm2:g} mm²"
    if submain.cpc_mm2 >= least_mm2:
        yield point.passed(f"{shown}, {least_mm2:.1f} mm² being asked for {time_s:g} s of fault.")
    else:
        yield point.advised(
            f"{shown}, under the {least_mm2:.1f} mm² that {time_s:g} s of fault would ask.",
            "Take the time from the fuse's curve at this current, or its let-through.",
        )


@check
def volt_drop(facts: Facts) -> Iterator[Finding]:
    """Tell what is lost on the way to the board, and so to every circuit (525.202)."""
    submain = facts.job.supply.submain
    if submain is None:
        return
    # As a one-phase circuit sees it: the drop of a three-phase submain is line to line.
    drop_v = submain_drop_v(facts.job, facts.plan.origin, phases=1)
    key = "volt_drop.lighting_fraction"
    limit_v = facts.edition.number(key) * facts.job.supply.u0_v
    rule = facts.edition.rule(key)
    point = Point("supply.submain.volt_drop", _NAME, submain.id, rule, drop_v, limit_v, "V")
    shown = f"{drop_v:.2f} V at the board; lights may lose {limit_v:.1f} V from the origin on"
    if drop_v < limit_v:
        yield point.passed(f"{shown}.")
    else:
        yield point.failed(f"{shown}.", "Lay a larger distribution cable.")


@check
def concealed_cable(facts: Facts) -> Iterator[Finding]:
    """Ask earthed armour or a 30 mA RCD of a shallow cable in a wall (522.6.202 to .204)."""
    submain = facts.job.supply.submain
    if submain is None:
        return
    armoured = submain.cable.startswith("swa")
    key = "concealed.armoured" if armoured else "rcd_need.concealed"
    point = Point("supply.submain.concealed", _NAME, submain.id, facts.edition.rule(key))
    match submain.concealed, armoured, submain.rcd_ahead:
        case "no", _, _:
            yield point.spared("It does not run less than 50 mm deep in a wall.")
        case _, True, _:
            yield point.passed("Its earthed armour protects it where it runs shallow in a wall.")
        case _, _, "yes":
            yield point.passed("An RCD stands ahead of it; see that it is of 30 mA.")
        case None, _, _:
            yield point.unknown(
                "Whether it runs less than 50 mm deep in a wall is not known.",
                "Follow its route.",
            )
        case _:
            yield point.failed(
                "It runs shallow in a wall with neither armour nor an RCD ahead.",
                "Protect it by earthed metal, lay it deeper, or fit a 30 mA RCD at the intake.",
            )
