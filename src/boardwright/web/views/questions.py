"""The survey's questions in words and order: which field of the job answers each."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.job.circuit import Circuit
from boardwright.job.job import Job


@dataclass(frozen=True, slots=True)
class Question:
    """One question: the job's field, its label, the trade's symbol and unit."""

    field: str
    label: str
    symbol: str = ""
    unit: str = ""
    before: str = ""


SUPPLY = (
    Question("system", "Earthing system"),
    Question("phases", "Phases"),
    Question("ze_ohm", "External loop impedance", "Ze", "ohm"),
    Question("ipf_a", "Prospective fault current", "Ipf", "A"),
    Question("polarity_correct", "Polarity proved"),
    Question("cutout_fuse_a", "Cut-out fuse, rating", "", "A"),
    Question("cutout_fuse_standard", "Cut-out fuse, standard"),
    Question("cutout_condition", "Cut-out, condition"),
    Question("service", "Service comes in"),
    Question("service_length_m", "Service cable, length", "", "m"),
    Question("looped", "Service shared with a neighbour"),
    Question("neutral_mm2", "Supply neutral, copper equivalent", "", "mm2"),
    Question("isolation", "Lawful point of isolation"),
    Question("isolation_arranged", "Isolation arranged"),
)

TAILS = (
    Question("csa_mm2", "Size", "", "mm2"),
    Question("length_m", "Length to the board", "", "m"),
    Question("sheathed", "Insulated and sheathed all the way"),
)

SUBMAIN = (
    Question("fuse_a", "Device at the intake", "In", "A"),
    Question("fuse_standard", "Its standard"),
    Question("cable", "Cable"),
    Question("line_mm2", "Line conductor", "", "mm2"),
    Question("cpc_mm2", "Protective conductor", "", "mm2"),
    Question("length_m", "Length", "", "m"),
    Question("concealed", "In a wall less than 50 mm deep"),
    Question("rcd_ahead", "RCD at the intake"),
)

_EARTHING = (
    Question("means_present", "Means of earthing there"),
    Question("conductor_mm2", "Earthing conductor", "", "mm2"),
    Question("conductor_connected", "Both its ends seen connected"),
    Question("conductor_length_m", "Its length", "", "m"),
)
_ELECTRODE = (Question("electrode_ohm", "Earth electrode", "RA", "ohm"),)

BOND = (
    Question("metallic", "Metal service"),
    Question("present", "Bonding conductor there"),
    Question("csa_mm2", "Size", "", "mm2"),
    Question("verified", "Continuity measured, clamp seen"),
)

ENVIRONMENT = (
    Question("setting", "Surroundings"),
    Question("ng_per_km2_year", "Lightning flashes to ground", "Ng", "year"),
    Question("lv_overhead_m", "Low-voltage line, overhead", "", "m"),
    Question("lv_underground_m", "Low-voltage line, underground", "", "m"),
    Question("hv_overhead_m", "High-voltage line, overhead", "", "m"),
    Question("hv_underground_m", "High-voltage line, underground", "", "m"),
    Question("external_lps", "Lightning protection of the building"),
    Question("direct_strike_to_line", "Protection against a strike to the line asked for"),
    Question("injury_possible", "Injury possible through overvoltage"),
    Question("large_loss_possible", "Large loss of value or data possible"),
)

PREMISES = (
    Question("kind", "Building"),
    Question("country", "Country"),
    Question("building_class", "Class of building"),
    Question("occupier", "Occupier"),
    Question("board_place", "Place of the board"),
    Question("board_on_combustible_wall", "Wall behind the board can burn"),
    Question("board_in_sole_escape_route", "In the only way out"),
)

EXISTING = (
    Question("maker", "Name on the board"),
    Question("kind", "Kind"),
    Question("combustible", "Enclosure can burn"),
    Question("metal", "Enclosure of metal"),
    Question("class_ii_incomer", "Incomer insulated as Class II"),
    Question("ways", "Ways"),
    Question("main_switch_a", "Main switch", "", "A"),
    Question("main_switch_poles", "Its poles"),
    Question("hand", "Main switch on the"),
)

CIRCUIT = (
    Question("serves", "Serves"),
    Question("room", "Where"),
    Question("topology", "Topology"),
)

CABLE = (
    Question("type", "Cable"),
    Question("line_mm2", "Line conductor", "", "mm2"),
    Question("cpc_mm2", "Protective conductor", "", "mm2"),
    Question("length_m", "Length", "", "m"),
    Question("method", "Installation method", before="method "),
    Question("condition", "Insulation, condition"),
    Question("colours", "Core colours"),
)

_LOAD = (
    Question("power_w", "Power", "", "W"),
    Question("ib_a", "Design current", "Ib", "A"),
    Question("points", "Points"),
    Question("area_m2", "Floor area served", "", "m²"),
)

_RING = (
    Question("r1_ohm", "Line end to end", "r1", "ohm"),
    Question("rn_ohm", "Neutral end to end", "rn", "ohm"),
    Question("r2_ohm", "Protective conductor end to end", "r2", "ohm"),
)
_READINGS = (
    Question("r1r2_ohm", "Line and protective conductor", "R1+R2", "ohm"),
    Question("insulation_mohm", "Insulation resistance", "IR", "mohm"),
    Question("cpc_continuous", "Protective conductor reaches every point"),
    Question("neutral_separate", "Neutral its own"),
)


def earthing(job: Job) -> tuple[Question, ...]:
    """Return the questions on earthing; an electrode is asked for where the system has one."""
    return _EARTHING + (_ELECTRODE if job.supply.system == "TT" else ())


def load(circuit: Circuit) -> tuple[Question, ...]:
    """Return the questions on the load: one way of saying it is enough."""
    said = tuple(q for q in _LOAD if getattr(circuit.load, q.field) is not None)
    return said or _LOAD[:1]


def readings(circuit: Circuit) -> tuple[Question, ...]:
    """Return the readings before the work: none of a circuit that is yet to be run."""
    if not circuit.existing:
        return ()
    return (_RING if circuit.topology == "ring" else ()) + _READINGS
