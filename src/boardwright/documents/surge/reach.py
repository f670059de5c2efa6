"""Peak against length of cable, as a plot: how far the SPD reaches."""

from __future__ import annotations

from boardwright.documents.surge.curves import Limit, Plot, Tick, Trace, nice_step, values_up
from boardwright.documents.words.figures import quantity, sentence
from boardwright.surge.decisions import Reach, ReachPoint

_LENGTHS_M = (0.0, 10.0, 20.0, 30.0, 40.0, 50.0)


def reach_plot(reach: Reach, rule_m: float) -> Plot:
    """Return the upper end of the band and the typical peak against the length of cable."""
    longest_m = reach.points[-1].length_m
    top_v = max([point.band.p95_v for point in reach.points] + [reach.uw_v]) * 1.02
    step_k = nice_step(top_v / 1000)
    high_k = step_k * -(-top_v / 1000 // step_k)

    def at(point: ReachPoint, volts: float) -> tuple[float, float]:
        return round(point.length_m / longest_m, 4), round(volts / 1000 / high_k, 4)

    upper = tuple(at(point, point.band.p95_v) for point in reach.points)
    typical = tuple(at(point, point.band.typical_v) for point in reach.points)
    now = next(point for point in reach.points if point.length_m == reach.now_m)
    title = sentence(reach.says(rule_m)).rstrip(".")
    return Plot(
        f"reach {reach.place}",
        f"{title}.",
        f"{title}. Peak against length of cable, {longest_m:g} m at most.",
        (
            Trace("upper end, 95 %", "plain", upper, at(now, now.band.p95_v)),
            Trace("typical", "dashed", typical, None),
        ),
        (Limit(f"withstand {quantity(reach.uw_v, 'V')}", reach.uw_v / 1000 / high_k),),
        tuple(
            Tick(
                length_m / longest_m,
                f"{length_m:g}\u00a0m" if length_m == last_m else f"{length_m:g}",
            )
            for last_m in [max(each for each in _LENGTHS_M if each <= longest_m)]
            for length_m in _LENGTHS_M
            if length_m <= longest_m
        ),
        values_up(0.0, high_k, step_k, "kV"),
    )
