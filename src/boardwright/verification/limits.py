"""The limits that a reading after the work is held against, as data that any device can apply.

Each reading has its bounds, the gravest first; the first that does not hold decides. The figures
are those that the gate and the checks use, so that a phone without the server judges as they do.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from boardwright.circuits.conductor import loop_20c_ohm
from boardwright.circuits.fault import cold_zs_max_ohm
from boardwright.circuits.results import CircuitPlan, CircuitResult, FaultProtection
from boardwright.core.findings import Rule, Sense, Verdict
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.standards.edition import Edition

Readings = Mapping[str, float]
"""Readings of one circuit by name."""

_RING_PATHS = 4
"""Both conductors of a ring are fed from both ends: a quarter of their length each way in all."""


@dataclass(frozen=True, slots=True)
class Side:
    """The reading lies on one side of a limit; ``strict``: not on it either."""

    sense: Sense
    limit: float
    verdict: Verdict
    rule: Rule
    words: str
    strict: bool = False

    def holds(self, value: float, _others: Readings) -> bool | None:
        """Tell whether it does."""
        if self.sense is Sense.AT_LEAST:
            return value >= self.limit
        return value < self.limit if self.strict else value <= self.limit


@dataclass(frozen=True, slots=True)
class Apart:
    """The reading is no farther from another than a limit."""

    of: str
    limit: float
    verdict: Verdict
    rule: Rule
    words: str

    def holds(self, value: float, others: Readings) -> bool | None:
        """Tell whether it is; None while the other was not read."""
        other = others.get(self.of)
        return None if other is None else round(abs(value - other), 4) <= self.limit


@dataclass(frozen=True, slots=True)
class About:
    """The reading is about what is due: another reading in the ratio of two sizes, or a figure."""

    due_ohm: float | None
    of: str
    line_mm2: float
    cpc_mm2: float
    fraction: float
    least_ohm: float
    verdict: Verdict
    rule: Rule
    words: str

    def holds(self, value: float, others: Readings) -> bool | None:
        """Tell whether it is; None while nothing says what is due."""
        due_ohm = self.due_ohm
        if due_ohm is None:
            other = others.get(self.of)
            if other is None:
                return None
            due_ohm = other * self.line_mm2 / self.cpc_mm2
        return abs(value - due_ohm) <= max(due_ohm * self.fraction, self.least_ohm)


Bound = Side | Apart | About


@dataclass(frozen=True, slots=True)
class Limit:
    """One reading to take: its name, its words, its unit, its bounds.

    ``seen`` is true for what is looked at and answered with yes or no: no fails.
    """

    reading: str
    label: str
    symbol: str = ""
    unit: str = ""
    live: bool = False
    seen: bool = False
    bounds: tuple[Bound, ...] = ()
    rule: Rule | None = None


def verdict_of(limit: Limit, value: float | str, others: Readings) -> tuple[Verdict, Bound | None]:
    """Return what is so of a reading, and the bound that decided."""
    if isinstance(value, str):
        return (Verdict.PASS if value == "yes" else Verdict.FAIL), None
    held = [bound.holds(value, others) for bound in limit.bounds]
    for bound, holds in zip(limit.bounds, held, strict=True):
        if holds is False:
            return bound.verdict, bound
    return (Verdict.PASS if True in held else Verdict.NOT_APPLICABLE), None


def circuit_limits(circuit: Circuit, plan: CircuitPlan, edition: Edition) -> tuple[Limit, ...]:
    """Return the readings of one circuit in tester order: dead, then live."""
    result = plan.circuit(circuit.id)
    dead = (*_continuity(circuit, edition), *_insulation(edition), _polarity(edition))
    return (*dead, *_live(circuit, result, plan, edition))


def _continuity(circuit: Circuit, edition: Edition) -> Iterator[Limit]:
    if circuit.topology == "ring":
        yield from _ring(circuit, edition)
    if circuit.cable.cpc_mm2 > 0:
        yield _r1r2(circuit, edition)


def _ring(circuit: Circuit, edition: Edition) -> Iterator[Limit]:
    whole = _whole(edition)
    yield Limit("r1_ohm", "Line end to end", "r1", "Ω", bounds=whole)
    rule = edition.rule("gate.ring_step_ohm")
    words = "A loose joint, or two rings mixed: tighten and read again."
    alike = Apart("r1_ohm", edition.number("gate.ring_step_ohm"), Verdict.FAIL, rule, words)
    yield Limit("rn_ohm", "Neutral end to end", "rn", "Ω", bounds=(*whole, alike))
    if circuit.cable.cpc_mm2 > 0:
        label = "Protective conductor end to end"
        yield Limit("r2_ohm", label, "r2", "Ω", bounds=(*whole, _in_ratio(circuit, edition)))


def _whole(edition: Edition) -> tuple[Side, ...]:
    rule = edition.rule("gate.ring")
    words = "The ring is open: find the break."
    limit = edition.number("gate.ring_open_ohm")
    return (Side(Sense.AT_MOST, limit, Verdict.FAIL, rule, words, strict=True),)


def _in_ratio(circuit: Circuit, edition: Edition) -> About:
    return About(
        due_ohm=None,
        of="r1_ohm",
        line_mm2=circuit.cable.line_mm2,
        cpc_mm2=circuit.cable.cpc_mm2,
        fraction=edition.number("gate.ring_ratio_fraction"),
        least_ohm=edition.number("gate.ring_step_ohm"),
        verdict=Verdict.ADVISE,
        rule=edition.rule("gate.ring_ratio_fraction"),
        words="Not what r1 and the two sizes give: null the leads and read again.",
    )


def _r1r2(circuit: Circuit, edition: Edition) -> Limit:
    cable = circuit.cable
    paths = _RING_PATHS if circuit.topology == "ring" else 1
    due_ohm = loop_20c_ohm(edition, cable.line_mm2, cable.cpc_mm2, cable.length_m) / paths
    about = About(
        due_ohm=due_ohm,
        of="",
        line_mm2=cable.line_mm2,
        cpc_mm2=cable.cpc_mm2,
        fraction=edition.number("r1r2.agreement_fraction"),
        least_ohm=edition.number("r1r2.agreement_ohm"),
        verdict=Verdict.ADVISE,
        rule=edition.rule("r1r2.agreement_fraction"),
        words="Not what length and sizes give: null the leads, read again, look at the joints.",
    )
    label = "Line and protective conductor, farthest point"
    return Limit("r1r2_ohm", label, "R1+R2", "Ω", bounds=(about,))


def _insulation(edition: Edition) -> Iterator[Limit]:
    least = edition.rule("ir.min_mohm")
    fail = "Unplug loads and halve the circuit until the fault is found."
    good = "Holds, but a new RCD may trip: read again with every appliance off."
    bounds = (
        Side(Sense.AT_LEAST, edition.number("ir.min_mohm"), Verdict.FAIL, least, fail),
        Side(
            Sense.AT_LEAST,
            edition.number("ir.investigate_mohm"),
            Verdict.ADVISE,
            edition.rule("ir.investigate_mohm"),
            good,
        ),
    )
    yield Limit("ir_live_mohm", "Insulation, line to neutral", "L–N", "MΩ", bounds=bounds)
    yield Limit("ir_earth_mohm", "Insulation, live to earth", "L–E", "MΩ", bounds=bounds)


def _polarity(edition: Edition) -> Limit:
    return Limit("polarity", "Polarity right", seen=True, rule=edition.rule("polarity"))


def _live(
    circuit: Circuit, result: CircuitResult, plan: CircuitPlan, edition: Edition
) -> Iterator[Limit]:
    if circuit.cable.cpc_mm2 > 0:
        label = "Earth fault loop, farthest point"
        yield Limit(
            "zs_ohm", label, "Zs", "Ω", live=True, bounds=(measured_loop_bound(result, edition),)
        )
    if not _behind_rcd(result, plan):
        return
    if edition.has("rcd.time_s"):
        limit_ms = edition.number("rcd.time_s") * 1000
        rule = edition.rule("rcd.time_s")
        slow = "Too slow: test again with its loads off; replace it if it stays."
        bound = Side(Sense.AT_MOST, limit_ms, Verdict.FAIL, rule, slow)
        yield Limit(
            "rcd_ms", "RCD at rated residual current", "t", "ms", live=True, bounds=(bound,)
        )
    yield Limit("rcd_button", "RCD test button trips", live=True, seen=True)


def _behind_rcd(result: CircuitResult, plan: CircuitPlan) -> bool:
    if result.protection.idn_a is not None:
        return True
    return any(result.id in s.circuit_ids and s.idn_a is not None for s in plan.sections)


def measured_loop_bound(result: CircuitResult, edition: Edition) -> Side:
    """Return what a loop read with the cable cold may be: 80 % of the limit, unrounded.

    An RCD trips on its residual current, warm conductor or not: there no allowance is due.
    """
    key, limit = "zs.rcd", result.zs_max_ohm
    if result.fault_protection is not FaultProtection.RCD and edition.has("factor.measured_cold"):
        key = "factor.measured_cold"
        limit = cold_zs_max_ohm(edition.number(key), limit)
    words = "Too high: mend the joints, or fit a device that trips at less."
    return Side(Sense.AT_MOST, limit, Verdict.FAIL, edition.rule(key), words)


def origin_limits(job: Job, edition: Edition) -> tuple[Limit, ...]:
    """Return the readings at the origin and the board: dead, then live."""
    return tuple(_origin(job, edition))


def _origin(job: Job, edition: Edition) -> Iterator[Limit]:
    yield Limit("earthing_ohm", "Earthing conductor", "", "Ω")
    for bond in job.earthing.bonds:
        if bond.metallic != "no":
            name = bond.service.replace(" ", "_")
            yield Limit(f"bond_{name}_ohm", f"Bonding conductor, {bond.service}", "", "Ω")
    yield Limit(
        "polarity",
        "Polarity of the supply right",
        live=True,
        seen=True,
        rule=edition.rule("polarity"),
    )
    yield _earth(job, edition)
    yield Limit("ipf_ka", "Prospective fault current, the larger", "Ipf", "kA", live=True)
    if job.supply.phases != 1:
        yield Limit("phase_sequence", "Phase sequence right", live=True, seen=True)
    yield Limit("spd_window", "SPD indicator shows it is in order", live=True, seen=True)


def _earth(job: Job, edition: Edition) -> Limit:
    if job.supply.system == "TT":
        rule, limit = (
            edition.rule("electrode.unstable_ohm"),
            edition.number("electrode.unstable_ohm"),
        )
        words = "May not stay so in dry or frozen ground: drive a deeper rod."
        bound = Side(Sense.AT_MOST, limit, Verdict.ADVISE, rule, words)
        return Limit("ra_ohm", "Earth electrode", "RA", "Ω", live=True, bounds=(bound,))
    key = "ze.tn_c_s_max_ohm" if job.supply.system == "TN-C-S" else "ze.tn_s_max_ohm"
    words = "Over what is declared: read again on clean connections, tell the network operator."
    bound = Side(Sense.AT_MOST, edition.number(key), Verdict.FAIL, edition.rule(key), words)
    return Limit("ze_ohm", "External loop impedance", "Ze", "Ω", live=True, bounds=(bound,))


def over_range(limit: Limit, value: float) -> float:
    """Return what a reading over the instrument's range counts as: the least it can be, or no end.

    Where more is better its own limit is proved; where less is, nothing is.
    """
    better_more = any(isinstance(b, Side) and b.sense is Sense.AT_LEAST for b in limit.bounds)
    return value if better_more else math.inf


__all__ = [
    "About",
    "Apart",
    "Bound",
    "Limit",
    "Readings",
    "Side",
    "circuit_limits",
    "measured_loop_bound",
    "origin_limits",
    "over_range",
    "verdict_of",
]
