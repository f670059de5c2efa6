"""What a named surge leaves at the board and at each appliance, and how sure that is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from boardwright.surge.assumptions import Assumptions
from boardwright.surge.bands import (
    BOARD,
    STANDARD_SURGE,
    Band,
    InputEffect,
    NamedSurge,
    Runs,
    peaks_in,
)
from boardwright.surge.build import LIVE_VARISTOR, network_of
from boardwright.surge.home import HomeSurge, SpdAsWired
from boardwright.surge.lead import level_with_leads_v
from boardwright.surge.solver import Outcome, Solution, crest, solve

__all__ = [
    "STANDARD_SURGE",
    "Band",
    "InputEffect",
    "LeadRule",
    "NamedSurge",
    "PlaceResult",
    "SpdStress",
    "SurgeStudy",
    "study",
    "study_lines",
]

# The runs of a study use the lumped solver in plain NumPy: some thirty of them take a third
# of a second, while only loading the compiled kernel takes twice that, and compiling it
# the first time half a minute. `boardwright surge` and many surges at once use the kernel.

# The middle run goes on to 60 µs because the varistor's energy comes with the tail.
_FULL_S = 60e-6


@dataclass(frozen=True, slots=True)
class LeadRule:
    """The simple rule's figures, as the edition in force or guidance gives them."""

    drop_v_per_m: float


@dataclass(frozen=True, slots=True)
class PlaceResult:
    """One place of the home under the surge; ``line`` names its line among three."""

    place: str
    appliance: str
    uw_v: float
    mode: str
    without_spd_v: Band
    with_spd_v: Band | None
    movers: tuple[InputEffect, ...]
    line: str = ""

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
    solution, shown = _solved(home, assumed, surge)
    fitted = None if home.spd is None else shown
    bare = _solved(replace(home, spd=None), assumed, surge)[1] if fitted else shown
    places = tuple(_places(home, assumed, bare, fitted))
    lead_rule_v = None
    if home.spd is not None:
        lead_rule_v = _lead_rule_v(home.spd, rule)
    spd = _stress(solution) if fitted else None
    return SurgeStudy(
        outcome=solution.outcome,
        surge=surge.name,
        places=places,
        leads_m=_leads_m(home) if fitted else None,
        lead_rule_v=lead_rule_v,
        lead_sentence=_lead_sentence(home, places[0], lead_rule_v, spd),
        spd=spd,
        energy_gap_ratio=solution.energy.gap_ratio,
        method=f"first order, from {bare.count + (fitted.count if fitted else 0)} runs",
        cautions=_CAUTIONS,
    )


_CAUTIONS = (
    "One surge of one assumed size and shape; a lightning current may be larger and longer.",
    "Without an SPD, insulation somewhere would flash over before the higher figures are reached.",
    "The varistor's curve is its static one; on a fast front a real part lies some percent higher.",
    "No figure here was compared with a laboratory measurement of this home.",
)


def study_lines(
    homes: Mapping[str, HomeSurge],
    assumed: Assumptions,
    rule: LeadRule,
    *,
    surge: NamedSurge = STANDARD_SURGE,
) -> SurgeStudy:
    """Return the study of a home line by line: each appliance on its own, the board at its worst.

    A surge test goes to one line at a time; what several lines do together is not studied.
    """
    studies = {line: study(home, assumed, rule, surge=surge) for line, home in homes.items()}
    worst = max(studies.values(), key=lambda each: _high_v(each.places[0]))
    if len(homes) == 1:
        return worst
    places = tuple(
        replace(place, line=line) for line, each in studies.items() for place in each.places[1:]
    )
    return replace(
        worst,
        places=(worst.places[0], *places),
        method=f"{worst.method} on each of {', '.join(studies)} by itself",
        cautions=(*worst.cautions, _BY_LINE),
    )


_BY_LINE = "One line at a time: a surge on several lines at once is not studied."


def _high_v(place: PlaceResult) -> float:
    return (place.with_spd_v or place.without_spd_v).p95_v


def _solved(home: HomeSurge, assumed: Assumptions, surge: NamedSurge) -> tuple[Solution, Runs]:
    solution = solve(network_of(home, surge.wave, assumed), _FULL_S)
    return solution, Runs.of(home, assumed, surge, middle=peaks_in(solution, home))


def _places(
    home: HomeSurge, assumed: Assumptions, bare: Runs, fitted: Runs | None
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
            bare.band(place),
            None if fitted is None else fitted.band(place),
            shown.movers(place, assumed),
        )


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
