"""What a surge study needs to know of a home: nothing that it could look up itself."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from boardwright.core.errors import FieldError


class SurgeEarthing(Enum):
    """Where neutral and earth meet, which decides what a surge on the line does."""

    TN_C_S = "TN-C-S"
    TN_S = "TN-S"
    TT = "TT"


class SpdConnection(Enum):
    """The connection types of an SPD (IEC 60364-5-53, 534)."""

    CT1 = "CT1"
    """From each live conductor, the neutral included, to earth."""
    CT2 = "CT2"
    """From line to neutral, and a gap from neutral to earth."""


@dataclass(frozen=True, slots=True)
class SpdAsWired:
    """One SPD with its leads as they run.

    Parameters
    ----------
    connection
        CT1 or CT2.
    uc_v, up_v, in_8x20_a
        Its ratings; they place the curve where no points are given. [V, V, A]
    lead_l_m, lead_n_m, lead_pe_m
        Lengths of its own leads, from the busbar, neutral and earth bars. [m]
    lead_csa_mm2
        Section of the leads. [mm²]
    backup_fitted
        Whether a breaker or fuse of its own stands in the line lead.
    points
        Current and residual voltage from the data sheet, if it gives them. [A, V]
    npe_sparkover_v
        Up of the gap from neutral to earth; needed for CT2. [V]
    imax_8x20_a
        Imax, above which the study reports an overload. [A]
    stated_up_v, stated_up_ln_v
        The levels its maker states to earth and between line and neutral, for the lead rule;
        left out, ``up_v``. [V]
    """

    connection: SpdConnection
    uc_v: float
    up_v: float
    in_8x20_a: float
    lead_l_m: float
    lead_n_m: float
    lead_pe_m: float
    lead_csa_mm2: float = 6.0
    backup_fitted: bool = False
    points: tuple[tuple[float, float], ...] = ()
    npe_sparkover_v: float | None = None
    imax_8x20_a: float | None = None
    stated_up_v: float | None = None
    stated_up_ln_v: float | None = None

    def __post_init__(self) -> None:
        for name in ("uc_v", "up_v", "in_8x20_a", "lead_csa_mm2"):
            _need("spd", name, getattr(self, name), strict=True)
        for name in ("lead_l_m", "lead_n_m", "lead_pe_m"):
            _need("spd", name, getattr(self, name), strict=False)
        if self.connection is SpdConnection.CT2 and self.npe_sparkover_v is None:
            raise FieldError(
                "spd.npe_sparkover_v", None, "the protection level of the N-PE gap of a CT2 device"
            )


@dataclass(frozen=True, slots=True)
class ConnectedAppliance:
    """The equipment at the end of a circuit.

    ``capacitance_f`` and ``resistance_ohm`` stand between line and neutral;
    ``uw_v`` is its rated impulse voltage.
    """

    name: str
    capacitance_f: float
    resistance_ohm: float
    uw_v: float

    def __post_init__(self) -> None:
        for name in ("capacitance_f", "resistance_ohm", "uw_v"):
            _need(self.name, name, getattr(self, name), strict=True)


@dataclass(frozen=True, slots=True)
class SurgeCircuit:
    """A circuit as a surge meets it; one without a named appliance is a load among others.

    ``second`` is an SPD at the appliance's end of the cable, beside the one at the board.
    """

    name: str
    cable_m: float
    appliance: ConnectedAppliance | None = None
    second: SpdAsWired | None = None

    def __post_init__(self) -> None:
        _need(self.name, "cable_m", self.cable_m, strict=True)


@dataclass(frozen=True, slots=True)
class HomeSurge:
    """The plain description of a wired home that a surge study starts from.

    One line conductor is studied against N and PE. A three-phase board has such a
    description for each line, with the circuits that hang on it.

    Parameters
    ----------
    earthing
        The system of earthing.
    tails_m, tails_csa_mm2
        Meter tails, from the origin to the main switch. [m, mm²]
    earthing_conductor_m, earthing_conductor_csa_mm2
        From the origin's earth to the board's earth bar. [m, mm²]
    board_uw_v
        Rated impulse voltage of the board. [V]
    spd
        The SPD as wired, or None.
    circuits
        All circuits; those with an appliance are studied one by one.
    """

    earthing: SurgeEarthing
    tails_m: float
    tails_csa_mm2: float
    earthing_conductor_m: float
    earthing_conductor_csa_mm2: float
    board_uw_v: float
    spd: SpdAsWired | None
    circuits: tuple[SurgeCircuit, ...]

    @property
    def studied(self) -> tuple[SurgeCircuit, ...]:
        """The circuits with an appliance of their own, each a place of the study."""
        return tuple(circuit for circuit in self.circuits if circuit.appliance is not None)

    @property
    def spds(self) -> tuple[SpdAsWired, ...]:
        """Every SPD of the home: at the board, and at the equipment."""
        second = tuple(circuit.second for circuit in self.studied if circuit.second is not None)
        return ((self.spd,) if self.spd else ()) + second

    def __post_init__(self) -> None:
        for name in ("tails_m", "tails_csa_mm2", "earthing_conductor_m", "board_uw_v"):
            _need("home", name, getattr(self, name), strict=True)
        _need("home", "earthing_conductor_csa_mm2", self.earthing_conductor_csa_mm2, strict=True)
        names = [circuit.name for circuit in self.circuits]
        for name in names:
            if names.count(name) > 1:
                raise FieldError("home.circuits.name", name, "a name of its own for each circuit")


def _need(owner: str, field: str, value: float, *, strict: bool) -> None:
    if not ((value > 0 if strict else value >= 0) and math.isfinite(value)):
        raise FieldError(
            f"{owner}.{field}", value, "a number over 0" if strict else "a number of at least 0"
        )
