"""The surge solver: accuracy on 200 houses, speed against ngspice in the same run.

Ratios say how many times longer ngspice takes at its fastest setting that is at least as
accurate on the same netlist. Ours is warm and its network prepared, as for the next surge of
the same home, or prepared anew each time; ngspice's time is that of its whole process, or of
its analysis alone by its own word, reading and preparing the netlist left out. Errors are
those of the worst place that counts, against a run of ours at a twentieth of the step, which
ngspice must confirm.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass
from functools import partial

import numpy as np

from bench.harness import Ratio, Result, Work, compare
from bench.houses import House, home_house, one_loop_house
from bench.ngspice import Finished, run_ngspice
from boardwright.core.errors import BoardwrightError
from boardwright.surge.assumptions import Assumptions, load_assumptions
from boardwright.surge.batch import CORES, Draws, run_many
from boardwright.surge.elements import Gap, Node
from boardwright.surge.many import on_the_mains
from boardwright.surge.one_surge import RepeatedSurge
from boardwright.surge.prepare import STEP_RULES, Accuracy, StepRule, Watch, prepare
from boardwright.surge.solver import crest
from boardwright.surge.spice import SpiceRun, node_number
from boardwright.surge.waveforms import Array
from boardwright.surge.waves import run_prepared

TITLE = "Surge solver: 200 houses against a converged run, and ngspice on the same netlist"

CONVERGED = StepRule(0.25e-9, 0.1e-9, 0.05e-9, 1.0)
FRONT_S = 15e-6  # every peak lies in it
STUDY_S = 100e-6
REPEATS = 9
# Ten times a slower setting than this, and the bench would not end in ten minutes.
LIMIT_S = 6.0
MANY = 10_000

# ngspice's longest step and its tolerance, the quickest first.
SETTINGS = [
    (30e-9, 1e-3), (20e-9, 1e-3), (15e-9, 1e-3), (10e-9, 1e-3), (7e-9, 1e-3), (5e-9, 1e-3),
    (3e-9, 1e-3), (2e-9, 1e-3), (1e-9, 1e-3), (0.5e-9, 1e-3), (0.25e-9, 1e-3),
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Errors:
    """How far a setting is from the converged run, over many houses."""

    name: str
    houses: int
    peak_median_ratio: float
    peak_p95_ratio: float
    peak_most_ratio: float
    energy_most_ratio: float
    balance_most_ratio: float
    undecided_count: int

    def line(self) -> str:
        """Return the errors as one printed line."""
        return (
            f"{self.name:<44} worst place: median {self.peak_median_ratio:.4%}, "
            f"p95 {self.peak_p95_ratio:.4%}, most {self.peak_most_ratio:.4%}; varistor energy "
            f"{self.energy_most_ratio:.5%}; energy not found again {self.balance_most_ratio:.5%} "
            f"({self.houses} houses;"
            f" {self.undecided_count} more whose gap only just fires or not)"
        )

    def record(self) -> dict[str, object]:
        """Return the errors for the JSON file."""
        return asdict(self)


@dataclass(frozen=True, slots=True)
class Against:
    """A ratio with the errors of both sides."""

    ratio: Ratio
    setting: str
    error_ratio: float
    ngspice_error_ratio: float
    ngspice_at_converged_ratio: float

    def line(self) -> str:
        """Return the ratio and both errors as one printed line."""
        return (
            f"{self.ratio.line()}\n      ngspice {self.setting}:"
            f" error {self.ngspice_error_ratio:.3%} against ours {self.error_ratio:.3%};"
            f" both converged: {self.ngspice_at_converged_ratio:.3%} apart"
        )

    def record(self) -> dict[str, object]:
        """Return all of it for the JSON file."""
        return {**asdict(self), **self.ratio.record()}


@dataclass(frozen=True, slots=True)
class Unmatched:
    """A house of which ngspice was as accurate at no setting that ends in some seconds."""

    name: str
    error_ratio: float
    why: str

    def line(self) -> str:
        """Return it as one printed line."""
        return f"{self.name:<44} no ratio: our error {self.error_ratio:.3%}. {self.why}"

    def record(self) -> dict[str, object]:
        """Return it for the JSON file."""
        return asdict(self)


@dataclass(frozen=True, slots=True)
class Throughput:
    """How long many surges of one house take on this machine's cores."""

    name: str
    surges: int
    wall_s: float
    cpu_s: float
    kernel: str

    def line(self) -> str:
        """Return the time as one printed line."""
        return (
            f"{self.name:<44} {self.surges} surges in {self.wall_s:.2f} s "
            f"(processor time {self.cpu_s:.2f} s on {CORES} cores; kernel: {self.kernel})"
        )

    def record(self) -> dict[str, object]:
        """Return the time for the JSON file."""
        return asdict(self)


