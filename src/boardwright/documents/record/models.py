"""The published models of the design file: one a stage.

Each reads a stage's result: a field of another name, or from deeper in, says where it stands.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum
from typing import Annotated, Any, TypeVar

from pydantic import AliasChoices, AliasPath, BaseModel, BeforeValidator, ConfigDict, Field

from boardwright.surge.study import Band, InputEffect


class Part(BaseModel):
    """Base of the parts: an unknown key is an error, a result of a stage is read by attribute."""

    model_config = ConfigDict(extra="forbid", populate_by_name=True, from_attributes=True)


Out = TypeVar("Out", bound=Part)


def read(model: type[Out], results: Iterable[object]) -> list[Out]:
    """Return the results of a stage in their published form."""
    return [model.model_validate(result) for result in results]


def plain(model: type[Part], result: object) -> dict[str, Any]:
    """Return one result in its published form, as JSON has it."""
    return model.model_validate(result).model_dump(mode="json")


def _word(value: object) -> object:
    return value.value if isinstance(value, Enum) else value


def _ends(band: object) -> object:
    return (band.p5_v, band.p95_v) if isinstance(band, Band) else band


def _words(effects: Iterable[object]) -> list[object]:
    return [each.words if isinstance(each, InputEffect) else each for each in effects]


Word = Annotated[str, BeforeValidator(_word)]
"""The word of an enumeration."""

WholeMm = Annotated[float, BeforeValidator(round)]
TenthMm = Annotated[float, BeforeValidator(lambda mm: round(mm, 1))]
HundredthMm = Annotated[float, BeforeValidator(lambda mm: round(mm, 2))]

Ends = Annotated[tuple[float, float], BeforeValidator(_ends)]
"""The 5 % and the 95 % point of a band. [V]"""


class FindingOut(Part):
    """One finding, with the clause it rests on and how sure that is."""

    check: str
    verdict: Word
    subject: str
    subject_id: str
    value: float | None
    limit: float | None
    unit: str
    sense: Word
    clause: str = Field(validation_alias=AliasPath("rule", "clause"))
    edition: str = Field(validation_alias=AliasPath("rule", "edition"))
    known: Word = Field(validation_alias=AliasPath("rule", "known"))
    carried: bool = Field(
        validation_alias=AliasPath("rule", "carried"),
        description="the text in force was not seen; carried from the one before",
    )
    override: str = Field(validation_alias=AliasPath("rule", "note"))
    first: bool = Field(description="must be done or known before the work starts")
    message: str
    remedy: str


class DemandLineOut(Part):
    """One purpose of the allowances."""

    purpose: str
    circuits: list[str] = Field(validation_alias="circuit_ids")
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
    curve: str = Field(validation_alias=AliasPath("protection", "curve"))
    poles: int = Field(validation_alias=AliasPath("protection", "poles"))
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
    fault_protection: Word
    disconnection_s: float
    ipf_max_a: float | None
    ipf_min_a: float | None
    adiabatic_mm2: float | None
    cpc_mm2: float
    leakage_a: float
    rcd_type: str = Field(validation_alias=AliasPath("protection", "rcd_type"))
    idn_a: float | None = Field(validation_alias=AliasPath("protection", "idn_a"))
    rcd_need: Word = Field(validation_alias=AliasPath("protection", "rcd_need"))
    rcd_reasons: list[str] = Field(validation_alias=AliasPath("protection", "rcd_reasons"))
    afdd: Word = Field(validation_alias=AliasPath("protection", "afdd"))


class SurgeNeedOut(Part):
    """The decision on surge protection and the advisory risk level."""

    required: Word = Field(validation_alias="need")
    basis: str
    clause: str = Field(validation_alias=AliasPath("rule", "clause"))
    crl: float | None
    crl_note: str
    least_type: str
    least_type_reason: str


class SpdCheckOut(Part):
    """One reason for or against a device."""

    check: str
    verdict: Word
    value: float | None
    limit: float | None
    unit: str
    message: str


class SpdCandidateOut(Part):
    """One device that was weighed."""

    device: str = Field(validation_alias=AliasPath("device", "id"))
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

    id: str = Field(validation_alias=AliasPath("item", "id"))
    device: str = Field(validation_alias=AliasPath("item", "device", "id"))
    role: Word = Field(validation_alias=AliasPath("item", "role"))
    label: str = Field(validation_alias=AliasPath("item", "label"))
    circuit: str = Field(validation_alias=AliasPath("item", "circuit_id"))
    section: str = Field(validation_alias=AliasPath("item", "section"))
    phase: str = Field(validation_alias=AliasPath("item", "phase"))
    rail: int
    module: int
    modules: int = Field(validation_alias=AliasPath("item", "device", "modules"))
    way: int
    x_mm: float
    y_mm: float


class ConductorOut(Part):
    """One conductor from terminal to terminal."""

    id: str
    begin: str = Field(validation_alias=AliasPath("begin", "terminal"), serialization_alias="from")
    end: str = Field(validation_alias=AliasPath("end", "terminal"), serialization_alias="to")
    function: str
    csa_mm2: float
    colour: str
    origin: Word
    length_mm: WholeMm
    route_mm: TenthMm
    path: list[tuple[HundredthMm, HundredthMm, HundredthMm]]
    torque_from_nm: float | None = Field(validation_alias=AliasPath("begin", "torque_nm"))
    torque_to_nm: float | None = Field(validation_alias=AliasPath("end", "torque_nm"))
    strip_from_mm: float | None = Field(validation_alias=AliasPath("begin", "strip_mm"))
    strip_to_mm: float | None = Field(validation_alias=AliasPath("end", "strip_mm"))
    group: str
    step: int


class StepOut(Part):
    """One step of the order of work."""

    id: str
    number: int
    phase: Word
    title: str
    text: str
    needs: list[str]
    conductors: list[str]
    circuit: str = Field(validation_alias="circuit_id")
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
    without_spd_v: Ends
    with_spd_v: Ends | None
    withstand_v: float = Field(validation_alias="uw_v")
    movers: Annotated[list[str], BeforeValidator(_words)] = Field(
        description="the inputs that move it most, the strongest first"
    )
    sentence: str


class SurgeStudyOut(Part):
    """The surge study: bands by place, what moves them, how it was made."""

    surge: str
    outcome: Word
    method: str
    places: list[PlaceOut]
    leads_m: float | None
    lead_rule_v: float | None = Field(description="Up and the lead rule's drop")
    lead_sentence: str
    spd_current_a: float | None = Field(
        validation_alias=AliasChoices(AliasPath("spd", "current_a"), "spd")
    )
    spd_energy_j: float | None = Field(
        validation_alias=AliasChoices(AliasPath("spd", "energy_j"), "spd")
    )
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
