"""From the wired board to what the surge study needs: nothing is asked that is known already."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import SpdData
from boardwright.circuits.results import CircuitPlan
from boardwright.job.circuit import Appliance, Circuit
from boardwright.job.job import Job
from boardwright.spd.results import BackupKind, SpdChoice
from boardwright.standards.edition import Edition
from boardwright.surge.home import (
    ConnectedAppliance,
    HomeSurge,
    SpdAsWired,
    SpdConnection,
    SurgeCircuit,
    SurgeEarthing,
)
from boardwright.wiring.results import Wiring

ASSUMED_TAILS_M = 2.0
ASSUMED_TAILS_MM2 = 25.0
ASSUMED_EARTHING_M = 2.0
ASSUMED_EARTHING_MM2 = 16.0
"""Taken where the survey is silent: usual in homes; common practice, no source. The study's
sensitivity to them is a few per cent."""

SHORTEST_M = 0.1
"""Conductors count with at least this: the way through the terminals at both ends. Judgement."""


def home_surge(
    job: Job, catalogue: Catalogue, edition: Edition, spd: SpdChoice, wiring: Wiring
) -> HomeSurge:
    """Return the home as a surge meets it, with the SPD's leads as routed.

    Equipment counts as exposed at the voltage of its impulse category (IEC 60664-1).
    A remote board is met at the end of its submain.
    """
    supply, earthing = job.supply, job.earthing
    remote = supply.submain
    return HomeSurge(
        earthing=SurgeEarthing(supply.system),
        tails_m=_conducted_m(remote.length_m if remote else supply.tails.length_m, ASSUMED_TAILS_M),
        tails_csa_mm2=remote.line_mm2 if remote else supply.tails.csa_mm2 or ASSUMED_TAILS_MM2,
        earthing_conductor_m=_conducted_m(
            remote.length_m if remote else earthing.conductor_length_m, ASSUMED_EARTHING_M
        ),
        earthing_conductor_csa_mm2=(
            remote.cpc_mm2 if remote else earthing.conductor_mm2 or ASSUMED_EARTHING_MM2
        ),
        board_uw_v=edition.number("uw.category_iii_v"),
        spd=_as_wired(spd, wiring),
        circuits=tuple(found for _, found in _circuits(job, catalogue, edition)),
    )


def home_by_line(
    job: Job,
    catalogue: Catalogue,
    edition: Edition,
    spd: SpdChoice,
    wiring: Wiring,
    *,
    plan: CircuitPlan,
) -> Mapping[str, HomeSurge]:
    """Return the home as a surge on each line meets it, by the line: of one phase, only L.

    A surge test goes to one line at a time. On it hang the circuits of its own phase and those
    of three phases, whose equipment is studied on the first line. A line without equipment to
    study is left out, unless none has any.
    """
    home = home_surge(job, catalogue, edition, spd, wiring)
    if job.supply.phases == 1:
        return {"L": home}
    made = tuple(_circuits(job, catalogue, edition))
    lines = {
        line: replace(home, circuits=tuple(_on_line(made, line, plan)))
        for line in ("L1", "L2", "L3")
    }
    worth = {line: each for line, each in lines.items() if each.studied}
    return worth or {"L1": lines["L1"]}


def _on_line(
    made: Iterable[tuple[Circuit, SurgeCircuit]], line: str, plan: CircuitPlan
) -> Iterator[SurgeCircuit]:
    for circuit, found in made:
        if circuit.phases > 1:
            yield found if line == "L1" else replace(found, appliance=None)
        elif plan.circuit(circuit.id).phase == line:
            yield found


def _conducted_m(length_m: float | None, assumed_m: float) -> float:
    return assumed_m if length_m is None else max(length_m, SHORTEST_M)


def _as_wired(spd: SpdChoice, wiring: Wiring) -> SpdAsWired | None:
    leads = wiring.spd_leads
    if spd.candidate is None or spd.candidate.device.spd is None or leads is None:
        return None
    return spd_as_wired(
        spd.candidate.device.spd,
        leads_m=(leads.line_m, leads.neutral_m, leads.pe_m),
        csa_mm2=spd.csa_line_mm2,
        backup_fitted=spd.candidate.backup.kind is BackupKind.MCB,
    )


def spd_as_wired(
    data: SpdData, *, leads_m: tuple[float, float, float], csa_mm2: float, backup_fitted: bool
) -> SpdAsWired:
    """Return a device of the catalogue with its leads to line, neutral and earth."""
    gap = data.connection == "CT2"
    line_m, neutral_m, pe_m = leads_m
    return SpdAsWired(
        connection=SpdConnection(data.connection),
        uc_v=data.uc_v,
        # The varistor stands between line and neutral where a gap joins neutral to earth.
        up_v=data.up_ln_v if gap else data.up_v,
        in_8x20_a=data.in_8x20_a,
        lead_l_m=line_m,
        lead_n_m=neutral_m,
        lead_pe_m=pe_m,
        lead_csa_mm2=csa_mm2,
        backup_fitted=backup_fitted,
        points=data.vi_points,
        stated_up_v=data.up_v,
        stated_up_ln_v=data.up_ln_v,
        npe_sparkover_v=data.up_v if gap else None,
        imax_8x20_a=data.imax_8x20_a,
    )


def _circuits(
    job: Job, catalogue: Catalogue, edition: Edition
) -> Iterator[tuple[Circuit, SurgeCircuit]]:
    """Yield one branch for each appliance to be studied, one for each circuit without."""
    twice = {name for name, count in Counter(c.name for c in job.circuits).items() if count > 1}
    for circuit in job.circuits:
        name = f"{circuit.name} ({circuit.id})" if circuit.name in twice else circuit.name
        studied = [appliance for appliance in circuit.appliances if appliance.study]
        for appliance in studied:
            kind = catalogue.appliances[appliance.kind].name
            own = name if len(studied) == 1 else f"{name}, {kind} ({appliance.id})"
            connected = _connected(appliance, catalogue, edition)
            yield circuit, SurgeCircuit(own, _cable_m(circuit, appliance), connected)
        if not studied:
            yield circuit, SurgeCircuit(name, _conducted_m(circuit.cable.length_m, SHORTEST_M))


def _cable_m(circuit: Circuit, appliance: Appliance) -> float:
    return _conducted_m(appliance.position_m, circuit.cable.length_m)


def _connected(appliance: Appliance, catalogue: Catalogue, edition: Edition) -> ConnectedAppliance:
    kind = catalogue.appliances[appliance.kind]
    category = appliance.impulse_category or kind.impulse_category
    return ConnectedAppliance(
        name=kind.name,
        capacitance_f=kind.capacitance_f or 1e-9,
        resistance_ohm=kind.resistance_ohm,
        uw_v=edition.number(f"uw.category_{category.lower()}_v"),
    )
