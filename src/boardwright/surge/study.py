"""What a named surge leaves at the board and at each appliance, and how sure that is."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from boardwright.surge.assumptions import AssumedInput, Assumptions
from boardwright.surge.build import LIVE_VARISTOR, network_of
from boardwright.surge.elements import Node
from boardwright.surge.home import HomeSurge, SpdAsWired
from boardwright.surge.lead import level_with_leads_v
from boardwright.surge.solver import Outcome, Solution, crest, solve
from boardwright.surge.waveforms import GENERATOR_A, CombinationWave

ROUND_V = 50.0
BOARD = "board"

# The runs of a study use the lumped solver in plain NumPy: some thirty of them take a third
# of a second, while only loading the compiled kernel takes twice that, and compiling it
# the first time half a minute. `boardwright surge` and many surges at once use the kernel.

# Every peak lies in the front and the first ringing after it; the middle run goes
# on to 60 µs because the varistor's energy comes with the tail.
_FULL_S = 60e-6
_PEAKS_S = 12e-6


@dataclass(frozen=True, slots=True)
class NamedSurge:
    """The surge a study assumes, by the name the standards give it."""

    name: str
    open_crest_v: float

    @property
    def wave(self) -> CombinationWave:
        """The combination wave of this size, undershoot within the limit."""
        return CombinationWave(GENERATOR_A, self.open_crest_v)


STANDARD_SURGE = NamedSurge("6 kV / 3 kA combination wave", 6000.0)


@dataclass(frozen=True, slots=True)
class LeadRule:
    """The simple rule's figures, as the edition in force or guidance gives them."""

    drop_v_per_m: float


@dataclass(frozen=True, slots=True)
class Band:
    """Where a peak lies over the uncertain inputs, rounded to 50 V. [V]"""

    p5_v: float
    typical_v: float
    p95_v: float


@dataclass(frozen=True, slots=True)
class InputEffect:
    """How far one uncertain input moves a peak, from its low and its high end. [V]"""

    name: str
    words: str
    at_low_v: float
    at_high_v: float


@dataclass(frozen=True, slots=True)
class PlaceResult:
    """One place of the home under the surge."""

    place: str
    appliance: str
    uw_v: float
    mode: str
    without_spd_v: Band
    with_spd_v: Band | None
    movers: tuple[InputEffect, ...]

    @property
    def sentence(self) -> str:
        """The result against the withstand, for this assumed surge."""
        band = self.with_spd_v or self.without_spd_v
        what = self.appliance or "the board"
        start = (
            f"For this assumed surge {what} sees {band.p5_v:.0f} to {band.p95_v:.0f} V"
            f" ({self.mode}) against a rated impulse voltage of {self.uw_v:.0f} V"
        )
        if band.p5_v > self.uw_v:
            return f"{start}: above it."
        if band.p95_v > self.uw_v:
            return f"{start}: above it in part of the range."
        return f"{start}: below it in the whole range."


@dataclass(frozen=True, slots=True)
class SpdStress:
    """What the SPD itself carries in the middle run."""

    current_a: float
    energy_j: float


@dataclass(frozen=True, slots=True)
class SurgeStudy:
    """What the equipment sees, how sure we are, and how the answer was made."""

    outcome: Outcome
    surge: str
    places: tuple[PlaceResult, ...]
    leads_m: float | None
    lead_rule_v: float | None
    lead_sentence: str
    spd: SpdStress | None
    energy_gap_ratio: float
    method: str
    cautions: tuple[str, ...]


def study(
    home: HomeSurge,
    assumed: Assumptions,
    rule: LeadRule,
    *,
    surge: NamedSurge = STANDARD_SURGE,
) -> SurgeStudy:
    """Return what a surge between line and earth at the origin leaves in a home.

    Each uncertain input is moved alone to its low and its high end; the changes
    upward and downward are added by root of squares, each for itself, to the
    95 % and 5 % points. That is first order: it leaves out what two inputs do
    together, and in return it says which input moves the answer. Against 400 drawn
    homes the band's ends were within 100 V (experiments/surge_band.py).
    """
    bare = _Runs.of(replace(home, spd=None), assumed, surge)
    fitted = None if home.spd is None else _Runs.of(home, assumed, surge)
    middle = bare if fitted is None else fitted
    places = tuple(_places(home, assumed, bare, fitted))
    lead_rule_v = None
    if home.spd is not None:
        lead_rule_v = _lead_rule_v(home.spd, rule)
    spd = _stress(middle.solution) if fitted else None
    return SurgeStudy(
        outcome=middle.solution.outcome,
        surge=surge.name,
        places=places,
        leads_m=_leads_m(home) if fitted else None,
        lead_rule_v=lead_rule_v,
        lead_sentence=_lead_sentence(home, places[0], lead_rule_v, spd),
        spd=spd,
        energy_gap_ratio=middle.solution.energy.gap_ratio,
        method=f"first order, from {bare.count + (fitted.count if fitted else 0)} runs",
        cautions=_CAUTIONS,
    )


_CAUTIONS = (
    "One surge of one assumed size and shape; a lightning current may be larger and longer.",
    "Without an SPD, insulation somewhere would flash over before the higher figures are reached.",
    "The varistor's curve is its static one; on a fast front a real part lies some percent higher.",
    "No figure here was compared with a laboratory measurement of this home.",
)


@dataclass(frozen=True, slots=True)
class _Peaks:
    """The highest voltage of a place, and between which conductors."""

    volts: float
    mode: str


