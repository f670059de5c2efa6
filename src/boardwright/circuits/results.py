"""What the circuits stage hands on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from boardwright.circuits.capacity import required_it_a
from boardwright.core.findings import Rule


@dataclass(frozen=True, slots=True)
class DemandLine:
    """One purpose of the household allowances, worked.

    ``allowance`` says in words what was allowed; ``phase`` is L1, L2, L3, or empty for one phase.
    """

    purpose: str
    circuit_ids: tuple[str, ...]
    connected_a: float
    demand_a: float
    allowance: str
    phase: str = ""


@dataclass(frozen=True, slots=True)
class Demand:
    """Maximum demand after diversity. ``total_a`` is that of the fullest phase."""

    total_a: float
    per_phase_a: Mapping[str, float]
    lines: tuple[DemandLine, ...]
    logged: bool
    rule: Rule


@dataclass(frozen=True, slots=True)
class Origin:
    """The supply as the board sees it; None where a reading is missing.

    ``zdb_ohm`` is Ze plus tails or submain, hot; ``ipf_board_max_a`` the highest fault current
    at the board (for breaking capacity), ``zdb_assumed`` true where Ze was taken from the
    distributor's declared maximum. The submain fields are 0 or None without one.
    """

    ze_ohm: float | None
    zdb_ohm: float | None
    zdb_assumed: bool
    ipf_origin_a: float | None
    ipf_board_max_a: float | None
    ipf_board_min_a: float | None
    submain_volt_drop_v: float = 0.0
    submain_zs_max_ohm: float | None = None
    submain_iz_a: float | None = None


class FaultProtection(Enum):
    """What disconnects an earth fault in time."""

    BREAKER = "overcurrent device"
    RCD = "RCD"
    NONE = "nothing"


class RcdNeed(Enum):
    """Whether a 30 mA RCD must be there for additional protection."""

    REQUIRED = "required"
    NOT_REQUIRED = "not required"


class AfddNeed(Enum):
    """Whether an AFDD must or should be there."""

    REQUIRED = "required"
    RECOMMENDED = "recommended"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Protection:
    """The device that a circuit asks for, before a maker is chosen.

    ``rcd_type`` is empty and ``idn_a`` None where the device has no residual-current function.
    ``poles`` counts switched poles; ``bidirectional`` true where energy flows back.
    ``wanted`` true where the job asked for this rating; ``standard`` is RCBO or MCB, or the fuse
    that stays.
    """

    in_a: float
    curve: str
    poles: int
    phases: int
    rcd_type: str
    idn_a: float | None
    rcd_need: RcdNeed
    rcd_reasons: tuple[str, ...]
    afdd: AfddNeed
    bidirectional: bool
    wanted: bool
    standard: str = "RCBO"


@dataclass(frozen=True, slots=True)
class CircuitResult:
    """One circuit worked out. Design values are hot (70 °C) unless the name says 20c.

    ``iz_a`` is the capacity as installed, factors included; ``it_a`` the tabulated one.
    ``zs_ohm`` is None without a usable Zdb; ``zs_max_ohm`` belongs to the device that
    disconnects; ``adiabatic_mm2`` is the least protective conductor, None without Zs.
    ``volt_drop_v`` is counted from the origin, a submain included. ``iz_best_a`` is the capacity
    by ``method_best``, the best method there is for the cable, where the route is not known.
    """

    id: str
    name: str
    ib_a: float
    ib_assumed: bool
    in_a: float
    iz_a: float
    it_a: float
    factor: float
    method: str
    method_assumed: bool
    volt_drop_v: float
    volt_drop_limit_v: float
    r1r2_20c_ohm: float | None
    zs_ohm: float | None
    zs_max_ohm: float
    breaker_zs_max_ohm: float
    fault_protection: FaultProtection
    disconnection_s: float
    ipf_max_a: float | None
    ipf_min_a: float | None
    adiabatic_mm2: float | None
    cpc_mm2: float
    leakage_a: float
    leakage_measured: bool
    protection: Protection
    iz_best_a: float = 0.0
    method_best: str = ""
    capacity_rule: Rule | None = None
    ct_factor: float = 1.0
    """What the volt drop shrinks by if the conductor's true temperature is counted."""
    phase: str = ""
    """Phase of a one-phase circuit in a three-phase home, else empty."""
    ca_factor: float = 1.0
    cg_factor: float = 1.0
    ci_factor: float = 1.0
    cf_factor: float = 1.0
    """The parts of ``factor``: ambient temperature, grouping, insulation, rewirable fuse."""

    @property
    def it_needed_a(self) -> float:
        """Tabulated capacity that the device asks of the cable, In/(Ca·Cg·Ci·Cf). [A]"""
        return required_it_a(self.in_a, self.factor)


@dataclass(frozen=True, slots=True)
class Section:
    """Circuits behind one RCD. ``rcd_in_a`` is None where each way has its own RCBO."""

    id: str
    circuit_ids: tuple[str, ...]
    rcd_in_a: float | None
    idn_a: float | None
    rcd_type: str
    leakage_a: float


@dataclass(frozen=True, slots=True)
class DivisionWish:
    """One weighted wish about which circuits share an RCD, and by how much it is missed.

    ``key`` is its name in the job; ``amount`` counts groups or pairs, or is in per cent of what
    one RCD bears.
    """

    key: str
    name: str
    weight: int
    amount: int


@dataclass(frozen=True, slots=True)
class Division:
    """Which circuits share an RCD, what that pays for each wish, whether none pays less."""

    sections: tuple[Section, ...]
    wishes: tuple[DivisionWish, ...]
    proven: bool


@dataclass(frozen=True, slots=True)
class CircuitPlan:
    """All circuits of the home, its demand, its origin, its division.

    ``division`` is what the sections pay for the wishes about them, empty without sections.
    """

    origin: Origin
    demand: Demand
    circuits: tuple[CircuitResult, ...]
    sections: tuple[Section, ...]
    division: tuple[DivisionWish, ...] = ()
    division_proven: bool = True

    def circuit(self, circuit_id: str) -> CircuitResult:
        """Return the circuit of that id, or raise KeyError."""
        return next(c for c in self.circuits if c.id == circuit_id)
