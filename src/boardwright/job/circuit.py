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

    type: Literal["flat twin and earth", "singles", "swa 90", "swa 70", "unknown"] = Field(
        default="flat twin and earth", description="how it is made"
    )
    line_mm2: float = Field(gt=0, le=95, description="cross-section of a line conductor")
    cpc_mm2: float = Field(
        ge=0,
        le=95,
        description="cross-section of the circuit protective conductor; 0: none was found",
    )
    length_m: float = Field(
        gt=0,
        le=500,
        description="length from the board to the farthest point; for a ring all the way round",
    )
    method: Method | None = Field(
        default=None,
        description="reference method of installation; left out, the worst plausible one is taken",
    )
    ambient_c: float = Field(
        default=30.0, ge=-5, le=60, description="temperature around its hottest stretch"
    )
    grouped_with: int = Field(
        default=0, ge=0, le=30, description="other loaded circuits it runs with"
    )
    grouping: Literal["bunched", "single layer, touching", "single layer, spaced"] = Field(
        default="bunched", description="how it lies among them; spaced: a cable's width apart"
    )
    insulated_mm: float | None = Field(
        default=None,
        ge=0,
        le=50_000,
        description="length buried in insulation on all sides, if its method says none",
    )
    condition: (
        Literal["sound", "rubber", "lead-sheathed", "imperial", "fabric", "aluminium"] | None
    ) = Field(default=None, description="state of the insulation, or what it is made of")
    colours: Literal["brown and blue", "red and black"] | None = Field(
        default=None, description="core colours"
    )
    concealed: YesNo | None = Field(
        default=None, description="in a wall less than 50 mm deep, unprotected"
    )
    reach_mm: float | None = Field(default=None, gt=0, description="free core length at the board")


class Load(Surveyed):
    """What the circuit must carry: its power, or its design current if that is known.

    ``points`` counts outlets; ``with_socket`` is a cooker control unit with a socket-outlet.
    """

    power_w: float | None = Field(default=None, gt=0, le=100_000, description="rated power")
    ib_a: float | None = Field(default=None, gt=0, le=200, description="design current, if known")
    points: int | None = Field(default=None, ge=1, le=200, description="how many outlets or lights")
    spurs: int | None = Field(
        default=None, ge=0, le=100, description="how many unfused spurs leave a ring"
    )
    area_m2: float | None = Field(
        default=None, gt=0, le=1000, description="floor area that its sockets serve"
    )
    with_socket: bool = Field(
        default=False, description="a cooker control unit with a socket-outlet"
    )
    thermostatic: bool = Field(default=True, description="a water heater that heats a store")
    load_control: YesNo | None = Field(
        default=None, description="curtailed automatically below the fuse"
    )


class Wanted(Surveyed):
    """The protective device as wished or as found; left out, it is worked out."""

    in_a: float | None = Field(default=None, gt=0, le=125, description="rated current")
    curve: Literal["B", "C", "D"] = Field(default="B", description="instantaneous tripping curve")
    standard: Literal["MCB", "RCBO", "BS 3036", "BS 88-3", "BS 1361"] | None = Field(
        default=None, description="what it is"
    )
    rcd_type: Literal["AC", "A", "F", "B"] | None = Field(
        default=None, description="type of residual current detection"
    )
    idn_a: float | None = Field(
        default=None, gt=0, le=1, description="rated residual current: 0.03 is 30 mA"
    )
    afdd: YesNo | None = Field(default=None, description="arc fault detection is wished")


