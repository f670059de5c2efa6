"""The survey's questions on one circuit, in the order in which one looks at it."""

from __future__ import annotations

from dataclasses import replace

from boardwright.job.circuit import Circuit
from boardwright.web.views.questions import Question

CIRCUIT = (
    Question("name", "Name", fact=False),
    Question("label", "Short name for the board", fact=False),
    Question("serves", "Serves"),
    Question("existing", "There already"),
    Question("way", "Way on the board as found", free=True),
    Question("room", "Where", free=True),
    Question("bathroom", "Serves a room with a bath or shower"),
    Question("topology", "Topology"),
    Question("phases", "Phases"),
    Question("phase", "Line", free=True),
    Question("metal_fittings", "Class I accessories or lights", free=True),
    Question("owner_replaces_class_i", "Owner agrees to Class II fittings only", free=True),
    Question("maker_rcd_type", "RCD type its equipment's maker asks for", free=True),
)

CABLE = (
    Question("type", "Cable"),
    Question("line_mm2", "Line conductor", "", "mm2", settle="Printed on the sheath."),
    Question("cpc_mm2", "Protective conductor, 0 where none was found", "", "mm2"),
    Question("length_m", "Length, a ring all the way round", "", "m"),
    Question("method", "Installation method", before="method "),
    Question("ambient_c", "Temperature around its hottest stretch", "", "°C"),
    Question("grouped_with", "Other loaded circuits it runs with"),
    Question("grouping", "How it lies among them"),
    Question("insulated_mm", "Length buried in insulation", "", "mm", free=True),
    Question("condition", "Insulation, condition"),
    Question("colours", "Core colours"),
    Question("concealed", "In a wall less than 50 mm deep, unprotected"),
    Question("reach_mm", "Free core length at the board", "", "mm", free=True),
)

LOAD = (
    Question("power_w", "Power", "", "W", settle="On the rating plate.", free=True),
    Question("ib_a", "Design current", "Ib", "A", free=True),
    Question("points", "Outlets or lights", free=True),
    Question("spurs", "Unfused spurs off the ring", free=True),
    Question("area_m2", "Floor area served", "", "m²", free=True),
    Question("with_socket", "Cooker control unit with a socket-outlet"),
    Question("thermostatic", "Water heater that heats a store"),
    Question("load_control", "Curtails itself below the main fuse", free=True),
)

WANTED = (
    Question("in_a", "Rated current", "In", "A", free=True),
    Question("curve", "Curve"),
    Question("standard", "Device", free=True),
    Question("rcd_type", "RCD type", free=True),
    Question("idn_a", "Residual current", "IΔn", "mA", factor=1000.0, free=True),
    Question("afdd", "Arc fault detection", free=True),
)

_RING = (
    Question("r1_ohm", "Line end to end", "r1", "ohm"),
    Question("rn_ohm", "Neutral end to end", "rn", "ohm"),
    Question("r2_ohm", "Protective conductor end to end", "r2", "ohm"),
)
_READINGS = (
    Question("r1r2_ohm", "Line and protective conductor", "R1+R2", "ohm"),
    Question("cpc_continuous", "Protective conductor reaches every point"),
    Question("insulation_mohm", "Insulation resistance, the lowest", "IR", "mohm"),
    Question("insulation_test_v", "Insulation test voltage", "", "V"),
    Question("neutral_separate", "Neutral its own"),
    Question("shares_neutral_with", "Uses the neutral of", among="circuits", free=True),
    Question("zs_ohm", "Earth fault loop, farthest point", "Zs", "ohm", free=True),
    Question("leakage_a", "Standing current to earth", "", "mA", factor=1000.0, free=True),
)

APPLIANCE = (
    Question("kind", "What it is", among="appliances", fact=False),
    Question("count", "How many at this place"),
    Question("position_m", "Along the cable from the board", "", "m", free=True),
    Question("impulse_category", "Overvoltage category", free=True),
    Question("study", "Look at it in the surge study", fact=False),
)

EV = (
    Question("dc_detection", "DC detection of 6 mA inside"),
    Question("pen_protection", "Protection against a broken PEN inside"),
    Question("outdoors", "The vehicle may stand outdoors"),
)

SOURCE = (
    Question("power_w", "Rated output", "", "W", free=True),
    Question("dc_separated", "Simple separation, or no DC by its maker's word"),
)


def readings(circuit: Circuit) -> tuple[Question, ...]:
    """Return the readings before the work, in tester order; of a new circuit there is none yet."""
    asked = (_RING if circuit.topology == "ring" else ()) + _READINGS
    return asked if circuit.existing else tuple(replace(each, free=True) for each in asked)