@dataclass(frozen=True, slots=True)
class _Runs:
    """The middle run and the runs with one input moved."""

    solution: Solution
    middle: Mapping[str, _Peaks]
    moved: Mapping[str, tuple[Mapping[str, _Peaks], Mapping[str, _Peaks]]]
    count: int

    @classmethod
    def of(cls, home: HomeSurge, assumed: Assumptions, surge: NamedSurge) -> _Runs:
        solution = solve(network_of(home, surge.wave, assumed), _FULL_S)
        middle = _peaks(solution, home)
        moved, count = {}, 1
        for item in _inputs_that_matter(home, assumed):
            ends = []
            for value in (item.low, item.high):
                if value == item.typical:
                    ends.append(middle)
                    continue
                network = network_of(home, surge.wave, assumed.having(item.name, value))
                ends.append(_peaks(solve(network, _PEAKS_S), home))
                count += 1
            moved[item.name] = (ends[0], ends[1])
        return cls(solution, middle, moved, count)


def _inputs_that_matter(home: HomeSurge, assumed: Assumptions) -> Iterator[AssumedInput]:
    """Yield the inputs that this home has at all."""
    absent = set()
    if home.spd is None:
        absent |= {"backup_h", "lead_factor", "varistor_factor"}
    elif not home.spd.backup_fitted:
        absent.add("backup_h")
    if all(circuit.appliance is not None for circuit in home.circuits):
        absent.add("others_share")
    if all(circuit.appliance is None for circuit in home.circuits):
        absent.add("appliance_factor")
    for name, item in assumed.inputs.items():
        if name not in absent and item.low < item.high:
            yield item


def _peaks(solution: Solution, home: HomeSurge) -> dict[str, _Peaks]:
    names = [circuit.name for circuit in home.circuits if circuit.appliance is not None]
    return {place: _worst(solution, place) for place in (BOARD, *names)}


def _worst(solution: Solution, place: str) -> _Peaks:
    # Equipment is rated between its terminals and to earth: the higher counts.
    line, neutral, earth = (Node(place, conductor) for conductor in ("L", "N", "PE"))
    to_earth, to_neutral = solution.peak_v(line, earth), solution.peak_v(line, neutral)
    if to_neutral > to_earth:
        return _Peaks(to_neutral, "line to neutral")
    return _Peaks(to_earth, "line to earth")


def _places(
    home: HomeSurge, assumed: Assumptions, bare: _Runs, fitted: _Runs | None
) -> Iterator[PlaceResult]:
    shown = bare if fitted is None else fitted
    rated = [(BOARD, "", home.board_uw_v)]
    rated += [
        (circuit.name, circuit.appliance.name, circuit.appliance.uw_v)
        for circuit in home.circuits
        if circuit.appliance is not None
    ]
    for place, appliance, uw_v in rated:
        yield PlaceResult(
            place,
            appliance,
            uw_v,
            shown.middle[place].mode,
            _band(bare, place),
            None if fitted is None else _band(fitted, place),
            _movers(shown, place, assumed),
        )


def _band(runs: _Runs, place: str) -> Band:
    middle_v = runs.middle[place].volts
    up = down = 0.0
    for ends in runs.moved.values():
        changes = [0.0, *(end[place].volts - middle_v for end in ends)]
        up += max(changes) ** 2
        down += min(changes) ** 2
    return Band(
        _rounded(max(0.0, middle_v - math.sqrt(down))),
        _rounded(middle_v),
        _rounded(middle_v + math.sqrt(up)),
    )


def _movers(runs: _Runs, place: str, assumed: Assumptions) -> tuple[InputEffect, ...]:
    middle_v = runs.middle[place].volts
    effects = [
        InputEffect(
            name,
            assumed.inputs[name].words,
            round(low[place].volts - middle_v, 1),
            round(high[place].volts - middle_v, 1),
        )
        for name, (low, high) in runs.moved.items()
    ]
    effects.sort(key=lambda effect: -max(abs(effect.at_low_v), abs(effect.at_high_v)))
    return tuple(effects[:3])


def _rounded(volts: float) -> float:
    return ROUND_V * round(volts / ROUND_V)


def _stress(solution: Solution) -> SpdStress:
    current_a = crest(solution.t_s, abs(solution.current_a(LIVE_VARISTOR)))
    return SpdStress(round(current_a, 1), round(solution.energy_j(LIVE_VARISTOR), 2))


def _lead_rule_v(spd: SpdAsWired, rule: LeadRule) -> float:
    return level_with_leads_v(
        spd.stated_up_v or spd.up_v,
        spd.stated_up_ln_v or spd.up_v,
        line_m=spd.lead_l_m,
        neutral_m=spd.lead_n_m,
        pe_m=spd.lead_pe_m,
        drop_v_per_m=rule.drop_v_per_m,
    )


def _leads_m(home: HomeSurge) -> float:
    if home.spd is None:
        return 0.0
    return max(home.spd.lead_l_m, home.spd.lead_n_m) + home.spd.lead_pe_m


def _lead_sentence(
    home: HomeSurge, board: PlaceResult, rule_v: float | None, spd: SpdStress | None
) -> str:
    band = board.with_spd_v
    if home.spd is None or rule_v is None or spd is None or band is None:
        return ""
    both = (
        f"The lead rule gives {rule_v:.0f} V at the board,"
        f" the study {band.p5_v:.0f} to {band.p95_v:.0f} V"
    )
    drives = f"this surge drives {spd.current_a / 1000:.1f} kA through the SPD"
    if rule_v > band.p95_v:
        return (
            f"{both}. The rule is higher: it takes Up at In = {home.spd.in_8x20_a / 1000:g} kA,"
            f" while {drives}."
        )
    if rule_v < band.p5_v:
        more = " and the back-up device's inductance" if home.spd.backup_fitted else ""
        return (
            f"{both}. The rule is lower: it leaves out the steep start of the front{more};"
            f" {drives}."
        )
    return f"{both}: they agree."
