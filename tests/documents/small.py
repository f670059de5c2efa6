"""A small design made by hand: every document's test knows each figure that it should find.

Invented throughout; no stage ran, so a change in a stage moves none of these tests.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache

from boardwright.board.results import Arrangement, BoardPlan, Item, Placement, Role, Scheme
from boardwright.catalogue.load import load_catalogue
from boardwright.circuits.results import (
    AfddNeed,
    CircuitPlan,
    CircuitResult,
    Demand,
    DemandLine,
    FaultProtection,
    Origin,
    Protection,
    RcdNeed,
)
from boardwright.core.findings import Finding, Known, Rule, Sense, Verdict, in_order
from boardwright.design import Design, Variant
from boardwright.job.job import Job
from boardwright.spd.results import Backup, BackupKind, Candidate, Need, SpdChoice, SurgeNeed
from boardwright.standards.load import load_edition
from boardwright.surge.solver import Outcome
from boardwright.surge.study import Band, InputEffect, PlaceResult, SpdStress, SurgeStudy
from boardwright.wiring.results import Conductor, End, Material, Phase, SpdLeads, Step, Wiring
from boardwright.wiring.results import Origin as From

EDITION = "BS 7671:2018+A4:2026"
CIRCUITS = (("shower", "Shower", "shower", 40.0), ("sockets", "Kitchen sockets", "sockets", 32.0))


@cache
def small_design(title: str = "7 Heron Terrace") -> Design:
    """Return the design; ``title`` is the home's name, as hostile as a test likes."""
    catalogue, edition = load_catalogue(), load_edition("bs7671_2018_a4")
    findings = in_order(FINDINGS)
    device = catalogue.devices["ravel-spd-t2"]
    backup = Backup(BackupKind.MCB, 32, catalogue.devices["ravel-mcb-c32"], "tested by its maker")
    reasons = (_finding("spd.up", Verdict.PASS, "SPD"),)
    taken = Candidate(device, backup, reasons, suitable=True, score=(0.0,))
    choice = SpdChoice(taken, (taken,), "CT2", 4, 6, "The shortest leads of those that suit.")
    enclosure = catalogue.enclosures["ravel-r1-12"]
    items = [
        Item("main-switch", Role.MAIN_SWITCH, catalogue.devices["ravel-ms-100"], "Main switch")
    ]
    items.append(Item("spd", Role.SPD, device, "SPD"))
    for circuit_id, name, _, in_a in CIRCUITS:
        breaker = catalogue.devices[f"ravel-rcbo-b{in_a:g}"]
        items.append(Item(f"way-{circuit_id}", Role.CIRCUIT, breaker, name, circuit_id))
    starts = (0, 2, 4, 5)
    placements = tuple(
        Placement(item, 0, start, max(0, start - 1), 40 + 17.8 * start, 129)
        for item, start in zip(items, starts, strict=True)
    )
    scheme = Scheme.NEW_BOARD
    variant = Variant(
        scheme=scheme,
        board=BoardPlan(scheme, enclosure, tuple(items), ("The smallest that holds all.",)),
        spd=choice,
        arrangement=Arrangement(scheme, enclosure, placements, 6, (), proven=True, gap=0.0),
        wiring=WIRING,
        study=STUDY,
        findings=findings,
    )
    return Design(
        job=_job(title),
        edition=edition,
        catalogue=catalogue,
        plan=_plan(),
        need=_need(),
        gate=(),
        variants=(variant,),
        out_of_question=((Scheme.SPARE_WAYS, "The board as found has no spare way."),),
        findings=findings,
    )


def _need() -> SurgeNeed:
    return SurgeNeed(
        need=Need.FIT,
        basis="The owner has not declined.",
        rule=_rule(),
        crl=None,
        crl_note="",
        least_type="T2",
        least_type_reason="",
        type_1_advised=False,
        iimp_min_10x350_a=None,
    )


def with_findings(design: Design, findings: tuple[Finding, ...]) -> Design:
    """Return the design with other findings."""
    ordered = in_order(findings)
    chosen = replace(design.chosen, findings=ordered)
    return replace(design, findings=ordered, variants=(chosen, *design.variants[1:]))


def with_wiring(design: Design, wiring: Wiring) -> Design:
    """Return the design with another wiring."""
    return replace(design, variants=(replace(design.chosen, wiring=wiring), *design.variants[1:]))


def with_study(design: Design, study: SurgeStudy) -> Design:
    """Return the design with another surge study."""
    return replace(design, variants=(replace(design.chosen, study=study), *design.variants[1:]))


def _job(title: str) -> Job:
    circuits = [
        {
            "id": circuit_id,
            "name": name,
            "serves": serves,
            "topology": "ring" if serves == "sockets" else "radial",
            "cable": {"line_mm2": 6, "cpc_mm2": 2.5, "length_m": 12},
        }
        for circuit_id, name, serves, _ in CIRCUITS
    ]
    return Job.model_validate(
        {
            "id": "small",
            "title": title,
            "designed_on": date(2026, 11, 14),
            "premises": {"kind": "house"},
            "supply": {"system": "TN-C-S", "ze_ohm": 0.24, "cutout_fuse_a": 100},
            "earthing": {},
            "surge_environment": {"setting": "suburban"},
            "circuits": circuits,
        }
    )


def _plan() -> CircuitPlan:
    lines = (DemandLine("Shower", ("shower",), 40, 40, "in full"),)
    rule = _rule("311.1", Known.MEMORY)
    demand = Demand(total_a=56.4, per_phase_a={"": 56.4}, lines=lines, logged=False, rule=rule)
    circuits = tuple(_circuit(*circuit[:2], circuit[3]) for circuit in CIRCUITS)
    origin = Origin(
        ze_ohm=0.24,
        zdb_ohm=0.26,
        zdb_assumed=False,
        ipf_origin_a=1900,
        ipf_board_max_a=1850,
        ipf_board_min_a=800,
    )
    return CircuitPlan(origin, demand, circuits, ())


