"""Device types: what stands on the rail, with its terminals where its maker put them."""

from __future__ import annotations

from enum import StrEnum
from typing import Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

MODULE_MM = 17.8
"""Pitch of one module on the rail. [mm] DIN 43880, 17.5 to 18 mm; from memory."""

ConductorName = Literal["L", "L1", "L2", "L3", "N", "PE", "PEN"]
Side = Literal["top", "bottom"]


class Part(BaseModel):
    """Base of every catalogue entry: frozen, and an unknown key is an error."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Kind(StrEnum):
    """What a device is, in the trade's words."""

    MAIN_SWITCH = "main switch"
    MCB = "MCB"
    RCBO = "RCBO"
    RCCB = "RCCB"
    AFDD = "AFDD"
    """An AFDD with the breaker and RCD in one body."""
    SPD = "SPD"
    FUSE_SWITCH = "switch-fuse"
    ISOLATOR = "isolator"


class Terminal(Part):
    """One terminal: where it stands, what it takes.

    ``role`` tells the supply side from the load side; an SPD's terminals are ``line``
    (the protected conductors) and ``earth``; ``through`` is the second terminal of a pair
    joined inside, for V wiring. ``flying_lead_mm`` > 0 is a lead fitted by the maker, with that
    length, in place of a screw.
    """

    name: str
    conductor: ConductorName
    side: Side
    offset_mm: float = Field(ge=0, description="from the device's left edge to the screw")
    role: Literal["supply", "load", "line", "earth", "functional earth"]
    capacity_mm2: float = Field(gt=0)
    torque_nm: float = Field(gt=0)
    strip_mm: float = Field(default=12.0, gt=0)
    busbar: bool = Field(default=False, description="takes the tooth of the comb busbar")
    flying_lead_mm: float = Field(default=0.0, ge=0)
    through: bool = False


FuseStandard = Literal["BS 88-2", "BS 88-3", "BS 1361"]


class TestedPairing(Part):
    """The largest surges that passed one device ahead of the SPD in its maker's test, still closed.

    The device is a breaker of the catalogue, by its id, or a fuse by standard and rating.
    """

    __test__ = False

    mcb: str = ""
    fuse: FuseStandard | None = None
    fuse_a: float | None = Field(default=None, gt=0)
    carried_8x20_a: float = Field(gt=0)
    carried_10x350_a: float | None = Field(default=None, gt=0)

    @model_validator(mode="after")
    def _names_one_device(self) -> Self:
        fuse = self.fuse is not None and self.fuse_a is not None
        if bool(self.mcb) == fuse or (self.fuse is None) != (self.fuse_a is None):
            raise ValueError("either mcb, an id, or fuse with fuse_a, its rating")
        return self


class SpdData(Part):
    """What the maker says of a surge protective device (EN 61643-11 terms)."""

    types: tuple[Literal["T1", "T2", "T3"], ...] = Field(min_length=1)
    connection: Literal["CT1", "CT2"]
    phases: Literal[1, 3]
    uc_v: float = Field(gt=0, description="Uc, L to N or L to PE")
    uc_npe_v: float = Field(gt=0, description="Uc, N to PE")
    up_v: float = Field(gt=0, description="Up, L to PE (CT2: the worse of L-N and N-PE)")
    up_ln_v: float = Field(gt=0)
    in_8x20_a: float = Field(gt=0, description="In per live pole")
    in_npe_8x20_a: float = Field(gt=0, description="In of the N to PE path")
    imax_8x20_a: float | None = Field(default=None, gt=0)
    iimp_10x350_a: float | None = Field(default=None, gt=0)
    iimp_npe_10x350_a: float | None = Field(default=None, gt=0)
    isccr_a: float = Field(gt=0, description="short-circuit rating with the back-up below")
    backup_max_gg_a: float = Field(gt=0, description="largest gG fuse ahead without own back-up")
    backup_mcb: str = Field(default="", description="id of the maker's tested MCB, or empty")
    backup_internal: bool = False
    tested: tuple[TestedPairing, ...] = Field(
        default=(), description="what the maker found with a device ahead"
    )
    built_in_8x20_a: float | None = Field(
        default=None, gt=0, description="largest 8/20 surge that leaves a built-in fuse whole"
    )
    gap_to_line: bool = Field(
        default=False, description="a gap without a varistor to line: mains current follows"
    )
    ifi_a: float | None = Field(
        default=None, gt=0, description="Ifi of a gap to line: what it interrupts by itself"
    )
    ifi_npe_a: float | None = Field(
        default=None, gt=0, description="Ifi of the gap from N to PE, CT2"
    )
    csa_line_mm2: float = Field(gt=0, description="smallest copper to the live terminals")
    csa_pe_mm2: float = Field(gt=0, description="smallest copper to the earth terminal")
    through_current_a: float = Field(default=0.0, ge=0, description="V wiring: current; 0 none")
    vi_points: tuple[tuple[float, float], ...] = Field(default=(), description="(A, V) when known")
    status: Literal["window", "window and contact"] = "window"


class DeviceType(Part):
    """One device that can be bought.

    ``modules`` is the width on the rail, ``in_a`` the rated current; ``permitted_families``
    are the enclosure families whose maker allows the device in them.
    """

    id: str
    maker: str
    family: str
    kind: Kind
    name: str
    modules: int = Field(ge=1, le=12)
    poles: int = Field(ge=1, le=4)
    phases: Literal[1, 3] = 1
    in_a: float | None = Field(default=None, gt=0)
    curve: Literal["B", "C", "D", ""] = ""
    idn_a: float | None = Field(default=None, gt=0)
    rcd_type: Literal["AC", "A", "F", "B", ""] = ""
    time_delayed: bool = False
    icn_a: float | None = Field(default=None, gt=0)
    bidirectional: bool | None = Field(default=None, description="None: the maker does not say")
    switches_neutral: bool = False
    loss_w: float = Field(default=0.0, ge=0)
    price_gbp: float = Field(default=0.0, ge=0)
    permitted_families: tuple[str, ...] = ()
    terminals: tuple[Terminal, ...] = Field(min_length=1)
    spd: SpdData | None = None

    @property
    def width_mm(self) -> float:
        """Width of the place it takes on the rail. [mm]"""
        return self.modules * MODULE_MM

    def terminal(self, name: str) -> Terminal:
        """Return the terminal of that name.

        Raises
        ------
        KeyError
            The device has no such terminal.
        """
        for terminal in self.terminals:
            if terminal.name == name:
                return terminal
        raise KeyError(f"{self.id} has no terminal {name!r}")
