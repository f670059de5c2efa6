"""Checks on where conductors run: how full the channels are, what the SPD's leads keep from."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from boardwright.core.findings import Finding
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point
from boardwright.wiring.channels import channels
from boardwright.wiring.practice import figure, rule
from boardwright.wiring.results import Conductor, Origin

_STEP_MM = 5.0
"""Leads are looked at every so often along their way. [mm]"""


@check
def channels_hold_their_conductors(facts: Facts) -> Iterator[Finding]:
    """Judge whether the fullest channel holds its conductors in one layer."""
    if facts.wiring is None or facts.arrangement is None:
        return
    found = channels(facts.arrangement, facts.wiring.conductors)
    if not found:
        return
    fullest = max(found, key=lambda channel: channel.fill)
    point = Point(
        "wiring.channel",
        "Channels",
        "",
        rule("channel", facts.edition.title),
        value=round(100 * fullest.fill),
        limit=100.0,
        unit="%",
    )
    used = [channel for channel in found if channel.fill > 0]
    each = "; ".join(f"{channel.name} {channel.fill:.0%}" for channel in used)
    if fullest.fill <= 1.0:
        yield point.passed(
            f"New conductors take this much of the channels' height: {each or 'nothing'}."
        )
    else:
        yield point.advised(
            f"{fullest.name} is too narrow for one layer: {each}.",
            "Dress them in two layers, or take a larger enclosure.",
        )


@check
def spd_leads_keep_together(facts: Facts) -> Iterator[Finding]:
    """Keep the SPD's line and earth leads beside one another and off other circuits (534.4.8)."""
    if facts.wiring is None:
        return
    leads = [c for c in facts.wiring.conductors if _is_lead(c)]
    lines = [c for c in leads if c.function not in {"N", "PE"}]
    earths = [c for c in leads if c.function == "PE"]
    if not lines or not earths:
        return
    yield _together(facts, lines, earths)
    yield _away(facts, leads)


def _is_lead(conductor: Conductor) -> bool:
    return conductor.id.startswith("spd-") and conductor.origin is not Origin.BUSBAR


def _together(facts: Facts, lines: Sequence[Conductor], earths: Sequence[Conductor]) -> Finding:
    limit_mm = figure("separation", "together_mm")
    others = [point for earth in earths for point in _points(earth)]
    apart_mm = max(
        min(math.dist(point, other) for other in others)
        for line in lines
        for point in _points(line)
    )
    point = Point(
        "wiring.separation",
        "SPD line and earth",
        "spd",
        rule("separation", facts.edition.title),
        value=round(apart_mm),
        limit=limit_mm,
        unit="mm",
    )
    said = f"The line lead is never more than {apart_mm:.0f} mm from the earth lead"
    if apart_mm <= limit_mm:
        return point.passed(f"{said}: a small loop.")
    return point.advised(
        f"{said}: the loop between them adds to what the leads drop.",
        "Dress line and earth of the SPD side by side, tied, without a loop.",
    )


def _away(facts: Facts, leads: Sequence[Conductor]) -> Finding:
    """Judge how long an SPD lead runs close beside a conductor of another circuit."""
    near_mm, limit_mm = figure("separation", "near_mm"), figure("separation", "beside_mm")
    circuits = [c for c in facts.wiring.conductors if _of_a_circuit(c)] if facts.wiring else []
    runs = [(_beside_mm(lead, other, near_mm), lead, other) for lead in leads for other in circuits]
    longest_mm, lead, other = max(runs, key=lambda run: run[0], default=(0.0, leads[0], leads[0]))
    point = Point(
        "wiring.separation",
        "SPD leads and other circuits",
        "spd",
        rule("separation", facts.edition.title),
        value=round(longest_mm),
        limit=limit_mm,
        unit="mm",
    )
    if longest_mm <= limit_mm:
        return point.passed(
            f"No lead runs beside a circuit's conductor for more than {longest_mm:.0f} mm."
        )
    return point.advised(
        f"{lead.begin.label} to {lead.end.label} runs {longest_mm:.0f} mm within "
        f"{near_mm:.0f} mm of {other.begin.label}.",
        "Part them: what runs beside a lead takes up the surge again, behind the SPD.",
    )


def _of_a_circuit(conductor: Conductor) -> bool:
    """Tell whether a conductor belongs to one circuit; bars, links and tails are common."""
    cable = conductor.begin.terminal.startswith("cable-")
    return cable or conductor.group == "neutral-leads"


def _points(conductor: Conductor) -> list[tuple[float, float]]:
    """Return points along a path, seen from the front."""
    points = [(conductor.path[0][0], conductor.path[0][1])]
    for (ax, ay, _), (bx, by, _) in pairwise(conductor.path):
        steps = max(1, math.ceil(math.dist((ax, ay), (bx, by)) / _STEP_MM))
        points += [
            (ax + (bx - ax) * k / steps, ay + (by - ay) * k / steps) for k in range(1, steps + 1)
        ]
    return points


def _beside_mm(one: Conductor, other: Conductor, near_mm: float) -> float:
    """Return the length over which two conductors run the same way, closer than ``near_mm``."""
    total_mm = 0.0
    for a in _straights(one):
        for b in _straights(other):
            if a[0] is b[0] and abs(a[3] - b[3]) < near_mm:
                total_mm += max(0.0, min(a[2], b[2]) - max(a[1], b[1]))
    return total_mm


def _straights(conductor: Conductor) -> Iterator[tuple[bool, float, float, float]]:
    """Yield for each straight part: upright or not, its ends along, its place across. [mm]"""
    for (ax, ay, _), (bx, by, _) in pairwise(conductor.path):
        if math.isclose(ax, bx):
            yield True, min(ay, by), max(ay, by), ax
        elif math.isclose(ay, by):
            yield False, min(ax, bx), max(ax, bx), ay
