"""The published models of the design file: one a stage."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, Field


class Part(BaseModel):
    """Base of the parts: an unknown key is an error, aliases may be filled by name."""

    model_config = ConfigDict(extra="forbid", populate_by_name=True)


class DemandLineOut(Part):
    """One purpose of the allowances."""

    purpose: str
    circuits: list[str]
    connected_a: float
    demand_a: float
    allowance: str
    phase: str


class DemandOut(Part):
    """Maximum demand after diversity, of the fullest phase."""

    total_a: float
    per_phase_a: dict[str, float]
    logged: bool
    lines: list[DemandLineOut]


class CircuitOut(Part):
    """One circuit: design current, device, capacity, volt drop, loop, earth."""

    id: str
    name: str
    ib_a: float
    ib_assumed: bool
    in_a: float
    curve: str
    poles: int
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
    fault_protection: str
    disconnection_s: float
    ipf_max_a: float | None
    ipf_min_a: float | None
    adiabatic_mm2: float | None
    cpc_mm2: float
    leakage_a: float
    rcd_type: str
    idn_a: float | None
    rcd_need: str
    rcd_reasons: list[str]
    afdd: str


class SurgeNeedOut(Part):
    """The decision on surge protection and the advisory risk level."""

    required: str
    basis: str
    clause: str
    crl: float | None
    crl_note: str
    least_type: str
    least_type_reason: str


class SpdCheckOut(Part):
    """One reason for or against a device."""

    check: str
    verdict: str
    value: float | None
    limit: float | None
    unit: str
    message: str


class SpdCandidateOut(Part):
    """One device that was weighed."""

    device: str
    suitable: bool
    checks: list[SpdCheckOut]


class SpdOut(Part):
    """The SPD taken, its back-up and leads; ``device`` is empty where none is fitted."""

    device: str
    name: str
    connection: str
    reason: str
    checks: list[SpdCheckOut]
    backup: str
    backup_a: float | None
    leads_m: float | None
    line_m: float | None
    neutral_m: float | None
    pe_m: float | None
    csa_line_mm2: float
    csa_pe_mm2: float
    up_v: float | None
    up_effective_v: float | None = Field(description="Up and the lead rule's drop together")
    candidates: list[SpdCandidateOut]


class ArrangedDevice(Part):
    """One device in its place on the rail."""

    id: str
    device: str
    role: str
    label: str
    circuit: str
    section: str
    phase: str
    rail: int
    module: int
    modules: int
    way: int
    x_mm: float
    y_mm: float


class ConductorOut(Part):
    """One conductor from terminal to terminal."""

    id: str
    begin: str = Field(serialization_alias="from")
    end: str = Field(serialization_alias="to")
    function: str
    csa_mm2: float
    colour: str
    origin: str
    length_mm: float
    route_mm: float
    path: list[tuple[float, float, float]]
    torque_from_nm: float | None
    torque_to_nm: float | None
    strip_from_mm: float | None
    strip_to_mm: float | None
    group: str
    step: int


class StepOut(Part):
    """One step of the order of work."""

    id: str
    number: int
    phase: str
    title: str
    text: str
    needs: list[str]
    conductors: list[str]
    circuit: str
    caution: str
    live: bool
    tool: str
    torque: str
    check: str


class PlaceOut(Part):
    """What a named surge leaves at one place: 5 to 95 % bands against its withstand. [V]"""

    place: str
    appliance: str
    mode: str
    without_spd_v: tuple[float, float]
    with_spd_v: tuple[float, float] | None
    withstand_v: float
    movers: list[str] = Field(description="the inputs that move it most, the strongest first")
    sentence: str


class SurgeStudyOut(Part):
    """The surge study: bands by place, what moves them, how it was made."""

    surge: str
    outcome: str
    method: str
    places: list[PlaceOut]
    leads_m: float | None
    lead_rule_v: float | None = Field(description="Up and the lead rule's drop")
    lead_sentence: str
    spd_current_a: float | None
    spd_energy_j: float | None
    energy_gap_ratio: float
    cautions: list[str]


class MaterialOut(Part):
    """One line of the list of materials."""

    id: str
    what: str
    count: float
    unit: str
    maker: str
    price_gbp: float
