"""Maximum demand after the household allowances, line by line and phase by phase."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from boardwright.circuits.allowance import allowed_a, counts_by_device, in_words, purpose_of
from boardwright.circuits.phases import PHASES
from boardwright.circuits.results import Demand, DemandLine
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.standards.edition import Edition


@dataclass(frozen=True, slots=True)
class Share:
    """What one circuit brings to the demand; ``phase`` is empty where it takes all there are."""

    circuit: Circuit
    connected_a: float
    in_a: float
    phase: str = ""


def demand(job: Job, shares: Sequence[Share], edition: Edition) -> Demand:
    """Return the home's maximum demand; a logged one, with its source, replaces the estimate."""
    phases = PHASES if job.supply.phases == len(PHASES) else ("",)
    lines = tuple(line for phase in phases for line in _lines(edition, shares, phase))
    per_phase = {
        phase or PHASES[0]: sum(line.demand_a for line in lines if line.phase == phase)
        for phase in phases
    }
    logged_a = job.demand_logged_a
    return Demand(
        total_a=max(per_phase.values()) if logged_a is None else logged_a,
        per_phase_a=per_phase,
        lines=lines,
        logged=logged_a is not None,
        rule=edition.rule("allowance"),
    )


def _lines(edition: Edition, shares: Iterable[Share], phase: str) -> Iterable[DemandLine]:
    here = [share for share in shares if share.phase in {"", phase}]
    for purpose, group in _by_purpose(here).items():
        curtailed = [s for s in group if s.circuit.load.load_control == "yes"]
        counted = [s for s in group if s not in curtailed]
        if counted:
            yield _line(edition, purpose, counted, phase)
        if curtailed:
            yield _curtailed_line(edition, purpose, curtailed, phase)


def _by_purpose(shares: Iterable[Share]) -> Mapping[str, list[Share]]:
    groups: dict[str, list[Share]] = {}
    for share in shares:
        purpose = purpose_of(share.circuit)
        if purpose:
            groups.setdefault(purpose, []).append(share)
    return groups


def _line(edition: Edition, purpose: str, group: list[Share], phase: str) -> DemandLine:
    loads_a = [s.in_a if counts_by_device(edition, purpose) else s.connected_a for s in group]
    sockets = sum(s.circuit.load.with_socket for s in group)
    return DemandLine(
        purpose=purpose,
        circuit_ids=tuple(s.circuit.id for s in group),
        connected_a=sum(loads_a),
        demand_a=allowed_a(edition, purpose, loads_a, sockets=sockets),
        allowance=in_words(edition, purpose),
        phase=phase,
    )


def _curtailed_line(edition: Edition, purpose: str, group: list[Share], phase: str) -> DemandLine:
    return DemandLine(
        purpose=f"{purpose}, under load control",
        circuit_ids=tuple(s.circuit.id for s in group),
        connected_a=sum(s.connected_a for s in group),
        demand_a=0.0,
        allowance=edition.text("load_control.ev"),
        phase=phase,
    )
