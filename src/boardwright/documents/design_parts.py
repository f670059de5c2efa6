"""From the stages' results to the published models of the design file."""

from __future__ import annotations

from boardwright.board.results import Placement
from boardwright.circuits.results import CircuitResult, Demand
from boardwright.core.findings import Finding
from boardwright.design import Variant
from boardwright.documents.design_models import (
    ArrangedDevice,
    CircuitOut,
    ConductorOut,
    DemandLineOut,
    DemandOut,
    MaterialOut,
    PlaceOut,
    SpdCandidateOut,
    SpdCheckOut,
    SpdOut,
    StepOut,
    SurgeNeedOut,
    SurgeStudyOut,
)
from boardwright.spd.results import SurgeNeed
from boardwright.surge.study import Band, PlaceResult, SurgeStudy
from boardwright.wiring.results import Conductor, Material, Step


def demand_out(demand: Demand) -> DemandOut:
    """Return the demand in its published form."""
    return DemandOut(
        total_a=demand.total_a,
        per_phase_a=dict(demand.per_phase_a),
        logged=demand.logged,
        lines=[
            DemandLineOut(
                purpose=line.purpose,
                circuits=list(line.circuit_ids),
                connected_a=line.connected_a,
                demand_a=line.demand_a,
                allowance=line.allowance,
                phase=line.phase,
            )
            for line in demand.lines
        ],
    )


def circuit_out(circuit: CircuitResult) -> CircuitOut:
    """Return one circuit in its published form."""
    protection = circuit.protection
    return CircuitOut(
        id=circuit.id,
        name=circuit.name,
        ib_a=circuit.ib_a,
        ib_assumed=circuit.ib_assumed,
        in_a=circuit.in_a,
        curve=protection.curve,
        poles=protection.poles,
        iz_a=circuit.iz_a,
        it_a=circuit.it_a,
        factor=circuit.factor,
        method=circuit.method,
        method_assumed=circuit.method_assumed,
        volt_drop_v=circuit.volt_drop_v,
        volt_drop_limit_v=circuit.volt_drop_limit_v,
        r1r2_20c_ohm=circuit.r1r2_20c_ohm,
        zs_ohm=circuit.zs_ohm,
        zs_max_ohm=circuit.zs_max_ohm,
        breaker_zs_max_ohm=circuit.breaker_zs_max_ohm,
        fault_protection=circuit.fault_protection.value,
        disconnection_s=circuit.disconnection_s,
        ipf_max_a=circuit.ipf_max_a,
        ipf_min_a=circuit.ipf_min_a,
        adiabatic_mm2=circuit.adiabatic_mm2,
        cpc_mm2=circuit.cpc_mm2,
        leakage_a=circuit.leakage_a,
        rcd_type=protection.rcd_type,
        idn_a=protection.idn_a,
        rcd_need=protection.rcd_need.value,
        rcd_reasons=list(protection.rcd_reasons),
        afdd=protection.afdd.value,
    )


def need_out(need: SurgeNeed) -> SurgeNeedOut:
    """Return the surge need in its published form."""
    return SurgeNeedOut(
        required=need.need.value,
        basis=need.basis,
        clause=need.rule.clause,
        crl=need.crl,
        crl_note=need.crl_note,
        least_type=need.least_type,
        least_type_reason=need.least_type_reason,
    )


def spd_out(variant: Variant) -> SpdOut:
    """Return the SPD, its leads and every candidate in the published form."""
    choice, leads = variant.spd, variant.wiring.spd_leads
    candidate = choice.candidate
    data = candidate.device.spd if candidate else None
    return SpdOut(
        device=candidate.device.id if candidate else "",
        name=candidate.device.name if candidate else "",
        connection=choice.connection,
        reason=choice.reason,
        checks=_checks(candidate.checks) if candidate else [],
        backup=candidate.backup.kind.value if candidate else "",
        backup_a=candidate.backup.rating_a if candidate else None,
        leads_m=leads.total_m if leads else None,
        line_m=leads.line_m if leads else None,
        neutral_m=leads.neutral_m if leads else None,
        pe_m=leads.pe_m if leads else None,
        csa_line_mm2=choice.csa_line_mm2,
        csa_pe_mm2=choice.csa_pe_mm2,
        up_v=data.up_v if data else None,
        up_effective_v=variant.study.lead_rule_v,
        candidates=[
            SpdCandidateOut(device=c.device.id, suitable=c.suitable, checks=_checks(c.checks))
            for c in choice.candidates
        ],
    )


