"""Questions asked backwards on site: how long, how thick, how much, how large a device."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import floor, inf

from boardwright.circuits.altered import sizes, with_cable, with_device, with_load
from boardwright.circuits.assess import drop_load_a, paths_of
from boardwright.circuits.conductor import hot_factor, loop_20c_ohm
from boardwright.circuits.fault import rcd_zs_max_ohm
from boardwright.circuits.judged import hindrances, planned_against
from boardwright.circuits.origin import submain_drop_v
from boardwright.circuits.results import CircuitResult
from boardwright.circuits.site import Site
from boardwright.circuits.volt_drop import drop_per_a_m
from boardwright.core.findings import Finding
from boardwright.job.circuit import Circuit

_STEP_M = 0.1
_HALVINGS = 40
_NO_MORE = "no larger one is made"


@dataclass(frozen=True, slots=True)
class Bound:
    """One thing that limits a length, and where it does. [m]"""

    name: str
    length_m: float


@dataclass(frozen=True, slots=True)
class LongestRun:
    """The longest run, cut to a tenth of a metre, and which bound governs.

    ``why`` is a sentence where no run is allowed; ``length_m`` is then 0.
    """

    length_m: float
    governs: str
    bounds: tuple[Bound, ...]
    why: str = ""


@dataclass(frozen=True, slots=True)
class Rejected:
    """A size that does not do, and what stands against it."""

    line_mm2: float
    why: str


@dataclass(frozen=True, slots=True)
class SmallestCable:
    """The smallest size that does, None where none of the table does."""

    line_mm2: float | None
    cpc_mm2: float | None
    result: CircuitResult | None
    rejected: tuple[Rejected, ...]


@dataclass(frozen=True, slots=True)
class LargestLoad:
    """The largest load on a cable as it is, behind the device that allows it; 0 where none."""

    ib_a: float
    power_w: float
    in_a: float
    governs: str


@dataclass(frozen=True, slots=True)
class LargestDevice:
    """The largest rating that a cable bears as it is, None where none; what stops the next."""

    in_a: float | None
    governs: str


def longest_run(circuit: Circuit, site: Site) -> LongestRun:
    """Return the longest run of a circuit's cable behind its device.

    Volt drop counts with the conductor's true temperature, as its check does; the loop counts hot.

    Raises
    ------
    FieldError
        The cable's size or method is none that the table has.
    """
    bounds = _bounds(circuit, site)
    governing = _governing(bounds)
    length_m = _cut(governing.length_m)
    for bound in sorted(bounds, key=lambda b: -b.length_m):
        # Where the RCD takes over from the breaker a fault lasts longer, and the protective
        # conductor may not bear it: then the breaker's own, shorter length counts.
        at_m = min(length_m, _cut(bound.length_m))
        if at_m > 0 and not hindrances(with_cable(circuit, {"length_m": at_m}), site):
            name = governing.name if at_m == length_m else bound.name
            return LongestRun(at_m, name, bounds)
    against = hindrances(with_cable(circuit, {"length_m": _STEP_M}), site)
    why = against[0].message if against else "No length is left after what lies before it."
    return LongestRun(0.0, against[0].check if against else governing.name, bounds, why)


def _cut(length_m: float) -> float:
    """Return a length cut, not rounded: a tenth of a metre less is never wrong. [m]"""
    # A hair less, or binary fractions put a length just over its own limit.
    return floor((length_m - 1e-9) / _STEP_M) * _STEP_M if length_m < inf else length_m


def _governing(bounds: tuple[Bound, ...]) -> Bound:
    """Return the volt drop, or the loop of the device that reaches farther."""
    drop, *loops = bounds
    farthest = max(loops, key=lambda bound: bound.length_m, default=drop)
    return min(drop, farthest, key=lambda bound: bound.length_m)


def _bounds(circuit: Circuit, site: Site) -> tuple[Bound, ...]:
    bare = with_cable(circuit, {})
    result = site.assessed(bare)
    bounds = [Bound("volt drop", _by_drop_m(bare, result, site))]
    if site.origin.zdb_ohm is None or circuit.cable.cpc_mm2 == 0:
        return tuple(bounds)
    if site.job.supply.system != "TT":
        limit_ohm = result.breaker_zs_max_ohm
        bounds.append(Bound("loop of the overcurrent device", _by_loop_m(bare, site, limit_ohm)))
    idn_a = result.protection.idn_a
    if idn_a:
        limit_ohm = rcd_zs_max_ohm(site.edition.number("touch_voltage_v"), idn_a)
        bounds.append(Bound("loop of the RCD", _by_loop_m(bare, site, limit_ohm)))
    return tuple(bounds)


def _by_drop_m(circuit: Circuit, result: CircuitResult, site: Site) -> float:
    left_v = result.volt_drop_limit_v - submain_drop_v(site.job, site.origin, circuit.phases)
    per_a_m = drop_per_a_m(site.edition, circuit.cable.line_mm2, circuit.phases)
    per_m_v = per_a_m * drop_load_a(circuit, result.ib_a, site.edition) / paths_of(circuit)
    return max(left_v, 0.0) / (per_m_v * result.ct_factor)


def _by_loop_m(circuit: Circuit, site: Site, limit_ohm: float) -> float:
    cable, edition = circuit.cable, site.edition
    cold_ohm = loop_20c_ohm(edition, cable.line_mm2, cable.cpc_mm2, 1.0)
    per_m_ohm = cold_ohm * hot_factor(edition) / paths_of(circuit)
    return max(limit_ohm - (site.origin.zdb_ohm or 0.0), 0.0) / per_m_ohm


def smallest_cable(circuit: Circuit, site: Site) -> SmallestCable:
    """Return the smallest cable of its kind for a circuit's run, load and device."""
    rejected: list[Rejected] = []
    for line_mm2, cpc_mm2 in sizes(site.edition, circuit):
        tried = with_cable(circuit, {"line_mm2": line_mm2, "cpc_mm2": cpc_mm2})
        against = planned_against(tried, site)
        if not against:
            return SmallestCable(line_mm2, cpc_mm2, site.assessed(tried), tuple(rejected))
        rejected.append(Rejected(line_mm2, against[0].message))
    return SmallestCable(None, None, None, tuple(rejected))