def measure() -> list[Result]:
    """Measure accuracy, ratios and throughput."""
    assumed = load_assumptions()
    results: list[Result] = []
    results += _accuracy(assumed)
    for house, name in (
        (one_loop_house(1000), "one loop A"),
        (one_loop_house(1003), "one loop B"),
        (_home(assumed, 1000, gap=False, firing=False), "L, N, PE with CT1 A"),
        (_home(assumed, 1100, gap=False, firing=False), "L, N, PE with CT1 B"),
        (_home(assumed, 1200, gap=True, firing=True), "L, N, PE with CT2, gap fires"),
    ):
        results += _ratios(house, name)
    results += _throughput(assumed)
    return results


def _home(assumed: Assumptions, first: int, *, gap: bool, firing: bool) -> House:
    """Return the first house from a seed on that is as wanted."""
    for seed in range(first, first + 200):
        house = home_house(seed, assumed)
        has = any(isinstance(item, Gap) for item in house.network.elements)
        if has is gap and (not firing or _fires(house)):
            return house
    raise BoardwrightError("bench: no such house among 200.")


def _fires(house: House) -> bool:
    solution = run_prepared(prepare(house.network, _watch(house), CONVERGED), 3e-6)
    return bool(np.abs(solution.current_a("SPD gap")).max() > 0)


def _watch(house: House) -> Watch:
    nodes = dict.fromkeys(node for place in house.places for node in place)
    reference = house.network.reference
    return Watch(tuple((node, reference) for node in nodes if node != reference))


@dataclass(frozen=True, slots=True)
class Found:
    """What one run of a house gives."""

    peaks_v: Array
    energy_j: float
    balance_ratio: float
    fired: bool


def _peaks(house: House, rule: StepRule, end_s: float) -> Found:
    solution = run_prepared(prepare(house.network, _watch(house), rule), end_s)
    peaks = np.array([solution.peak_v(a, b) for a, b in house.places])
    fired = "SPD gap" in solution.ports and bool(solution.current_a("SPD gap").any())
    balance_ratio = abs(solution.energy.gap_ratio)
    return Found(peaks, solution.energy_j(house.varistor), balance_ratio, fired)


def _accuracy(assumed: Assumptions) -> list[Result]:
    makers: list[tuple[str, Callable[[int], House]]] = [
        ("one loop", one_loop_house),
        ("L, N, PE, CT1 or CT2", lambda seed: home_house(seed, assumed)),
    ]
    rows: dict[tuple[str, Accuracy], list[Row]] = {}
    for name, make in makers:
        for seed in range(100):
            house = make(seed)
            exact = _peaks(house, CONVERGED, FRONT_S)
            for accuracy in Accuracy:
                found = _peaks(house, STEP_RULES[accuracy], FRONT_S)
                error = float(np.abs(found.peaks_v / exact.peaks_v - 1).max())
                energy = abs(found.energy_j / exact.energy_j - 1)
                row = (error, energy, found.balance_ratio, found.fired == exact.fired)
                rows.setdefault((name, accuracy), []).append(row)
                rows.setdefault(("all", accuracy), []).append(row)
            if seed % 10 == 0:
                print(f"    accuracy, {name}: {seed}/100", file=sys.stderr)
    return [
        _errors(f"{accuracy.value} setting, {name}", found)
        for (name, accuracy), found in rows.items()
    ]


Row = tuple[float, float, float, bool]


def _errors(name: str, rows: list[Row]) -> Errors:
    # A gap that a hair's breadth of voltage fires or not has two right answers.
    peaks, energies, balances = np.array([row[:3] for row in rows if row[3]]).T
    return Errors(
        name,
        len(peaks),
        float(np.median(peaks)),
        float(np.quantile(peaks, 0.95)),
        float(peaks.max()),
        float(energies.max()),
        float(balances.max()),
        len(rows) - len(peaks),
    )


def _ratios(house: House, name: str) -> list[Result]:
    exact = _peaks(house, CONVERGED, STUDY_S).peaks_v
    theirs, _ = _ngspice_peaks(house, SpiceRun(STUDY_S, 0.5e-9, 1e-4))
    agree = float(np.abs(theirs / exact - 1).max())
    results: list[Result] = []
    for accuracy in (Accuracy.QUICK, Accuracy.DEFAULT):
        rule = STEP_RULES[accuracy]
        ready = _prepared(house, rule)
        error = float(np.abs(ready.solve().volts / exact - 1).max())
        try:
            run, their_error = _fastest(house, exact, error)
        except BoardwrightError as none:
            results.append(Unmatched(f"{name}, {accuracy.value}", error, str(none)))
            continue
        setting = f"step {run.longest_step_s * 1e9:g} ns, reltol {run.tolerance_ratio:g}"
        analyses_s: list[float] = []
        ours: dict[str, Work] = {
            f"one surge, prepared ({ready.kernel})": ready.solve,
            f"one surge, preparing it too ({ready.kernel})": partial(
                _prepared_and_solved, house, rule
            ),
        }
        turns = compare(
            ours,
            reference="ngspice",
            work=partial(_timed_analysis, house, run, analyses_s),
            repeats=REPEATS,
        )
        # The first round only warmed caches.
        alone = Ratio(turns[0].name, "", turns[0].times_s, tuple(analyses_s[1:]))
        for turn, counted in ((turns[0], "process"), (alone, "analysis"), (turns[1], "process")):
            ratio = Ratio(
                f"{name}, {accuracy.value}, ngspice's {counted}",
                turn.name,
                turn.reference_times_s,
                turn.times_s,
            )
            results.append(Against(ratio, setting, error, their_error, agree))
        print(f"    ratio, {name}, {accuracy.value}: done", file=sys.stderr)
    if name.startswith("one loop"):
        results.append(_many_at_once(house, name, exact, agree))
    return results


