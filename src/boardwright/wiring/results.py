"""What the wiring stage hands on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

Point = tuple[float, float, float]
"""x, y in the enclosure's frame and depth from the back. [mm]"""


SECOND_LEG = ".2"
"""Ends the name of a ring's second cable: no circuit's id can hold a dot."""


@dataclass(frozen=True, slots=True)
class End:
    """One end of a conductor: a terminal, named ``<item or bar id>.<terminal name>``.

    ``torque_nm`` and ``strip_mm`` are None where the far end is outside the board.
    """

    terminal: str
    label: str
    torque_nm: float | None
    strip_mm: float | None


class Origin(Enum):
    """Where a conductor comes from."""

    NEW = "new"
    FLYING = "fitted by the maker"
    EXISTING = "existing"
    BUSBAR = "busbar"


@dataclass(frozen=True, slots=True)
class Conductor:
    """One conductor: what it joins, its size, its way through the board.

    ``function`` is L, L1, L2, L3, N or PE; ``length_mm`` the cut length, stripping and
    termination allowance included; ``route_mm`` the length along ``path``;
    ``group`` names conductors that are one job, as the neutral leads of all RCBOs;
    ``teeth`` are the terminals that a busbar meets, its ends included.
    """

    id: str
    begin: End
    end: End
    function: str
    csa_mm2: float
    colour: str
    origin: Origin
    path: tuple[Point, ...]
    route_mm: float
    length_mm: float
    group: str = ""
    step: int = 0
    teeth: tuple[str, ...] = ()

    @property
    def terminals(self) -> tuple[str, ...]:
        """Every terminal that it joins."""
        return self.teeth or (self.begin.terminal, self.end.terminal)


@dataclass(frozen=True, slots=True)
class SpdLeads:
    """The connecting leads of the SPD as the standard counts them. [m]

    ``line_m``, ``neutral_m`` and ``pe_m`` from the tap or bar to the device; sums are
    line + PE and neutral + PE. ``backup_m`` is the way through the back-up device and its tooth,
    contained in ``line_m``; ``assumed`` true where the length outside a box was not surveyed.
    """

    line_m: float
    neutral_m: float
    pe_m: float
    v_wired: bool = False
    backup_m: float = 0.0
    assumed: bool = False

    @property
    def total_m(self) -> float:
        """The longer of line + PE and neutral + PE. [m]"""
        return max(self.line_m, self.neutral_m) + self.pe_m


class Phase(Enum):
    """The parts of the day's work, in order."""

    BEFORE = "Before anything is touched"
    ISOLATE = "Isolate and prove dead"
    REMOVE = "Mark and remove"
    MOUNT = "Mount"
    WIRE = "Wire"
    DEAD_TESTS = "Dead tests"
    COVER = "Covers"
    ENERGISE = "Energise, circuit by circuit"
    HAND_OVER = "Hand over"


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the order of work.

    ``needs`` are ids of steps that must be done before; ``conductors`` the ids it joins;
    ``caution`` stands above the step while it applies; ``live`` true where parts are live.
    Where terminals are made ``tool`` names what they are made with, ``torque`` the makers'
    figures, terminal by terminal, and ``check`` what proves the work; else all three are empty.
    """

    id: str
    number: int
    phase: Phase
    title: str
    text: str
    needs: tuple[str, ...] = ()
    conductors: tuple[str, ...] = ()
    circuit_id: str = ""
    caution: str = ""
    live: bool = False
    tool: str = ""
    torque: str = ""
    check: str = ""


@dataclass(frozen=True, slots=True)
class Material:
    """One line of what must be on the van; ``price_gbp`` is the whole line's."""

    id: str
    what: str
    count: float
    unit: str
    price_gbp: float
    maker: str = ""


@dataclass(frozen=True, slots=True)
class Wiring:
    """Every conductor, the SPD's leads, the order of work, the materials."""

    conductors: tuple[Conductor, ...]
    spd_leads: SpdLeads | None
    steps: tuple[Step, ...]
    materials: tuple[Material, ...]
