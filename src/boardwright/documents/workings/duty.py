"""The working of what stands ahead of the SPD, and of how long its duty lasts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from boardwright.catalogue.devices import DeviceType
from boardwright.circuits.working.step import Formula, Sheet, Step
from boardwright.design import Design
from boardwright.spd.ahead import shared_ahead
from boardwright.spd.results import Need
from boardwright.spd.strikes import place_of, strike_law
from boardwright.spd.wear import Wear, duty, duty_ranges, exponent_of, wear
from boardwright.spd.withstand import (
    Ahead,
    Wave,
    fuse_withstand_a,
    impulses,
    joule_integral_a2s,
    prearcing_a2s,
)

_KEYS = {Wave.SHORT: "fuse.k_8x20_us", Wave.LONG: "fuse.k_10x350_us"}

_FUSES = Sheet("Fuses under the surge")
_WEAR = Sheet("Surges here, and the SPD's duty")


def _strikes(ng_per_km2_year: float, strip_m: float, line_m: float) -> float:
    return ng_per_km2_year * strip_m * line_m / 1e6


def _direct(ng_per_km2_year: float, strip_direct_m: float, line_m: float) -> float:
    return _strikes(ng_per_km2_year, strip_direct_m, line_m)


def _near(ng_per_km2_year: float, strip_near_m: float, line_m: float) -> float:
    return _strikes(ng_per_km2_year, strip_near_m, line_m)


def _surge(crest_a: float, k_us: float) -> float:
    return joule_integral_a2s(crest_a, k_us * 1e-6)


def _bound(prearcing_a2s: float, k_us: float) -> float:
    return fuse_withstand_a(prearcing_a2s, k_us * 1e-6)


def _half_cycle(ipf_a: float, time_s: float) -> float:
    return ipf_a**2 * time_s


def _long(once_8x20_a: float, long_ratio: float) -> float:
    return once_8x20_a / long_ratio


SURGE = Formula(
    "surge_a2s", "What the surge brings to the fuse", "{crest_a}² · {k_us} / 10⁶", _surge
)
BOUND = Formula(
    "bound_a",
    "Upper bound of the crest that a gG fuse carries",
    "√({prearcing_a2s} · 10⁶ / {k_us})",
    _bound,
)
HALF_CYCLE = Formula(
    "half_cycle_a2s", "A fault's first half cycle", "{ipf_a}² · {time_s}", _half_cycle
)
DIRECT = Formula(
    "direct_per_year",
    "Strikes to the lines outside",
    "{ng_per_km2_year} · {strip_direct_m} · {line_m} / 10⁶",
    _direct,
)
NEAR = Formula(
    "near_per_year",
    "Strikes beside them that are felt",
    "{ng_per_km2_year} · {strip_near_m} · {line_m} / 10⁶",
    _near,
)
EXPONENT = Formula(
    "exponent_factor",
    "How fast smaller surges add up",
    "ln {count} / ln({imax_8x20_a} / {in_8x20_a})",
    exponent_of,
)
LONG = Formula(
    "once_10x350_a", "Long surge that uses the duty up", "{once_8x20_a} / {long_ratio}", _long
)


def duty_working(design: Design) -> tuple[Step, ...]:
    """Return the sums of the fuses ahead and of the wear, for the SPD taken or declined."""
    device = device_told(design)
    if device is None or device.spd is None:
        return ()
    return (*_fuse_steps(design, device), *_wear_steps(design, device))


def device_told(design: Design) -> DeviceType | None:
    """Return the SPD taken, or where the owner declined the one that would have been."""
    choice = design.chosen.spd
    if choice.candidate is not None:
        return choice.candidate.device
    if design.need.need is not Need.DECLINED:
        return None
    return next((each.device for each in choice.candidates if each.suitable), None)


def wear_of(design: Design) -> Wear | None:
    """Return the wear of the SPD taken or declined, or None where no SPD suits."""
    device = device_told(design)
    if device is None or device.spd is None:
        return None
    return wear(design.job.surge_environment, device.spd, design.edition)


def _fuse_steps(design: Design, device: DeviceType) -> Iterator[Step]:
    edition = design.edition
    for ahead in shared_ahead(design.job):
        if ahead.is_cartridge and ahead.in_a:
            yield from _fuse(ahead, ahead.in_a, design, device)
    ipf_a = design.plan.origin.ipf_board_max_a
    if ipf_a is not None:
        values = {"ipf_a": ipf_a, "time_s": edition.number("fuse.prearcing_time_s")}
        yield _FUSES.worked(HALF_CYCLE, values, edition.rule("fuse.prearcing_time_s"))


def _fuse(ahead: Ahead, in_a: float, design: Design, device: DeviceType) -> Iterator[Step]:
    edition = design.edition
    melts_a2s = prearcing_a2s(in_a, edition)
    if melts_a2s is None or device.spd is None:
        return
    k_us = {wave: edition.number(key) for wave, key in _KEYS.items()}
    rated = impulses(device.spd)
    for impulse in rated:
        values = {"crest_a": impulse.crest_a, "k_us": k_us[impulse.wave]}
        rule = edition.rule(_KEYS[impulse.wave])
        yield _FUSES.worked(SURGE, values, rule, f"{impulse.name} of the SPD")
    for wave in dict.fromkeys(impulse.wave for impulse in rated):
        values = {"prearcing_a2s": melts_a2s, "k_us": k_us[wave]}
        note = f"{ahead.name}, {wave.value}; a bound only, of a gG fuse"
        yield _FUSES.worked(BOUND, values, edition.rule("fuse.gg_prearcing_min"), note)


def _wear_steps(design: Design, device: DeviceType) -> Iterator[Step]:
    found = wear_of(design)
    spd, edition = device.spd, design.edition
    if found is None or spd is None:
        return
    law, place = strike_law(edition), place_of(design.job.surge_environment, edition)
    ng, line = place.ranges["ng_per_km2_year"], place.ranges["line_m"]
    here = {"ng_per_km2_year": ng.middle, "line_m": line.middle}
    note = "length weighted by the kind of line and its surroundings"
    strip = {"strip_direct_m": law.strip_direct_m}
    yield _WEAR.worked(DIRECT, here | strip, edition.rule("wear.strip_direct_m"), note)
    strip = {"strip_near_m": law.strip_near_m}
    yield _WEAR.worked(NEAR, here | strip, edition.rule("wear.strip_near_m"), note)
    ranges = duty_ranges(spd, edition)
    yield from _duty_steps({name: each.middle for name, each in ranges.items()}, design, device)
    yield _WEAR.given(
        "used_per_year",
        "Part of the duty that a year uses, in the middle of every range",
        # One figure: more would say more than is known.
        float(f"{1 / found.life_years.middle:.0e}"),
        rule=edition.rule("wear.duty_low_count"),
        note="over every class of size, its number a year · (Ip / Ip once)^p, added up",
    )


def _duty_steps(middle: Mapping[str, float], design: Design, device: DeviceType) -> Iterator[Step]:
    spd, edition = device.spd, design.edition
    if spd is None:
        return
    made = duty(spd, middle)
    rule = edition.rule("wear.duty_low_count")
    if spd.imax_8x20_a is not None and spd.imax_8x20_a > spd.in_8x20_a:
        values = {
            "count": middle["count"],
            "in_8x20_a": spd.in_8x20_a,
            "imax_8x20_a": spd.imax_8x20_a,
        }
        yield _WEAR.worked(EXPONENT, values, rule, "In borne 15 to 20 times, Imax once")
    if "long_ratio" in middle:
        values = {"once_8x20_a": made.once_8x20_a, "long_ratio": middle["long_ratio"]}
        note = "between what its charge and what its I²t compare to"
        yield _WEAR.worked(LONG, values, edition.rule("surge.charge_10x350_us"), note)