def _circuit(circuit_id: str, name: str, in_a: float) -> CircuitResult:
    protection = Protection(
        in_a=in_a,
        curve="B",
        poles=1,
        phases=1,
        rcd_type="A",
        idn_a=0.03,
        rcd_need=RcdNeed.REQUIRED,
        rcd_reasons=(),
        afdd=AfddNeed.NONE,
        bidirectional=False,
        wanted=False,
    )
    return CircuitResult(
        id=circuit_id,
        name=name,
        ib_a=0.9 * in_a,
        ib_assumed=False,
        in_a=in_a,
        iz_a=47,
        it_a=47,
        factor=1,
        method="C",
        method_assumed=circuit_id == "shower",
        volt_drop_v=3.2,
        volt_drop_limit_v=11.5,
        r1r2_20c_ohm=0.13,
        zs_ohm=0.61,
        zs_max_ohm=43.7 / in_a,
        breaker_zs_max_ohm=43.7 / in_a,
        fault_protection=FaultProtection.BREAKER,
        disconnection_s=0.4,
        ipf_max_a=1850,
        ipf_min_a=400,
        adiabatic_mm2=1.1,
        cpc_mm2=2.5,
        leakage_a=0.002,
        leakage_measured=False,
        protection=protection,
    )


def _rule(clause: str = "443.4.1", known: Known = Known.FOUND, *, carried: bool = False) -> Rule:
    return Rule(clause, EDITION, known, carried)


def _finding(check: str, verdict: Verdict, subject: str) -> Finding:
    return Finding(check, verdict, subject, f"This is so of the {subject}.", _rule("433.1.1"))


FINDINGS = (
    _finding("circuit.overload", Verdict.PASS, "Shower"),
    _finding("circuit.overload", Verdict.PASS, "Kitchen sockets"),
    _finding("ev.rcd", Verdict.NOT_APPLICABLE, "EV point"),
    Finding(
        "gate.bonding.water",
        Verdict.UNKNOWN,
        "Water bonding",
        "The bond was not proved.",
        _rule("544.1.1", Known.MEMORY),
        remedy="Measure the water bond.",
        first=True,
    ),
    Finding(
        "spd.backup",
        Verdict.FAIL,
        "SPD back-up",
        "Way 1 is 32 A; the maker allows 25 A",
        _rule("534.4.5", carried=True),
        value=32,
        limit=25,
        unit="A",
        remedy="Fit a 25 A breaker.",
    ),
    Finding("rcd.leakage", Verdict.ADVISE, "Board", "Leakage is high.", _rule("531.3.2")),
    Finding(
        "supply.fault_rating",
        Verdict.PASS,
        "Board",
        "The board withstands 16000 A here.",
        _rule("536.4"),
        value=16000,
        limit=1850,
        unit="A",
        sense=Sense.AT_LEAST,
    ),
)


def _wire(name: str, ends: tuple[End, End], function: str, origin: From, step: int) -> Conductor:
    path = ((0.0, 0.0, 0.0), (0.0, 60.0, 0.0))
    colour = {"L": "brown", "N": "blue", "PE": "green-yellow"}[function]
    return Conductor(name, *ends, function, 6.0, colour, origin, path, 60, 71.4, step=step)


def _end(terminal: str, label: str, torque_nm: float | None = 2.0) -> End:
    return End(terminal, label, torque_nm, None if torque_nm is None else 12.0)


WIRING = Wiring(
    conductors=(
        _wire(
            "core-shower",
            (
                _end("cable-shower.L", "Shower cable, line core", None),
                _end("way-shower.L-out", "Shower, terminal L-out, top"),
            ),
            "L",
            From.EXISTING,
            4,
        ),
        _wire(
            "spd-pe",
            (
                _end("spd.PE", "SPD, terminal PE, top", 2.5),
                _end("earth-bar.2", "Earth bar, terminal 2"),
            ),
            "PE",
            From.NEW,
            3,
        ),
    ),
    spd_leads=SpdLeads(0.21, 0.12, 0.2),
    steps=(
        Step("a", 1, Phase.ISOLATE, "Isolate", "Lock it.", caution="Parts are live.", live=True),
        Step("b", 2, Phase.ISOLATE, "Prove dead", "Three tests.", caution="Parts are live."),
        Step("c", 3, Phase.WIRE, "SPD to earth bar", "Cut 71 mm.", caution="Dead, proved."),
        Step("d", 4, Phase.WIRE, "Shower", "Core to its way.", caution="Dead, proved."),
    ),
    materials=(
        Material("board", "Ravel R1", 1, "", 84.5, "Ravel"),
        Material("copper", "Copper 6 mm²", 0.4, "m", 0),
    ),
)

STUDY = SurgeStudy(
    outcome=next(iter(Outcome)),
    surge="6 kV / 3 kA combination wave",
    places=(
        PlaceResult(
            "board",
            "",
            4000,
            "line to earth",
            Band(6900, 7500, 8250),
            Band(1150, 1500, 2000),
            (InputEffect("tails", "inductance of the tails", -120.4, 180.2),),
        ),
        PlaceResult(
            "sockets",
            "Router",
            1500,
            "line to earth",
            Band(7000, 8000, 8750),
            Band(1450, 1800, 2250),
            (),
        ),
    ),
    leads_m=0.41,
    lead_rule_v=1910,
    lead_sentence="The lead rule gives 1910 V.",
    spd=SpdStress(2300, 41),
    energy_gap_ratio=0.001,
    method="first order, from 22 runs",
    cautions=("One surge of one assumed size.",),
)
