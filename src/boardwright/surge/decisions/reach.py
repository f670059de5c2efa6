"""How far from the SPD equipment may stand: peak against length of cable, by calculation."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from boardwright.surge.assumptions import Assumptions
from boardwright.surge.bands import Band
from boardwright.surge.decisions.runs import bands_of, side_by_side
from boardwright.surge.home import HomeSurge, SurgeCircuit

LENGTHS_M = (1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 50.0)


@dataclass(frozen=True, slots=True)
class ReachPoint:
    """What an appliance would see at the end of so much cable."""

    length_m: float
    band: Band


@dataclass(frozen=True, slots=True)
class Reach:
    """One appliance at the end of longer and shorter cables.

    ``passes_m`` is the shortest length at which the upper end of the band passes the rated
    impulse voltage, between two lengths on a straight line; 0 where it does at every length,
    None where it does at none.
    """

    place: str
    appliance: str
    uw_v: float
    now_m: float
    points: tuple[ReachPoint, ...]
    passes_m: float | None
    until_m: float | None

    def says(self, rule_m: float) -> str:
        """Answer in a sentence whether the rule's distance holds here."""
        start = f"{self.appliance} ({self.now_m:g} m)"
        withstand = f"its {self.uw_v:.0f} V"
        if self.passes_m is None:
            longest_m = self.points[-1].length_m
            return f"{start}: stays within {withstand} at any length up to {longest_m:g} m."
        close = self.passes_m <= self.points[0].length_m
        if close and self.until_m is None:
            return f"{start}: can pass {withstand} at any length, even close to the board."
        side = "inside" if self.passes_m < rule_m else "beyond"
        near = "the board" if close else f"{self.passes_m:.0f} m"
        if self.until_m is not None:
            return (
                f"{start}: can pass {withstand} between {near} and {self.until_m:.0f} m of cable,"
                f" {side} the rule's {rule_m:g} m; farther away less is left."
            )
        return (
            f"{start}: can pass {withstand} from {near} of cable on,"
            f" {side} the rule's {rule_m:g} m."
        )


def reaches(home: HomeSurge, assumed: Assumptions) -> tuple[Reach, ...]:
    """Return the reach of each appliance that is studied."""
    return tuple(_reach(home, circuit, assumed) for circuit in home.studied)


def _reach(home: HomeSurge, circuit: SurgeCircuit, assumed: Assumptions) -> Reach:
    lengths_m = sorted({*LENGTHS_M, circuit.cable_m})
    bands = side_by_side(lambda length_m: _band_at(home, circuit, length_m, assumed), lengths_m)
    points = tuple(map(ReachPoint, lengths_m, bands))
    return reach_of(circuit, points)


def reach_of(circuit: SurgeCircuit, points: tuple[ReachPoint, ...]) -> Reach:
    """Return the reach that solved points give the appliance of a circuit."""
    appliance = circuit.appliance
    name, uw_v = (appliance.name, appliance.uw_v) if appliance else (circuit.name, 0.0)
    passes_m = crossing_m(points, uw_v)
    until_m = None if passes_m is None else _below_from_m(points, uw_v)
    return Reach(circuit.name, name, uw_v, circuit.cable_m, points, passes_m, until_m)


def _band_at(home: HomeSurge, circuit: SurgeCircuit, length_m: float, assumed: Assumptions) -> Band:
    circuits = tuple(
        replace(each, cable_m=length_m) if each.name == circuit.name else each
        for each in home.circuits
    )
    moved = replace(home, circuits=circuits)
    return next(b.band for b in bands_of(moved, assumed) if b.place == circuit.name)


def crossing_m(points: Sequence[ReachPoint], uw_v: float) -> float | None:
    """Return the first length at which the band's upper end passes a voltage. [m]"""
    before: ReachPoint | None = None
    for point in points:
        high_v = point.band.p95_v
        if high_v > uw_v:
            if before is None:
                return 0.0
            return _between_m(before, point, uw_v)
        before = point
    return None


def _below_from_m(points: Sequence[ReachPoint], uw_v: float) -> float | None:
    """Return the length from which the upper end stays below a voltage again. [m]"""
    last = max(n for n, point in enumerate(points) if point.band.p95_v > uw_v)
    if last == len(points) - 1:
        return None
    return _between_m(points[last], points[last + 1], uw_v)


def _between_m(before: ReachPoint, after: ReachPoint, uw_v: float) -> float:
    share = (uw_v - before.band.p95_v) / (after.band.p95_v - before.band.p95_v)
    return before.length_m + share * (after.length_m - before.length_m)