def largest_load(circuit: Circuit, site: Site) -> LargestLoad:
    """Return the largest load on a cable as it lies, behind its device or the best there is."""
    best = LargestLoad(0.0, 0.0, 0.0, "")
    for in_a in _ratings(circuit, site):
        behind = with_device(circuit, {"in_a": in_a})
        found = _largest_behind(behind, in_a, site)
        best = max(best, found, key=lambda load: load.ib_a)
        best = best if best.governs else found
    return best


def _largest_behind(circuit: Circuit, in_a: float, site: Site) -> LargestLoad:
    full = planned_against(with_load(circuit, in_a), site)
    if not full:
        return _load(in_a, in_a, circuit, site, f"the device of {in_a:g} A")
    least = planned_against(with_load(circuit, in_a / 2**_HALVINGS), site)
    if least:
        return LargestLoad(0.0, 0.0, in_a, least[0].message)
    ib_a = _bisect(in_a, lambda ib_a: not planned_against(with_load(circuit, ib_a), site))
    return _load(ib_a, in_a, circuit, site, full[0].message)


def _load(ib_a: float, in_a: float, circuit: Circuit, site: Site, governs: str) -> LargestLoad:
    return LargestLoad(ib_a, ib_a * site.job.supply.u0_v * circuit.phases, in_a, governs)


def _bisect(high: float, fits: Callable[[float], bool]) -> float:  # the unit is the caller's
    low = 0.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    return low


def largest_device(circuit: Circuit, site: Site) -> LargestDevice:
    """Return the largest rating that a cable bears as it lies, whatever the load."""
    stopped: tuple[Finding, ...] = ()
    free = with_device(circuit, {"in_a": None})
    for in_a in sorted(_ratings(free, site), reverse=True):
        tried = with_load(with_device(circuit, {"in_a": in_a}), in_a / 2)
        against = planned_against(tried, site)
        if not against:
            return LargestDevice(in_a, stopped[0].message if stopped else _NO_MORE)
        stopped = against
    return LargestDevice(None, stopped[0].message if stopped else "")


def _ratings(circuit: Circuit, site: Site) -> tuple[float, ...]:
    if circuit.wanted.in_a is not None:
        return (circuit.wanted.in_a,)
    return tuple(sorted(float(row) for row in site.edition.table("breaker_ratings_a").rows))
