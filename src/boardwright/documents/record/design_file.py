"""The design file: the whole result as JSON, in a published form.

The models here are the interface that other programs read; they are kept stable while the
stages behind them change.
"""

from __future__ import annotations

from typing import Any

from boardwright import __version__
from boardwright.design import Design, Variant
from boardwright.documents.record.duty import SurgeDutyOut, surge_duty_out
from boardwright.documents.record.models import (
    ArrangedDevice,
    CircuitOut,
    ConductorOut,
    DemandOut,
    FindingOut,
    MaterialOut,
    Part,
    SpdOut,
    StepOut,
    SurgeNeedOut,
    SurgeStudyOut,
    read,
)
from boardwright.documents.record.parts import spd_out

TITLE = "Design file"
FILE = "design.json"
SCHEMA_VERSION = 1


class VariantOut(Part):
    """A scheme that was worked out and not proposed, in short."""

    scheme: str
    spd: str
    leads_m: float | None
    up_effective_v: float | None
    findings: list[FindingOut]


class DesignOut(Part):
    """The whole design. Lengths within the board in mm, other quantities as their names say."""

    schema_version: int = SCHEMA_VERSION
    program: str
    mark: str
    job: str
    job_digest: str
    catalogue_digest: str
    edition_digest: str
    designed_on: str
    edition: str
    title: str
    scheme: str
    enclosure: str
    findings: list[FindingOut]
    demand: DemandOut
    circuits: list[CircuitOut]
    surge_need: SurgeNeedOut
    spd: SpdOut
    surge_duty: SurgeDutyOut | None
    arrangement: list[ArrangedDevice]
    spare_modules: int
    arrangement_proven: bool
    conductors: list[ConductorOut]
    steps: list[StepOut]
    surge_study: SurgeStudyOut
    materials: list[MaterialOut]
    other_schemes: list[VariantOut]


def build(design: Design) -> str:
    """Return the design file's text."""
    return published(design).model_dump_json(indent=1, by_alias=True) + "\n"


def design_schema() -> dict[str, Any]:
    """Return the JSON Schema of the design file."""
    return DesignOut.model_json_schema(mode="serialization")


def published(design: Design) -> DesignOut:
    """Return the design in its published form."""
    chosen = design.chosen
    return DesignOut(
        program=f"boardwright {__version__}",
        mark=design.mark,
        job=design.job.id,
        job_digest=design.job_digest,
        catalogue_digest=design.catalogue.digest,
        edition_digest=design.edition.digest,
        designed_on=design.job.designed_on.isoformat(),
        edition=design.edition.title,
        title=design.job.title,
        scheme=chosen.scheme.value,
        enclosure=chosen.arrangement.enclosure.id,
        findings=read(FindingOut, design.findings),
        demand=DemandOut.model_validate(design.plan.demand),
        circuits=read(CircuitOut, design.plan.circuits),
        surge_need=SurgeNeedOut.model_validate(design.need),
        spd=spd_out(chosen),
        surge_duty=surge_duty_out(design),
        arrangement=read(ArrangedDevice, chosen.arrangement.placements),
        spare_modules=chosen.arrangement.spare_modules,
        arrangement_proven=chosen.arrangement.proven,
        conductors=read(ConductorOut, chosen.wiring.conductors),
        steps=read(StepOut, chosen.wiring.steps),
        surge_study=SurgeStudyOut.model_validate(chosen.study),
        materials=read(MaterialOut, chosen.wiring.materials),
        other_schemes=[_variant_out(variant) for variant in design.variants[1:]],
    )


def _variant_out(variant: Variant) -> VariantOut:
    spd = spd_out(variant)
    return VariantOut(
        scheme=variant.scheme.value,
        spd=spd.device,
        leads_m=spd.leads_m,
        up_effective_v=spd.up_effective_v,
        findings=read(FindingOut, variant.findings),
    )
