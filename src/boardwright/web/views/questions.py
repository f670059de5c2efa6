"""The survey's questions in words and order: which field of the job answers each."""

from __future__ import annotations

from dataclasses import dataclass, replace

from boardwright.job.job import Job


@dataclass(frozen=True, slots=True)
class Question:
    """One question: the job's field, its label, the trade's symbol and unit.

    ``before`` stands before a chosen value; ``factor`` is what the job's figure is multiplied by
    to be shown in ``unit``; ``settle`` says how an answer that is not known or assumed is settled;
    ``among`` names the list that a choice comes from where the job's schema has none; ``fact`` is
    false for a name or a wish, of which nobody can say that it is not known; ``free`` is true where
    an answer helps but the work does not wait for it.
    """

    field: str
    label: str
    symbol: str = ""
    unit: str = ""
    before: str = ""
    factor: float = 1.0
    settle: str = ""
    among: str = ""
    fact: bool = True
    free: bool = False


HOME = (
    Question("title", "What people call the home", fact=False),
    Question("designed_on", "Day of the design, year-month-day", fact=False),
    Question("edition", "Wiring rules", among="editions", fact=False),
)

PREMISES = (
    Question("kind", "Building"),
    Question("country", "Country"),
    Question("building_class", "Class of building"),
    Question("occupier", "Occupier"),
    Question("board_place", "Place of the board", free=True),
    Question("board_on_combustible_wall", "Wall behind the board can burn"),
    Question("board_in_sole_escape_route", "In the only way out"),
)

DEMAND = (
    Question("demand_logged_a", "Largest current logged", "", "A", free=True),
    Question("demand_logged_source", "Who logged it, how long and when", free=True),
)

SUPPLY = (
    Question("system", "Earthing system", settle="Look where the earthing conductor goes."),
    Question("phases", "Phases"),
    Question("u0_v", "Nominal voltage to earth", "U0", "V"),
    Question(
        "ze_ohm",
        "External loop impedance",
        "Ze",
        "ohm",
        settle="Read with the board isolated and the means of earthing apart.",
    ),
    Question(
        "ipf_a",
        "Prospective fault current",
        "Ipf",
        "kA",
        factor=0.001,
        settle="The larger of line-neutral and line-earth at the origin.",
    ),
    Question("polarity_correct", "Polarity proved"),
    Question(
        "cutout_fuse_a", "Cut-out fuse, rating", "", "A", settle="Read the label on the carrier."
    ),
    Question("cutout_fuse_standard", "Cut-out fuse, standard", settle="As marked on the carrier."),
    Question("cutout_condition", "Cut-out, condition"),
    Question("service", "Service comes in"),
    Question("service_length_m", "Service cable, length", "", "m"),
    Question("looped", "Service shared with a neighbour"),
    Question(
        "neutral_mm2",
        "Supply neutral, copper equivalent",
        "",
        "mm2",
        settle="The network operator knows it.",
    ),
    Question("isolation", "Lawful point of isolation"),
    Question("isolation_arranged", "Isolation arranged"),
)

TAILS = (
    Question("csa_mm2", "Size", "", "mm2", settle="Printed on the sheath."),
    Question("length_m", "Length to the board", "", "m", settle="Measure along their way."),
    Question("sheathed", "Insulated and sheathed all the way"),
)

