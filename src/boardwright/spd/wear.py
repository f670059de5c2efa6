"""How long an SPD's duty lasts under the surges of its place: a range, told in words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import log, sqrt

from boardwright.catalogue.devices import SpdData
from boardwright.job.supply import SurgeEnvironment
from boardwright.spd.ranges import Range, spread
from boardwright.spd.strikes import (
    Exposure,
    Place,
    StrikeLaw,
    direct_per_year,
    exposure,
    near_per_year,
    place_of,
    strike_law,
)
from boardwright.spd.withstand import Wave, shape_s
from boardwright.standards.edition import Edition

_SMALLEST_A = 10.0
_LARGEST_A = 1e6
_CLASSES = 80
"""Classes of size between the two, evenly by their logarithm: each 15 % wide."""


@dataclass(frozen=True, slots=True)
class Often:
    """Surges of a size or more, with the name of the rating that the size is, if any."""

    name: str
    size_a: float
    times_per_year: Range


@dataclass(frozen=True, slots=True)
class Duty:
    """What an SPD is made for: the crest that it carries once, and how fast smaller ones add up.

    A surge of crest i uses up (i / once)^exponent of it, the whole at most.
    """

    once_8x20_a: float
    once_10x350_a: float
    exponent_factor: float

    def used_ratio(self, crest_a: float, wave: Wave) -> float:
        """Return the part of the duty that one surge uses up."""
        once_a = self.once_8x20_a if wave is Wave.SHORT else self.once_10x350_a
        return float(min(1.0, (crest_a / once_a) ** self.exponent_factor))


@dataclass(frozen=True, slots=True)
class Wear:
    """How often surges come, and how long the duty lasts by them alone."""

    place: Place
    often: tuple[Often, ...]
    life_years: Range


def wear(environment: SurgeEnvironment, spd: SpdData, edition: Edition) -> Wear:
    """Return what the surges of a place do to an SPD.

    References
    ----------
    IEC 62305-2:2010 Annex A for the rates; IEC 61643-11, operating duty test, for the duty.

    Raises
    ------
    FieldError
        The flash density or a length of line is none that a place can have.
    """
    place, law = place_of(environment, edition), strike_law(edition)

    def life(values: Mapping[str, float]) -> float:
        return life_years(exposure(values), duty(spd, values), law)

    return Wear(
        place=place,
        often=tuple(_often(place, law, spd, edition)),
        life_years=spread(life, {**place.ranges, **duty_ranges(spd, edition)}),
    )


def duty_ranges(spd: SpdData, edition: Edition) -> Mapping[str, Range]:
    """Return what the device's ratings leave open, each as a range.

    How often In is borne; the exponent where no Imax is stated; and for a Type 2, to how large a
    short surge a long one compares: by its I²t at least, at most by its charge, which heats the
    varistor.
    """
    ranges = {
        "count": Range(
            edition.number("wear.duty_low_count"), edition.number("wear.duty_high_count")
        )
    }
    if _imax_a(spd) is None:
        ranges["exponent_factor"] = Range(
            edition.number("wear.exponent_low"), edition.number("wear.exponent_high")
        )
    if spd.iimp_10x350_a is None:
        charge_ratio = edition.number("surge.charge_10x350_us") / edition.number(
            "surge.charge_8x20_us"
        )
        joule_ratio = sqrt(shape_s(Wave.LONG, edition) / shape_s(Wave.SHORT, edition))
        ranges["long_ratio"] = Range(joule_ratio, charge_ratio)
    return ranges


def duty(spd: SpdData, values: Mapping[str, float]) -> Duty:
    """Return the duty by the device's own ratings and one value of each figure left open.

    In is borne ``count`` times and Imax once, which gives the exponent between them; without Imax
    the exponent gives what is borne once.
    """
    count, in_a, imax_a = values["count"], spd.in_8x20_a, _imax_a(spd)
    if imax_a is None:
        exponent_factor = values["exponent_factor"]
        once_a = in_a * count ** (1 / exponent_factor)
    else:
        exponent_factor = exponent_of(count, in_a, imax_a)
        once_a = imax_a
    long_a = spd.iimp_10x350_a or once_a / values["long_ratio"]
    return Duty(once_a, long_a, exponent_factor)


def exponent_of(count: float, in_8x20_a: float, imax_8x20_a: float) -> float:
    """Return the exponent by which In, borne so many times, equals Imax, borne once."""
    return log(count) / log(imax_8x20_a / in_8x20_a)


def life_years(exposure: Exposure, duty: Duty, law: StrikeLaw) -> float:
    """Return after how many years the surges have used up the duty, one after the other."""
    used_per_year = _used_per_year(duty, Wave.SHORT, lambda a: near_per_year(a, exposure, law))
    used_per_year += _used_per_year(duty, Wave.LONG, lambda a: direct_per_year(a, exposure, law))
    return 1 / used_per_year


def _used_per_year(duty: Duty, wave: Wave, above_per_year: Callable[[float], float]) -> float:
    """Add up what each class of size uses, every surge counted as the middle of its class."""
    growth = (_LARGEST_A / _SMALLEST_A) ** (1 / _CLASSES)
    edges_a = [_SMALLEST_A * growth**n for n in range(_CLASSES + 1)]
    above = [above_per_year(edge_a) for edge_a in edges_a]
    classes = zip(edges_a[:-1], above[:-1], above[1:], strict=True)
    used = (
        duty.used_ratio(lower_a * sqrt(growth), wave) * (more - less)
        for lower_a, more, less in classes
    )
    return sum(used) + above[-1]


def _imax_a(spd: SpdData) -> float | None:
    """Return Imax, or None where none above In is stated: then it says nothing beside In."""
    imax_a = spd.imax_8x20_a
    return imax_a if imax_a is not None and imax_a > spd.in_8x20_a else None


def _often(place: Place, law: StrikeLaw, spd: SpdData, edition: Edition) -> list[Often]:
    told = {row["size_a"]: "" for row in edition.table("wear.sizes").rows.values()}
    told[spd.in_8x20_a] = "In"
    if spd.imax_8x20_a is not None:
        told[spd.imax_8x20_a] = "Imax"
    return [Often(told[a], a, spread(_above(a, law), place.ranges)) for a in sorted(told)]


def _above(size_a: float, law: StrikeLaw) -> Callable[[Mapping[str, float]], float]:
    def above(values: Mapping[str, float]) -> float:
        here = exposure(values)
        return direct_per_year(size_a, here, law) + near_per_year(size_a, here, law)

    return above