def _prepared(house: House, rule: StepRule) -> RepeatedSurge:
    return RepeatedSurge(house.network, Watch(house.places), STUDY_S, rule=rule)


def _prepared_and_solved(house: House, rule: StepRule) -> object:
    return _prepared(house, rule).solve()


def _timed_analysis(house: House, run: SpiceRun, analyses_s: list[float]) -> None:
    analyses_s.append(_run(house, run).analysis_s)


def _many_at_once(house: House, name: str, exact: Array, agree: float) -> Result:
    """Compare one run of ngspice with one of 1,024 surges of ours on all cores."""
    draws = Draws(np.ones(1024), np.zeros(1024))
    watch = Watch(house.places)
    peaks = run_many(house.network, watch, draws, STUDY_S).volts[0]
    error = float(np.abs(peaks / exact - 1).max())
    run, their_error = _fastest(house, exact, error)
    (ratio,) = compare(
        {f"{name}, quick, ngspice's process on one core": lambda: _ngspice_peaks(house, run)},
        reference=f"1/1024 of 1,024 surges on {CORES} cores",
        work=lambda: run_many(house.network, watch, draws, STUDY_S),
        repeats=REPEATS,
    )
    each = tuple(time_s / 1024 for time_s in ratio.reference_times_s)
    ratio = Ratio(ratio.name, ratio.reference, ratio.times_s, each)
    setting = f"step {run.longest_step_s * 1e9:g} ns, reltol {run.tolerance_ratio:g}"
    return Against(ratio, setting, error, their_error, agree)


def _run(house: House, run: SpiceRun, *, limit_s: float = 60.0) -> Finished:
    nodes = tuple(node for node, _ in _watch(house).voltages)
    return run_ngspice(house.network, run, nodes, limit_s=limit_s)


def _ngspice_peaks(house: House, run: SpiceRun, *, limit_s: float = 60.0) -> tuple[Array, float]:
    done = _run(house, run, limit_s=limit_s)
    t_s = done.result.t_s

    def volts(node: Node) -> Array:
        number = node_number(house.network, node)
        return done.result.nodes[number] if number else np.zeros_like(t_s)

    peaks = [crest(t_s, np.abs(volts(a) - volts(b))) for a, b in house.places]
    return np.array(peaks), done.wall_s


def _fastest(house: House, exact: Array, error_ratio: float) -> tuple[SpiceRun, float]:
    """Return ngspice's quickest setting that is no less accurate, and its error."""
    best: tuple[float, SpiceRun, float] | None = None
    for step_s, tolerance in SETTINGS:
        run = SpiceRun(STUDY_S, step_s, tolerance)
        try:
            peaks, wall_s = _ngspice_peaks(house, run, limit_s=LIMIT_S)
        except BoardwrightError as stopped:
            print(f"    ngspice at {step_s * 1e9:g} ns: {stopped}", file=sys.stderr)
            continue
        error = float(np.abs(peaks / exact - 1).max())
        if error <= error_ratio and (best is None or wall_s < best[0]):
            best = (wall_s, run, error)
        if best is not None and step_s < best[1].longest_step_s / 4:
            break
    if best is None:
        raise BoardwrightError("bench: no setting of ngspice is as accurate as ours.")
    return best[1], best[2]


def _throughput(assumed: Assumptions) -> list[Result]:
    """Time ten thousand surges with the mains at any angle."""
    one_loop = one_loop_house(1000)
    home = _home(assumed, 1000, gap=False, firing=False)
    gapped = _home(assumed, 1200, gap=True, firing=True)
    draw = np.random.default_rng(5)
    results: list[Result] = []
    for name, house, count in (
        ("one loop, 100 µs, mains angle", one_loop, MANY),
        ("L, N, PE with CT1, 100 µs, mains angle", home, MANY),
        ("L, N, PE with CT2, 100 µs, mains angle", gapped, MANY),
    ):
        draws = Draws(np.exp(draw.normal(0, 0.3, count)), np.sin(draw.uniform(0, 2 * np.pi, count)))
        network = on_the_mains(house.network)
        few = Draws(draws.surge_ratio[:4], draws.mains_ratio[:4])
        run_many(network, Watch(house.places), few, 1e-6)
        start_s, start_cpu_s = time.perf_counter(), time.process_time()
        many = run_many(network, Watch(house.places), draws, STUDY_S)
        wall_s, cpu_s = time.perf_counter() - start_s, time.process_time() - start_cpu_s
        results.append(Throughput(name, count, wall_s, cpu_s, many.kernel))
    return results
