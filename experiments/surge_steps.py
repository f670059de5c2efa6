"""What the graded steps of the surge solver cost in accuracy and time, for one home."""

from time import perf_counter

from boardwright.surge import (
    STANDARD_SURGE,
    ConnectedAppliance,
    HomeSurge,
    SpdAsWired,
    SpdConnection,
    SurgeCircuit,
    SurgeEarthing,
    load_assumptions,
    network_of,
    solve,
)
from boardwright.surge.elements import Node
from boardwright.surge.solver import GRADED, finer


def home(earthing: SurgeEarthing, connection: SpdConnection) -> HomeSurge:
    spd = SpdAsWired(connection, 275, 1300, 10e3, 0.25, 0.1, 0.25, npe_sparkover_v=1500)
    television = ConnectedAppliance("the television", 10e-9, 1000.0, 2500.0)
    others = tuple(SurgeCircuit(f"circuit {at}", 12.0) for at in range(2, 9))
    circuits = (SurgeCircuit("ring", 15.0, television), *others)
    return HomeSurge(earthing, 2.0, 25, 1.5, 16, 4000, spd, circuits)


def main() -> None:
    for earthing, connection in (
        (SurgeEarthing.TN_C_S, SpdConnection.CT1),
        (SurgeEarthing.TT, SpdConnection.CT2),
    ):
        wave = STANDARD_SURGE.wave
        network = network_of(home(earthing, connection), wave, load_assumptions())
        for factor in (1, 2, 4, 8, 16):
            start_s = perf_counter()
            solution = solve(network, 60e-6, stages=finer(GRADED, factor))
            took_ms = 1000 * (perf_counter() - start_s)
            peaks = [
                round(solution.peak_v(Node(place, "L"), Node(place, other)), 1)
                for place in ("board", "ring")
                for other in ("PE", "N")
            ]
            gap = solution.energy.gap_ratio
            print(f"{earthing.value} /{factor}: {peaks} V, {took_ms:.0f} ms, energy gap {gap:.1e}")


if __name__ == "__main__":
    main()
