"""Does the first-order band of a study hold against a Monte Carlo of the same inputs?

The study moves one input at a time; here all are drawn together, the surge held at its size.
"""

from boardwright.surge import SpdConnection, SurgeEarthing, load_assumptions
from boardwright.surge.bands import STANDARD_SURGE
from boardwright.surge.decisions import bands_of, spread
from experiments.surge_steps import home

DRAWS = 400


def main() -> None:
    assumed = load_assumptions()
    for earthing, connection in (
        (SurgeEarthing.TN_C_S, SpdConnection.CT1),
        (SurgeEarthing.TT, SpdConnection.CT2),
    ):
        subject = home(earthing, connection)
        drawn = spread(subject, assumed, draws=DRAWS, named=STANDARD_SURGE)
        for many, first in zip(drawn.places, bands_of(subject, assumed), strict=True):
            print(
                f"{earthing.value} {many.place}: {DRAWS} draws"
                f" {many.p5_v:.0f} {many.p50_v:.0f} {many.p95_v:.0f} V, first order {first.band}"
            )


if __name__ == "__main__":
    main()
