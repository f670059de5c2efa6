"""Which division of the home over its RCDs to propose: an RCBO on every way, or sections."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import DeviceType
from boardwright.catalogue.devices import Kind as DeviceKind
from boardwright.circuits.division import fuse_ahead_a
from boardwright.circuits.plan import plan_circuits
from boardwright.circuits.rcd import leakage_limit_a
from boardwright.circuits.results import CircuitPlan, CircuitResult, Section
from boardwright.job.job import Job
from boardwright.standards.edition import Edition

Kind = Literal["RCBO on every way", "split load"]
KINDS: Final[tuple[Kind, ...]] = ("RCBO on every way", "split load")


@dataclass(frozen=True, slots=True)
class Prices:
    """What one device of a kind costs, as the caller's catalogue says; None where it does not.

    ``rccbs_gbp`` has a price for each rating, in A, of the RCCBs there are.
    """

    rcbo_gbp: float | None
    mcb_gbp: float | None
    rccbs_gbp: Mapping[float, float | None]

    def rccb_a(self, asked_a: float) -> float:
        """Return the rating of the RCCB taken: the least that does, else the largest there is."""
        ratings = sorted(self.rccbs_gbp)
        return next((r for r in ratings if r >= asked_a), ratings[-1] if ratings else asked_a)


def prices_of(devices: Iterable[DeviceType]) -> Prices:
    """Return the lowest price of each kind among the devices on offer."""
    offered = tuple(devices)
    rccbs = [d for d in offered if d.kind is DeviceKind.RCCB and not d.time_delayed]
    return Prices(
        rcbo_gbp=_lowest_gbp(offered, DeviceKind.RCBO),
        mcb_gbp=_lowest_gbp(offered, DeviceKind.MCB),
        rccbs_gbp={
            in_a: _lowest_gbp((d for d in rccbs if d.in_a == in_a), DeviceKind.RCCB)
            for in_a in sorted({d.in_a for d in rccbs if d.in_a is not None})
        },
    )


def _lowest_gbp(devices: Iterable[DeviceType], kind: DeviceKind) -> float | None:
    known = (d.price_gbp for d in devices if d.kind is kind and d.price_gbp > 0)
    return min(known, default=None)


@dataclass(frozen=True, slots=True)
class Option:
    """One division, weighed.

    ``down_together`` names the circuits that go off with one trip, RCD by RCD; ``leakage_a`` is
    the standing leakage through the RCD that has most of it, and ``leakage_limit_a`` what it may
    bear. ``rccbs_a`` are the ratings of its sections' RCCBs. ``broken`` are sentences about what
    the rules forbid, ``against`` about what is poor.
    """

    kind: Kind
    down_together: tuple[tuple[str, ...], ...]
    leakage_a: float
    leakage_limit_a: float
    rccbs_a: tuple[float, ...]
    cost_gbp: float | None
    broken: tuple[str, ...]
    against: tuple[str, ...]

    @property
    def most_down(self) -> int:
        """How many circuits one trip takes off at most."""
        return max((len(group) for group in self.down_together), default=0)


@dataclass(frozen=True, slots=True)
class Proposal:
    """The options, the proposed one first, and why it is."""

    options: tuple[Option, ...]
    reasons: tuple[str, ...]

    @property
    def proposed(self) -> Option:
        """The division proposed."""
        return self.options[0]


def propose(job: Job, catalogue: Catalogue, edition: Edition, prices: Prices) -> Proposal:
    """Weigh both divisions of a home and propose one.

    What a rule forbids goes last, then what is poor for a reason of this home; then fewer circuits
    off with one trip, then the lower cost.

    Parameters
    ----------
    prices
        What devices cost; without them cost decides nothing.

    Raises
    ------
    FieldError
        A cable's size or method is none that its table has.
    """
    options = tuple(_option(kind, job, catalogue, edition, prices) for kind in KINDS)
    ranked = tuple(sorted(options, key=_rank))
    return Proposal(ranked, tuple(_reasons(ranked)))


def _rank(option: Option) -> tuple[float, ...]:
    cost_gbp = option.cost_gbp if option.cost_gbp is not None else 0.0
    return (len(option.broken), len(option.against), option.most_down, cost_gbp)


def _option(kind: Kind, job: Job, catalogue: Catalogue, edition: Edition, prices: Prices) -> Option:
    wishes = job.wishes.model_copy(update={"division": kind})
    plan = plan_circuits(job.model_copy(update={"wishes": wishes}), catalogue, edition)
    fuse_a = fuse_ahead_a(job)
    rccbs_a = tuple(_rating_a(section, plan, fuse_a, prices) for section in plan.sections)
    limit_a = leakage_limit_a(
        edition.number("rcd.leakage_fraction"), edition.number("rcd.additional_idn_a")
    )
    leakage_a = max((leak_a for leak_a, _ in _rcds(plan)), default=0.0)
    return Option(
        kind=kind,
        down_together=tuple(names for _, names in _rcds(plan)),
        leakage_a=leakage_a,
        leakage_limit_a=limit_a,
        rccbs_a=rccbs_a,
        cost_gbp=_cost_gbp(plan, rccbs_a, prices),
        broken=tuple(_broken(plan, rccbs_a, fuse_a)),
        against=tuple(_against(plan, job, limit_a, edition)),
    )


def _rcds(plan: CircuitPlan) -> Iterator[tuple[float, tuple[str, ...]]]:
    """Yield each RCD's leakage and the circuits that go off with it."""
    shared = {circuit_id for section in plan.sections for circuit_id in section.circuit_ids}
    for section in plan.sections:
        yield section.leakage_a, tuple(plan.circuit(i).name for i in section.circuit_ids)
    for result in plan.circuits:
        if result.id not in shared and result.protection.idn_a is not None:
            yield result.leakage_a, (result.name,)


