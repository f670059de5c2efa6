"""The supply, its earthing and the lines outside that bring surges."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from boardwright.job.base import Id, Surveyed, YesNo


class Tails(Surveyed):
    """Meter tails, copper, from meter or isolator to the board."""

    csa_mm2: float | None = Field(default=None, gt=0, le=95, description="cross-section")
    length_m: float | None = Field(
        default=None, gt=0, le=100, description="length from the meter or isolator to the board"
    )
    sheathed: YesNo | None = Field(default=None, description="insulated and sheathed all the way")


class Submain(Surveyed):
    """The distribution circuit from a switch-fuse at the intake to a remote board."""

    id: Id = "submain"
    fuse_a: float = Field(gt=0, le=200, description="rated current of the device at the intake")
    fuse_standard: Literal["BS 88-2", "BS 88-3", "BS 1361", "MCB B", "MCB C"] = Field(
        default="BS 88-2", description="standard of that device"
    )
    cable: Literal["swa 90", "swa 70", "tails in conduit", "flat twin and earth"] = Field(
        description="how the distribution circuit is made"
    )
    line_mm2: float = Field(gt=0, le=95, description="cross-section of its line conductor")
    cpc_mm2: float = Field(gt=0, le=95, description="copper equivalent of the protective conductor")
    length_m: float = Field(gt=0, le=300, description="length from the intake to the board")
    concealed: YesNo | None = Field(default=None, description="in a wall less than 50 mm deep")
    rcd_ahead: YesNo | None = Field(default=None, description="an RCD at the intake protects it")


class Supply(Surveyed):
    """What comes in: system, fuse, readings at the origin.

    ``ipf_a`` is the larger of the two prospective fault currents read at the origin.
    """

    system: Literal["TN-S", "TN-C-S", "TT"] = Field(description="system of earthing")
    phases: Literal[1, 3] = Field(default=1, description="1 or 3")
    u0_v: float = Field(default=230.0, ge=200, le=260, description="nominal voltage to earth")
    ze_ohm: float | None = Field(
        default=None,
        gt=0,
        le=2000,
        description="external earth fault loop impedance, read with the means of earthing apart",
    )
    ipf_a: float | None = Field(
        default=None,
        gt=0,
        le=100_000,
        description="prospective fault current at the origin, the larger of the two readings",
    )
    polarity_correct: YesNo | None = Field(
        default=None, description="polarity at the origin was proved"
    )
    cutout_fuse_a: float | None = Field(
        default=None, gt=0, le=200, description="rating marked on the cut-out"
    )
    cutout_fuse_standard: Literal["BS 88-3", "BS 1361", "BS 88-2", "BS 3036", "unknown"] = Field(
        default="unknown", description="standard of the cut-out fuse"
    )
    cutout_condition: Literal["sound", "damaged", "hot", "leaking", "possible asbestos"] | None = (
        Field(default=None, description="state of the cut-out")
    )
    service: Literal["overhead", "underground"] | None = Field(
        default=None, description="how the service comes in"
    )
    service_length_m: float | None = Field(
        default=None, ge=0, le=500, description="length of the service cable"
    )
    looped: YesNo | None = Field(default=None, description="the service is shared with a neighbour")
    neutral_mm2: float | None = Field(
        default=None, gt=0, description="of the incoming supply, copper equivalent"
    )
    tails: Tails = Field(default=Tails(), description="meter tails")
    isolation: Literal["isolator", "supplier", "network operator", "landlord", "none"] | None = (
        Field(
            default=None,
            description="the lawful point at which the board can be isolated, or who does it",
        )
    )
    isolation_arranged: YesNo | None = Field(
        default=None, description="who isolates has been booked, or the isolator is there"
    )
    submain: Submain | None = Field(
        default=None,
        description="distribution circuit to a remote board; left out where the tails reach it",
    )


class Bond(Surveyed):
    """Main protective bonding of one extraneous service."""

    service: Literal["water", "gas", "oil", "structural steel", "lightning protection", "other"] = (
        Field(description="the service that enters the building")
    )
    metallic: YesNo | None = Field(default=None, description="no: a plastic service needs none")
    present: YesNo | None = Field(default=None, description="a bonding conductor is there")
    csa_mm2: float | None = Field(
        default=None, gt=0, le=95, description="cross-section of the bonding conductor"
    )
    verified: YesNo | None = Field(default=None, description="continuity measured and clamp seen")


class Earthing(Surveyed):
    """Means of earthing and bonding as found."""

    means_present: YesNo | None = Field(
        default=None, description="an earth terminal of the supplier, or an electrode, is there"
    )
    conductor_mm2: float | None = Field(
        default=None, gt=0, le=95, description="cross-section of the earthing conductor"
    )
    conductor_connected: YesNo | None = Field(
        default=None, description="both its ends were seen connected"
    )
    conductor_length_m: float | None = Field(
        default=None,
        gt=0,
        le=100,
        description="from the means of earthing to the main earthing terminal",
    )
    electrode_ohm: float | None = Field(
        default=None, gt=0, le=10_000, description="RA, electrode alone"
    )
    bonds: tuple[Bond, ...] = Field(default=(), description="main bonding, one item a service")
    owner_refuses_upgrade: YesNo | None = Field(
        default=None, description="the owner will not have earthing or bonding made good"
    )


class SurgeEnvironment(Surveyed):
    """What decides surge protection: lines outside, consequences, the owner's word."""

    setting: Literal["rural", "suburban", "urban"] = Field(description="surroundings")
    ng_per_km2_year: float | None = Field(
        default=None, gt=0, le=50, description="lightning ground flash density of the place"
    )
    lv_overhead_m: float | None = Field(
        default=None,
        ge=0,
        le=1000,
        description="low-voltage overhead line, counted to 1 km from the origin",
    )
    lv_underground_m: float | None = Field(
        default=None, ge=0, le=1000, description="low-voltage underground cable, counted to 1 km"
    )
    hv_overhead_m: float | None = Field(
        default=None, ge=0, le=1000, description="high-voltage overhead line, counted to 1 km"
    )
    hv_underground_m: float | None = Field(
        default=None, ge=0, le=1000, description="high-voltage underground cable, counted to 1 km"
    )
    external_lps: Literal["none", "I", "II", "III", "IV"] = Field(
        default="none", description="class of the building's lightning protection system"
    )
    direct_strike_to_line: YesNo | None = Field(
        default=None, description="protection against a strike to the overhead line is asked for"
    )
    injury_possible: YesNo | None = Field(
        default=None, description="overvoltage could cause serious injury or death"
    )
    large_loss_possible: YesNo | None = Field(
        default=None, description="significant financial or data loss"
    )
    declined_by: Literal["owner", "tenant", "agent"] | None = Field(
        default=None, description="who declined surge protection and accepted the risk in writing"
    )
