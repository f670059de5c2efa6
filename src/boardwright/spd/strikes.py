"""How often a surge of some size comes in by the lines: as a range, for much of it is not known.

A strike to the line itself, and one to the ground beside it, as IEC 62305-2 counts them; the size
from the strike's current and, beside the line, from its distance. Left out: a strike to the home,
which asks for a Type 1, and the many small surges of switching, which wear nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp, isfinite, log

from boardwright.core.errors import FieldError
from boardwright.job.supply import SurgeEnvironment
from boardwright.spd.ranges import Range
from boardwright.standards.edition import Edition

_INTERVALS = 32
"""Parts of Simpson's rule over the logarithm of the distance: 1e-4 of the rate."""

_KM2_PER_M2 = 1e-6

MOST_FLASHES = 50.0
"""Beyond what the Earth's stormiest places see, in 1/(km²·year): a slip of the pen."""


@dataclass(frozen=True, slots=True)
class StrikeLaw:
    """What the standards say of strikes and of the part of their current that comes in.

    ``current_exponent`` and ``current_median_a`` give the chance of a larger first stroke;
    the shares are crest at the SPD over the strike's own, beside the line at the strip's edge.
    """

    strip_direct_m: float
    strip_near_m: float
    current_median_a: float
    current_exponent_factor: float
    share_direct_ratio: float
    share_near_ratio: float


@dataclass(frozen=True, slots=True)
class Exposure:
    """What brings surges: flashes, the length of line that counts, strokes, and their size.

    ``line_m`` is weighted by the kind of line and its surroundings.
    """

    ng_per_km2_year: float
    line_m: float
    strokes_factor: float
    size_factor: float

    def __post_init__(self) -> None:
        """Refuse what no place on Earth has."""
        if not (isfinite(self.ng_per_km2_year) and self.ng_per_km2_year > 0):
            raise _no_density(self.ng_per_km2_year)
        if not (isfinite(self.line_m) and self.line_m >= 0):
            raise FieldError("surge_environment", self.line_m, "a length of line in m, not below 0")


@dataclass(frozen=True, slots=True)
class Place:
    """A home's exposure: the range of each figure, and in words what the survey left open."""

    ranges: Mapping[str, Range]
    assumed: tuple[str, ...]


def strike_law(edition: Edition) -> StrikeLaw:
    """Return what the edition's data says of strikes."""
    return StrikeLaw(
        strip_direct_m=edition.number("wear.strip_direct_m"),
        strip_near_m=edition.number("wear.strip_near_m"),
        current_median_a=edition.number("wear.current_median_a"),
        current_exponent_factor=edition.number("wear.current_exponent"),
        share_direct_ratio=edition.number("wear.share_direct_ratio"),
        share_near_ratio=edition.number("wear.share_near_ratio"),
    )


def place_of(environment: SurgeEnvironment, edition: Edition) -> Place:
    """Return a home's exposure. What the survey does not know widens the range and is named."""
    flashes = _flashes(environment, edition)
    line, rest_m = _line_m(environment, edition)
    assumed = []
    if environment.ng_per_km2_year is None:
        assumed.append(
            f"flash density not known: {flashes.low:g} to {flashes.high:g} per km² and year"
        )
    if rest_m > 0:
        assumed.append(f"{rest_m:g} m of line not known: cable at the least, overhead at most")
    ranges = {
        "ng_per_km2_year": flashes,
        "line_m": line,
        "strokes_factor": Range(
            edition.number("wear.strokes_low"), edition.number("wear.strokes_high")
        ),
        "size_factor": Range(
            edition.number("wear.size_low_factor"), edition.number("wear.size_high_factor")
        ),
    }
    return Place(ranges, tuple(assumed))


def exposure(values: Mapping[str, float]) -> Exposure:
    """Return the exposure that one value of each figure makes."""
    return Exposure(
        values["ng_per_km2_year"],
        values["line_m"],
        values["strokes_factor"],
        values["size_factor"],
    )


def chance_above(current_a: float, law: StrikeLaw) -> float:
    """Return the chance that a first stroke's current is larger: 1 / (1 + (I/median)^exponent)."""
    return float(1 / (1 + (current_a / law.current_median_a) ** law.current_exponent_factor))