def _cost_gbp(plan: CircuitPlan, rccbs_a: Iterable[float], prices: Prices) -> float | None:
    each = [
        prices.rcbo_gbp if result.protection.standard == "RCBO" else prices.mcb_gbp
        for result in plan.circuits
    ]
    each += [prices.rccbs_gbp.get(rating_a) for rating_a in rccbs_a]
    known = [price_gbp for price_gbp in each if price_gbp is not None]
    return sum(known) if len(known) == len(each) else None


def _rating_a(section: Section, plan: CircuitPlan, fuse_a: float | None, prices: Prices) -> float:
    """Return the rating of a section's RCCB: of the devices below it, or of the fuse (536.4.202).

    The usual one is all that can be said where the fuse is not known.
    """
    usual_a = section.rcd_in_a or 0.0
    least_a = usual_a if fuse_a is None else min(_sum_a(section, plan), fuse_a)
    return prices.rccb_a(max(usual_a, least_a))


def _broken(plan: CircuitPlan, rccbs_a: Sequence[float], fuse_a: float | None) -> Iterator[str]:
    for section, rating_a in zip(plan.sections, rccbs_a, strict=True):
        sum_a = _sum_a(section, plan)
        covered = sum_a <= rating_a or (fuse_a is not None and fuse_a <= rating_a)
        if not covered:
            ahead = "the fuse ahead is not known" if fuse_a is None else f"the fuse is {fuse_a:g} A"
            yield (
                f"{_name(section)} of {rating_a:g} A stands before devices of {sum_a:g} A, and "
                f"{ahead} (536.4.202)"
            )


def _idns_a(plan: CircuitPlan) -> Iterator[float]:
    yield from (section.idn_a for section in plan.sections if section.idn_a is not None)
    shared = {circuit_id for section in plan.sections for circuit_id in section.circuit_ids}
    for result in plan.circuits:
        if result.id not in shared and result.protection.idn_a is not None:
            yield result.protection.idn_a


def _sum_a(section: Section, plan: CircuitPlan) -> float:
    return sum(plan.circuit(circuit_id).in_a for circuit_id in section.circuit_ids)


def _against(plan: CircuitPlan, job: Job, limit_a: float, edition: Edition) -> Iterator[str]:
    electrode_ohm = job.earthing.electrode_ohm
    if job.supply.system == "TT" and electrode_ohm is not None:
        untripped_a = sum(_idns_a(plan))
        touch_v = electrode_ohm * untripped_a
        if touch_v > edition.number("touch_voltage_v"):
            yield (
                f"{untripped_a * 1000:g} mA may flow untripped through its RCDs, {touch_v:.0f} V "
                f"over the electrode's {electrode_ohm:g} Ω"
            )
    for section in plan.sections:
        if section.leakage_a > limit_a:
            yield (
                f"{section.leakage_a * 1000:.1f} mA leak through {_name(section)}, over "
                f"{limit_a * 1000:g} mA"
            )
        members = [plan.circuit(circuit_id) for circuit_id in section.circuit_ids]
        yield from _dark_together(section, members, job)


def _dark_together(section: Section, members: Sequence[CircuitResult], job: Job) -> Iterator[str]:
    serves = [job.circuit(member.id).serves for member in members]
    lights = sum(circuit.serves == "lighting" for circuit in job.circuits)
    if lights > 1 and serves.count("lighting") == lights:
        yield f"all lights go off with {_name(section)}"
    if "smoke alarms" in serves and "lighting" not in serves:
        yield f"the smoke alarms go off with {_name(section)} and no light shows it"


def _name(section: Section) -> str:
    return f"RCD {section.id.removeprefix('rcd-').upper()}"


def _reasons(ranked: Sequence[Option]) -> Iterator[str]:
    best, other = ranked[0], ranked[-1]
    off = "circuit" if best.most_down == 1 else "circuits"
    yield f"{best.kind}: one trip takes {best.most_down} {off} off, against {other.most_down}"
    for sentence in (*best.broken, *best.against):
        yield f"yet with {best.kind} {sentence}"
    for sentence in other.broken:
        yield f"{other.kind}: {sentence}"
    for sentence in other.against:
        yield f"{other.kind}: {sentence}"
    if best.cost_gbp is not None and other.cost_gbp is not None:
        more_gbp = best.cost_gbp - other.cost_gbp
        word = "more" if more_gbp >= 0 else "less"
        yield f"its devices cost £{abs(more_gbp):.0f} {word} than the other's £{other.cost_gbp:.0f}"