class CircuitReadings(Surveyed):
    """Readings before the work. Resistances at the temperature of the day, in ohm."""

    r1_ohm: float | None = Field(
        default=None, ge=0, le=100, description="ring: line conductor end to end"
    )
    rn_ohm: float | None = Field(
        default=None, ge=0, le=100, description="ring: neutral conductor end to end"
    )
    r2_ohm: float | None = Field(
        default=None, ge=0, le=100, description="ring: protective conductor end to end"
    )
    r1r2_ohm: float | None = Field(
        default=None,
        ge=0,
        le=200,
        description="line and protective conductor together, at the farthest point",
    )
    insulation_mohm: float | None = Field(
        default=None,
        ge=0,
        le=100_000,
        description="insulation resistance, the lowest reading; if over range, the limit",
    )
    insulation_test_v: Literal[250, 500] | None = Field(
        default=None, description="voltage of the insulation test"
    )
    cpc_continuous: YesNo | None = Field(
        default=None, description="the protective conductor reaches every point"
    )
    zs_ohm: float | None = Field(
        default=None, ge=0, le=2000, description="earth fault loop impedance at the farthest point"
    )
    leakage_a: float | None = Field(
        default=None, ge=0, le=1, description="standing protective conductor current"
    )
    neutral_separate: YesNo | None = Field(
        default=None, description="no continuity to another circuit's neutral with both off the bar"
    )
    shares_neutral_with: Id | None = Field(
        default=None, description="id of the circuit whose neutral it uses"
    )


class Appliance(Surveyed):
    """An appliance to look at in the surge study; ``kind`` is a catalogue id."""

    id: Id
    kind: Id
    count: int = Field(default=1, ge=1, le=50, description="how many of them at this place")
    position_m: float | None = Field(
        default=None, ge=0, le=500, description="along the cable from the board"
    )
    impulse_category: Literal["I", "II", "III", "IV"] | None = Field(
        default=None, description="rated impulse voltage category, if its maker says"
    )
    study: bool = Field(default=True, description="work out the surge left at its terminals")


class EvPoint(Surveyed):
    """What the maker of a charging point declares."""

    dc_detection: YesNo | None = Field(default=None, description="RDC-DD of 6 mA inside")
    pen_protection: YesNo | None = Field(
        default=None, description="protection against a broken PEN inside"
    )
    outdoors: YesNo | None = Field(
        default=None, description="the vehicle may stand outdoors while it charges"
    )


class Source(Surveyed):
    """A source of energy on the circuit: PV inverter or battery."""

    power_w: float = Field(gt=0, le=50_000, description="rated output")
    dc_separated: YesNo | None = Field(
        default=None, description="simple separation, or no DC by the maker's word"
    )


class Circuit(Surveyed):
    """One circuit, existing or new."""

    id: Id
    name: str = Field(min_length=1, max_length=60, description="what people call it")
    label: str = Field(
        default="",
        max_length=16,
        description="short name for the board: two words of at most 7 letters",
    )
    serves: Serves = Field(description="what it is for")
    way: int | None = Field(default=None, ge=1, description="way on the board as found")
    existing: bool = Field(default=True, description="no: a new circuit")
    phase: Phase | None = Field(
        default=None, description="the line it is on or is to be on; left out, it is chosen"
    )
    phases: Literal[1, 3] = Field(default=1, description="1, or 3 for a three-phase circuit")
    topology: Literal["radial", "ring"] = Field(default="radial", description="radial or ring")
    room: str = Field(default="", description="room or floor it serves")
    bathroom: bool = Field(default=False, description="it serves a room with a bath or shower")
    cable: Cable = Field(description="its cable")
    load: Load = Field(default=Load(), description="what it must carry")
    wanted: Wanted = Field(
        default=Wanted(), description="its protective device, as wished or as found"
    )
    readings: CircuitReadings = Field(
        default=CircuitReadings(), description="readings before the work"
    )
    appliances: tuple[Appliance, ...] = Field(
        default=(), description="appliances to look at in the surge study"
    )
    ev: EvPoint | None = Field(
        default=None, description="what the maker of the charging point declares"
    )
    source: Source | None = Field(default=None, description="the source of energy on it")
    maker_rcd_type: Literal["A", "F", "B"] | None = Field(
        default=None, description="what the equipment's maker asks for"
    )
    metal_fittings: YesNo | None = Field(default=None, description="Class I accessories or lights")
    owner_replaces_class_i: YesNo | None = Field(
        default=None, description="owner agrees to Class II fittings only where there is no cpc"
    )
