"""One circuit: what it serves, its cable, its readings, its appliances."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from boardwright.job.base import Id, Phase, Surveyed, YesNo

Serves = Literal[
    "sockets",
    "lighting",
    "cooker",
    "shower",
    "immersion heater",
    "storage heater",
    "room heating",
    "smoke alarms",
    "boiler",
    "outdoor",
    "EV point",
    "heat pump",
    "PV",
    "battery",
    "fixed appliance",
    "sub-board",
]


def _as_text(value: Any) -> Any:  # noqa: ANN401 - whatever was read
    # Method 100 is a name that looks like a number: nobody puts it in quotes.
    return str(value) if type(value) is int else value


Method = Annotated[
    Literal["A", "B", "C", "100", "101", "102", "103", "D"], BeforeValidator(_as_text)
]


class Cable(Surveyed):
    """The circuit's cable. ``method`` left out takes the worst plausible one.

    ``cpc_mm2`` of 0 means that no circuit protective conductor was found.
    """

    type: Literal["flat twin and earth", "singles", "swa 90", "swa 70", "unknown"] = (
        "flat twin and earth"
    )
    line_mm2: float = Field(gt=0, le=95)
    cpc_mm2: float = Field(ge=0, le=95)
    length_m: float = Field(gt=0, le=500)
    method: Method | None = None
    ambient_c: float = Field(default=30.0, ge=-5, le=60)
    grouped_with: int = Field(
        default=0, ge=0, le=30, description="other loaded circuits it runs bunched with"
    )
    condition: (
        Literal["sound", "rubber", "lead-sheathed", "imperial", "fabric", "aluminium"] | None
    ) = None
    colours: Literal["brown and blue", "red and black"] | None = None
    concealed: YesNo | None = Field(
        default=None, description="in a wall less than 50 mm deep, unprotected"
    )
    reach_mm: float | None = Field(default=None, gt=0, description="free core length at the board")


class Load(Surveyed):
    """What the circuit must carry: its power, or its design current if that is known.

    ``points`` counts outlets; ``with_socket`` is a cooker control unit with a socket-outlet.
    """

    power_w: float | None = Field(default=None, gt=0, le=100_000)
    ib_a: float | None = Field(default=None, gt=0, le=200)
    points: int | None = Field(default=None, ge=1, le=200)
    with_socket: bool = False
    thermostatic: bool = Field(default=True, description="a water heater that heats a store")
    load_control: YesNo | None = Field(
        default=None, description="curtailed automatically below the fuse"
    )


class Wanted(Surveyed):
    """The protective device as wished or as found; left out, it is worked out."""

    in_a: float | None = Field(default=None, gt=0, le=125)
    curve: Literal["B", "C", "D"] = "B"
    standard: Literal["MCB", "RCBO", "BS 3036", "BS 88-3", "BS 1361"] | None = None
    rcd_type: Literal["AC", "A", "F", "B"] | None = None
    idn_a: float | None = Field(default=None, gt=0, le=1)
    afdd: YesNo | None = None


class CircuitReadings(Surveyed):
    """Readings before the work. Resistances at the temperature of the day, in ohm."""

    r1_ohm: float | None = Field(default=None, ge=0, le=100)
    rn_ohm: float | None = Field(default=None, ge=0, le=100)
    r2_ohm: float | None = Field(default=None, ge=0, le=100)
    r1r2_ohm: float | None = Field(default=None, ge=0, le=200)
    insulation_mohm: float | None = Field(default=None, ge=0, le=100_000)
    insulation_test_v: Literal[250, 500] | None = None
    cpc_continuous: YesNo | None = None
    zs_ohm: float | None = Field(default=None, ge=0, le=2000)
    leakage_a: float | None = Field(default=None, ge=0, le=1)
    neutral_separate: YesNo | None = Field(
        default=None, description="no continuity to another circuit's neutral with both off the bar"
    )
    shares_neutral_with: Id | None = None


class Appliance(Surveyed):
    """An appliance to look at in the surge study; ``kind`` is a catalogue id."""

    id: Id
    kind: Id
    count: int = Field(default=1, ge=1, le=50)
    position_m: float | None = Field(
        default=None, ge=0, le=500, description="along the cable from the board"
    )
    impulse_category: Literal["I", "II", "III", "IV"] | None = None
    study: bool = Field(default=True, description="work out the surge left at its terminals")


class EvPoint(Surveyed):
    """What the maker of a charging point declares."""

    dc_detection: YesNo | None = Field(default=None, description="RDC-DD of 6 mA inside")
    pen_protection: YesNo | None = Field(
        default=None, description="protection against a broken PEN inside"
    )
    outdoors: YesNo | None = None


class Source(Surveyed):
    """A source of energy on the circuit: PV inverter or battery."""

    power_w: float = Field(gt=0, le=50_000)
    dc_separated: YesNo | None = Field(
        default=None, description="simple separation, or no DC by the maker's word"
    )


class Circuit(Surveyed):
    """One circuit, existing or new."""

    id: Id
    name: str = Field(min_length=1, max_length=60)
    serves: Serves
    way: int | None = Field(default=None, ge=1, description="way on the board as found")
    existing: bool = True
    phase: Phase | None = None
    phases: Literal[1, 3] = 1
    topology: Literal["radial", "ring"] = "radial"
    room: str = ""
    bathroom: bool = False
    cable: Cable
    load: Load = Load()
    wanted: Wanted = Wanted()
    readings: CircuitReadings = CircuitReadings()
    appliances: tuple[Appliance, ...] = ()
    ev: EvPoint | None = None
    source: Source | None = None
    maker_rcd_type: Literal["A", "F", "B"] | None = Field(
        default=None, description="what the equipment's maker asks for"
    )
    metal_fittings: YesNo | None = Field(default=None, description="Class I accessories or lights")
    owner_replaces_class_i: YesNo | None = Field(
        default=None, description="owner agrees to Class II fittings only where there is no cpc"
    )
