"""The supply, its earthing and the lines outside that bring surges."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from boardwright.job.base import Id, Surveyed, YesNo


class Tails(Surveyed):
    """Meter tails, copper, from meter or isolator to the board."""

    csa_mm2: float | None = Field(default=None, gt=0, le=95)
    length_m: float | None = Field(default=None, gt=0, le=100)
    sheathed: YesNo | None = None


class Submain(Surveyed):
    """The distribution circuit from a switch-fuse at the intake to a remote board."""

    id: Id = "submain"
    fuse_a: float = Field(gt=0, le=200)
    fuse_standard: Literal["BS 88-2", "BS 88-3", "BS 1361", "MCB B", "MCB C"] = "BS 88-2"
    cable: Literal["swa 90", "swa 70", "tails in conduit", "flat twin and earth"]
    line_mm2: float = Field(gt=0, le=95)
    cpc_mm2: float = Field(gt=0, le=95, description="copper equivalent of the protective conductor")
    length_m: float = Field(gt=0, le=300)
    concealed: YesNo | None = Field(default=None, description="in a wall less than 50 mm deep")
    rcd_ahead: YesNo | None = None


class Supply(Surveyed):
    """What comes in: system, fuse, readings at the origin.

    ``ipf_a`` is the larger of the two prospective fault currents read at the origin.
    """

    system: Literal["TN-S", "TN-C-S", "TT"]
    phases: Literal[1, 3] = 1
    u0_v: float = Field(default=230.0, ge=200, le=260)
    ze_ohm: float | None = Field(default=None, gt=0, le=2000)
    ipf_a: float | None = Field(default=None, gt=0, le=100_000)
    polarity_correct: YesNo | None = None
    cutout_fuse_a: float | None = Field(default=None, gt=0, le=200)
    cutout_fuse_standard: Literal["BS 88-3", "BS 1361", "BS 88-2", "BS 3036", "unknown"] = "unknown"
    cutout_condition: Literal["sound", "damaged", "hot", "leaking", "possible asbestos"] | None = (
        None
    )
    service: Literal["overhead", "underground"] | None = None
    service_length_m: float | None = Field(default=None, ge=0, le=500)
    looped: YesNo | None = None
    neutral_mm2: float | None = Field(
        default=None, gt=0, description="of the incoming supply, copper equivalent"
    )
    tails: Tails = Tails()
    isolation: Literal["isolator", "supplier", "network operator", "landlord", "none"] | None = (
        Field(
            default=None,
            description="the lawful point at which the board can be isolated, or who does it",
        )
    )
    isolation_arranged: YesNo | None = None
    submain: Submain | None = None


class Bond(Surveyed):
    """Main protective bonding of one extraneous service."""

    service: Literal["water", "gas", "oil", "structural steel", "lightning protection", "other"]
    metallic: YesNo | None = Field(default=None, description="no: a plastic service needs none")
    present: YesNo | None = None
    csa_mm2: float | None = Field(default=None, gt=0, le=95)
    verified: YesNo | None = Field(default=None, description="continuity measured and clamp seen")


class Earthing(Surveyed):
    """Means of earthing and bonding as found."""

    means_present: YesNo | None = None
    conductor_mm2: float | None = Field(default=None, gt=0, le=95)
    conductor_connected: YesNo | None = None
    conductor_length_m: float | None = Field(default=None, gt=0, le=100)
    electrode_ohm: float | None = Field(
        default=None, gt=0, le=10_000, description="RA, electrode alone"
    )
    bonds: tuple[Bond, ...] = ()
    owner_refuses_upgrade: YesNo | None = None


class SurgeEnvironment(Surveyed):
    """What decides surge protection: lines outside, consequences, the owner's word."""

    setting: Literal["rural", "suburban", "urban"]
    ng_per_km2_year: float | None = Field(default=None, gt=0, le=50)
    lv_overhead_m: float | None = Field(default=None, ge=0, le=1000)
    lv_underground_m: float | None = Field(default=None, ge=0, le=1000)
    hv_overhead_m: float | None = Field(default=None, ge=0, le=1000)
    hv_underground_m: float | None = Field(default=None, ge=0, le=1000)
    external_lps: Literal["none", "I", "II", "III", "IV"] = "none"
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