def direct_per_year(size_a: float, exposure: Exposure, law: StrikeLaw) -> float:
    """Return how many surges of a size or more come from strikes to the line, 10/350.

    References
    ----------
    IEC 62305-2:2010, A.4: NL = Ng · 40 L · CI · CE · CT; IEC 62305-1, Table E.2 for the size.
    """
    strike_a = _size(size_a) / (law.share_direct_ratio * exposure.size_factor)
    strikes = _strikes_per_year(exposure, law.strip_direct_m)
    return strikes * chance_above(strike_a, law) * exposure.strokes_factor


def near_per_year(size_a: float, exposure: Exposure, law: StrikeLaw) -> float:
    """Return how many surges of a size or more come from strikes beside the line, 8/20.

    The size falls as the distance grows, 1/d from the edge of the strip that is struck itself.

    References
    ----------
    IEC 62305-2:2010, A.5: NI = Ng · 4000 L · CI · CE · CT; IEC 62305-1, Table E.2 for the size;
    the fall with distance is that of the voltage induced over a conducting ground, from memory.
    """
    edge_m, far_m = law.strip_direct_m / 2, law.strip_near_m / 2
    strike_a = _size(size_a) / (law.share_near_ratio * exposure.size_factor)
    # Over the logarithm of the distance the integrand is smooth from edge to edge.
    step = log(far_m / edge_m) / _INTERVALS
    distances_m = [edge_m * exp(step * n) for n in range(_INTERVALS + 1)]
    values_m = [d_m * chance_above(strike_a * d_m / edge_m, law) for d_m in distances_m]
    width_m = 2 * _simpson(values_m, step)
    return _strikes_per_year(exposure, width_m) * exposure.strokes_factor


def _size(size_a: float) -> float:
    if not (isfinite(size_a) and size_a >= 0):
        raise FieldError("size_a", size_a, "the crest of a surge in A, not below 0")
    return size_a


def _strikes_per_year(exposure: Exposure, width_m: float) -> float:
    return exposure.ng_per_km2_year * exposure.line_m * width_m * _KM2_PER_M2


def _simpson(values: list[float], step: float) -> float:
    odd, even = sum(values[1:-1:2]), sum(values[2:-1:2])
    return step / 3 * (values[0] + 4 * odd + 2 * even + values[-1])


def _no_density(ng_per_km2_year: float) -> FieldError:
    path = "surge_environment.ng_per_km2_year"
    right = f"flashes to ground per km² and year, above 0 and at most {MOST_FLASHES:g}"
    return FieldError(path, ng_per_km2_year, right)


def _flashes(environment: SurgeEnvironment, edition: Edition) -> Range:
    ng = environment.ng_per_km2_year
    if ng is None:
        return Range(
            edition.number("wear.ng_low_per_km2_year"), edition.number("wear.ng_high_per_km2_year")
        )
    if not 0 < ng <= MOST_FLASHES:
        raise _no_density(ng)
    spread = 1 + edition.number("wear.ng_spread_ratio")
    return Range(ng / spread, ng * spread)


def _line_m(environment: SurgeEnvironment, edition: Edition) -> tuple[Range, float]:
    """Return the weighted length, the unknown rest as cable or as overhead, and that rest. [m]"""
    ce_factor = edition.number(f"wear.ce_{environment.setting}")
    ci = {kind: edition.number(f"wear.ci_{kind}") for kind in ("overhead", "underground")}
    ct = {level: edition.number(f"wear.ct_{level}") for level in ("lv", "hv")}
    lengths = {
        (level, kind): getattr(environment, f"{level}_{kind}_m") for level in ct for kind in ci
    }
    known_m = {names: length_m for names, length_m in lengths.items() if length_m is not None}
    counted_m = sum(ct[level] * ci[kind] * m for (level, kind), m in known_m.items())
    rest_m = 0.0
    # No line at all is a line that nobody looked for: every home hangs on one.
    if len(known_m) < len(lengths) or not counted_m:
        rest_m = max(0.0, edition.number("wear.line_considered_m") - sum(known_m.values()))
    least_m = counted_m + rest_m * ct["hv"] * ci["underground"]
    most_m = counted_m + rest_m * ct["lv"] * ci["overhead"]
    return Range(ce_factor * least_m, ce_factor * most_m), rest_m