def _checks(findings: tuple[Finding, ...]) -> list[SpdCheckOut]:
    return [
        SpdCheckOut(
            check=finding.check,
            verdict=finding.verdict.value,
            value=finding.value,
            limit=finding.limit,
            unit=finding.unit,
            message=finding.message,
        )
        for finding in findings
    ]


def arranged(placement: Placement) -> ArrangedDevice:
    """Return one device's place in the published form."""
    item = placement.item
    return ArrangedDevice(
        id=item.id,
        device=item.device.id,
        role=item.role.value,
        label=item.label,
        circuit=item.circuit_id,
        section=item.section,
        phase=item.phase,
        rail=placement.rail,
        module=placement.module,
        modules=item.device.modules,
        way=placement.way,
        x_mm=placement.x_mm,
        y_mm=placement.y_mm,
    )


def conductor_out(conductor: Conductor) -> ConductorOut:
    """Return one conductor in the published form."""
    return ConductorOut(
        id=conductor.id,
        begin=conductor.begin.terminal,
        end=conductor.end.terminal,
        function=conductor.function,
        csa_mm2=conductor.csa_mm2,
        colour=conductor.colour,
        origin=conductor.origin.value,
        length_mm=round(conductor.length_mm),
        route_mm=round(conductor.route_mm, 1),
        path=[(round(x, 2), round(y, 2), round(z, 2)) for x, y, z in conductor.path],
        torque_from_nm=conductor.begin.torque_nm,
        torque_to_nm=conductor.end.torque_nm,
        strip_from_mm=conductor.begin.strip_mm,
        strip_to_mm=conductor.end.strip_mm,
        group=conductor.group,
        step=conductor.step,
    )


def step_out(step: Step) -> StepOut:
    """Return one step of work in the published form."""
    return StepOut(
        id=step.id,
        number=step.number,
        phase=step.phase.value,
        title=step.title,
        text=step.text,
        needs=list(step.needs),
        conductors=list(step.conductors),
        circuit=step.circuit_id,
        caution=step.caution,
        live=step.live,
        tool=step.tool,
        torque=step.torque,
        check=step.check,
    )


def material_out(material: Material) -> MaterialOut:
    """Return one line of materials in the published form."""
    return MaterialOut(
        id=material.id,
        what=material.what,
        count=material.count,
        unit=material.unit,
        maker=material.maker,
        price_gbp=material.price_gbp,
    )


def study_out(study: SurgeStudy) -> SurgeStudyOut:
    """Return the surge study in the published form."""
    return SurgeStudyOut(
        surge=study.surge,
        outcome=study.outcome.value,
        method=study.method,
        places=[_place(place) for place in study.places],
        leads_m=study.leads_m,
        lead_rule_v=study.lead_rule_v,
        lead_sentence=study.lead_sentence,
        spd_current_a=study.spd.current_a if study.spd else None,
        spd_energy_j=study.spd.energy_j if study.spd else None,
        energy_gap_ratio=study.energy_gap_ratio,
        cautions=list(study.cautions),
    )


def _place(place: PlaceResult) -> PlaceOut:
    return PlaceOut(
        place=place.place,
        appliance=place.appliance,
        mode=place.mode,
        without_spd_v=_ends(place.without_spd_v),
        with_spd_v=_ends(place.with_spd_v) if place.with_spd_v else None,
        withstand_v=place.uw_v,
        movers=[mover.words for mover in place.movers],
        sentence=place.sentence,
    )


def _ends(band: Band) -> tuple[float, float]:
    return band.p5_v, band.p95_v