SUBMAIN = (
    Question("fuse_a", "Device at the intake", "In", "A"),
    Question("fuse_standard", "Its standard"),
    Question("cable", "Cable"),
    Question("line_mm2", "Line conductor", "", "mm2"),
    Question("cpc_mm2", "Protective conductor, copper equivalent", "", "mm2"),
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
_ELECTRODE = Question(
    "electrode_ohm",
    "Earth electrode",
    "RA",
    "ohm",
    settle="Isolate, take the earthing conductor off the electrode, read RA, join it again.",
)
_REFUSED = Question("owner_refuses_upgrade", "Owner refuses to have it made good", free=True)

BOND = (
    Question("metallic", "Metal service"),
    Question("present", "Bonding conductor there"),
    Question("csa_mm2", "Size", "", "mm2", settle="Printed on it."),
    Question("verified", "Continuity measured, clamp seen"),
)

ENVIRONMENT = (
    Question("setting", "Surroundings"),
    Question(
        "ng_per_km2_year",
        "Lightning flashes to ground",
        "Ng",
        "per km² and year",
        settle="Read it off a map of ground flash density.",
    ),
    Question("lv_overhead_m", "Low-voltage line, overhead", "", "m"),
    Question("lv_underground_m", "Low-voltage line, underground", "", "m"),
    Question("hv_overhead_m", "High-voltage line, overhead", "", "m"),
    Question("hv_underground_m", "High-voltage line, underground", "", "m"),
    Question("external_lps", "Lightning protection of the building"),
    Question("direct_strike_to_line", "Protection against a strike to the line asked for"),
    Question("injury_possible", "Injury possible through overvoltage"),
    Question("large_loss_possible", "Large loss of value or data possible"),
    Question("declined_by", "Surge protection declined in writing by", free=True),
)

EXISTING = (
    Question("maker", "Name on the board", free=True),
    Question("family", "Catalogue family", among="families", free=True),
    Question("kind", "Kind"),
    Question("combustible", "Enclosure can burn"),
    Question("metal", "Enclosure of metal"),
    Question("class_ii_incomer", "Incomer insulated as Class II"),
    Question("ways", "Ways, spare ones included"),
    Question("main_switch_a", "Main switch", "", "A"),
    Question("main_switch_poles", "Its poles"),
    Question("hand", "Main switch on the"),
)

DEVICE = (
    Question("way", "First way", fact=False),
    Question("modules", "Width, in modules"),
    Question("kind", "What it is"),
    Question("in_a", "Rated current", "In", "A", settle="As marked."),
    Question("curve", "Curve", free=True),
    Question("idn_a", "Residual current", "IΔn", "mA", factor=1000.0, free=True),
    Question("rcd_type", "RCD type", free=True),
    Question("time_delayed", "Time-delayed, marked S"),
    Question("circuit", "Feeds", among="circuits", free=True),
    Question("feeds", "Ways behind it, of an RCCB, with commas", free=True),
)

WISHES = (
    Question("board", "The board", fact=False),
    Question("division", "Residual current devices", fact=False),
    Question("maker", "Maker preferred", among="makers", fact=False),
    Question("enclosure", "Enclosure", among="enclosures", fact=False),
    Question("hand", "Main switch on the", fact=False),
    Question("spare_ways", "Ways to leave free", fact=False),
    Question("separate_box_lead_m", "Way of a lead to a box beside the board", "", "m", free=True),
    Question("spd", "Surge protective device", among="spds", fact=False),
    Question("keep_together", "Circuits to stand side by side", among="circuits", fact=False),
    Question(
        "keep_apart",
        "Circuits that one device must not drop together",
        among="circuits",
        fact=False,
    ),
)

PREFERENCES = (
    Question("spd_near", "SPD nearest the main switch", fact=False),
    Question("sections_lettered", "RCD sections in the order of their letters", fact=False),
    Question("kept_apart", "Circuits kept apart are no neighbours", fact=False),
    Question("heavy_apart", "Heavy continuous loads are no neighbours", fact=False),
    Question("cables_reach", "Existing cables reach their new ways", fact=False),
    Question("kept_together", "Circuits kept together stand side by side", fact=False),
    Question("order_kept", "Circuits keep the order they had", fact=False),
    Question("large_near", "Large circuits near the main switch", fact=False),
    Question("apart_split", "Circuits kept apart are behind different RCDs", fact=False),
    Question("like_split", "Circuits of one purpose are behind different RCDs", fact=False),
    Question("leakage_balanced", "Leakage balanced between the RCDs", fact=False),
    Question("load_balanced", "Load balanced between the RCDs", fact=False),
)


def earthing(job: Job) -> tuple[Question, ...]:
    """Return the questions on earthing; the electrode comes first where the system has one."""
    if job.supply.system == "TT":
        return (_EARTHING[0], _ELECTRODE, *_EARTHING[1:], _REFUSED)
    return (*_EARTHING, replace(_ELECTRODE, free=True), _REFUSED)
