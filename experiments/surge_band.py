"""Does the first-order band of a study hold against a Monte Carlo of the same inputs?

Each input is drawn from a distribution with the same 5 %, 50 % and 95 % points:
two half-normal sides in the logarithm, or in the value where it may be zero-sided.
"""

import numpy as np

from boardwright.surge import LeadRule, SpdConnection, SurgeEarthing, load_assumptions, study
from boardwright.surge.assumptions import AssumedInput, Assumptions
from boardwright.surge.build import network_of
from boardwright.surge.elements import Node
from boardwright.surge.solver import solve
from boardwright.surge.study import STANDARD_SURGE
from experiments.surge_steps import home

DRAWS = 400
P95_SIGMAS = 1.6449


def draw(item: AssumedInput, sigma: float) -> float:
    end = item.high if sigma > 0 else item.low
    value: float = item.typical * (end / item.typical) ** (abs(sigma) / P95_SIGMAS)
    return value


def drawn(assumed: Assumptions, random: np.random.Generator) -> Assumptions:
    for item in list(assumed.inputs.values()):
        assumed = assumed.having(item.name, draw(item, float(random.normal())))
    return assumed


def main() -> None:
    assumed, random = load_assumptions(), np.random.default_rng(1)
    for earthing, connection in (
        (SurgeEarthing.TN_C_S, SpdConnection.CT1),
        (SurgeEarthing.TT, SpdConnection.CT2),
    ):
        subject = home(earthing, connection)
        peaks: dict[str, list[float]] = {"board": [], "ring": []}
        for _ in range(DRAWS):
            network = network_of(subject, STANDARD_SURGE.wave, drawn(assumed, random))
            solution = solve(network, 12e-6)
            for place, found in peaks.items():
                line, others = Node(place, "L"), (Node(place, "N"), Node(place, "PE"))
                found.append(max(solution.peak_v(line, other) for other in others))
        result = study(subject, assumed, LeadRule(1000.0))
        for place in result.places:
            p5, p50, p95 = np.percentile(peaks[place.place], [5, 50, 95])
            print(
                f"{earthing.value} {place.place}: {DRAWS} draws {p5:.0f} {p50:.0f} {p95:.0f} V,"
                f" first order {place.with_spd_v}"
            )


if __name__ == "__main__":
    main()
