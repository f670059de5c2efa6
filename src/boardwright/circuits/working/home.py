"""The working of what all circuits share: demand, the loop and the fault currents at the board."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from boardwright.circuits.allowance import allowed_a, counts_by_device, purpose_of
from boardwright.circuits.conductor import hot_factor
from boardwright.circuits.design_current import design_current
from boardwright.circuits.fuses import without_fuse
from boardwright.circuits.origin import (
    Length,
    declared_ze_ohm,
    fault_ways,
    one_way_ohm,
    to_board,
)
from boardwright.circuits.phases import PHASES
from boardwright.circuits.results import CircuitPlan, DemandLine
from boardwright.circuits.working import formulas
from boardwright.circuits.working.step import Formula, Sheet, Step
from boardwright.circuits.working.submain import submain_steps
from boardwright.core.findings import Rule
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.standards.edition import Edition

_DEMAND = Sheet("Maximum demand")
_BOARD = Sheet("Supply at the board")


def demand_working(plan: CircuitPlan, job: Job, edition: Edition) -> tuple[Step, ...]:
    """Return each line of the demand, worked from the load of each of its circuits."""
    steps = [_line(line, plan, job, edition) for line in plan.demand.lines]
    if len(plan.demand.per_phase_a) == len(PHASES):
        lines_a = {f"{name.lower()}_a": plan.demand.per_phase_a[name] for name in PHASES}
        note = "by the allowances of each line, at unity power factor"
        steps.append(_DEMAND.worked(formulas.NEUTRAL, lines_a, edition.rule("unbalance"), note))
    says = "Maximum demand, the fullest phase" if job.supply.phases > 1 else "Maximum demand"
    logged = f"logged on site: {job.demand_logged_source}" if plan.demand.logged else "all lines"
    rule = None if plan.demand.logged else plan.demand.rule
    total = _DEMAND.given("demand_a", says, plan.demand.total_a, rule=rule, note=logged)
    return (*steps, total)


def _line(line: DemandLine, plan: CircuitPlan, job: Job, edition: Edition) -> Step:
    says = f"{line.phase} {line.purpose}".strip()
    members = [job.circuit(circuit_id) for circuit_id in line.circuit_ids]
    purpose = purpose_of(members[0])
    if purpose != line.purpose:
        return _DEMAND.given("demand_a", says, line.demand_a, note=line.allowance)
    loads_a = sorted((_load_a(c, plan, job, edition) for c in members), reverse=True)
    sockets = sum(circuit.load.with_socket for circuit in members)
    formula, values = _allowance(edition, purpose, loads_a, sockets=sockets, says=says)
    rule = edition.cell_rule("allowance", purpose, "rank_1")
    return _DEMAND.worked(formula, values, rule, line.allowance)


def _load_a(circuit: Circuit, plan: CircuitPlan, job: Job, edition: Edition) -> float:
    if counts_by_device(edition, purpose_of(circuit)):
        return plan.circuit(circuit.id).in_a
    protected = without_fuse(circuit, job, edition)
    return design_current(protected, job.supply.u0_v, edition).connected_a


def _allowance(
    edition: Edition, purpose: str, loads_a: Sequence[float], *, sockets: int, says: str
) -> tuple[Formula, Mapping[str, float]]:
    """Return the sum of one purpose: written out for its loads, worked by the rule itself."""
    row = edition.table("allowance").rows[purpose]
    shares = (row["rank_1"], row["rank_2"], row["rest"])
    values: dict[str, float] = {}
    terms = []
    for n, load_a in enumerate(loads_a, start=1):
        values[f"load_{n}_a"] = load_a
        share, full_a = shares[min(n - 1, 2)], min(load_a, row["full_up_to_a"])
        if share == 1 or full_a == load_a:
            terms.append(f"{{load_{n}_a}}")
            continue
        values[f"share_{n}_factor"] = share
        if full_a:
            values["full_a"] = full_a
            terms.append(f"{{full_a}} + {{share_{n}_factor}} · ({{load_{n}_a}} − {{full_a}})")
        else:
            terms.append(f"{{share_{n}_factor}} · {{load_{n}_a}}")
    if sockets and row["socket_a"]:
        values |= {"sockets": sockets, "socket_a": row["socket_a"]}
        terms.append("{sockets} · {socket_a}")

    def by_the_rule(**found: float) -> float:
        given_a = [a for name, a in found.items() if name.startswith("load_")]
        return allowed_a(edition, purpose, given_a, sockets=int(found.get("sockets", 0)))

    return Formula("demand_a", says, " + ".join(terms), by_the_rule), values


def board_working(plan: CircuitPlan, job: Job, edition: Edition) -> tuple[Step, ...]:
    """Return the loop and the fault currents at the board, from the readings at the origin."""
    return (*_board(plan, job, edition), *submain_steps(plan, job, edition))


def _board(plan: CircuitPlan, job: Job, edition: Edition) -> Iterator[Step]:
    supply, origin = job.supply, plan.origin
    ze_ohm = supply.ze_ohm if supply.ze_ohm is not None else declared_ze_ohm(job, edition)
    note = "as read"
    if supply.ze_ohm is None:
        declared = "the electrode and the declared source" if supply.system == "TT" else "declared"
        note = "not read" if ze_ohm is None else f"not read: {declared}, the largest"
    yield _BOARD.given("ze_ohm", "Loop outside the home", ze_ohm, note=note)
    loops = list(to_board(job, edition))
    rule = edition.rule("resistance_ohm_per_km")
    if loops:
        yield _added(loops, rule)
    if ze_ohm is not None:
        values = {
            "before_ohm": ze_ohm,
            "cold_ohm": sum(part.r20_ohm for part in loops),
            "hot_factor": hot_factor(edition),
        }
        zdb = _BOARD.worked(formulas.ZDB, values, edition.rule("temperature.coefficient_per_k"))
        yield zdb
        yield _BOARD.worked(
            formulas.FAULT_BOARD_LEAST, {"u0_v": supply.u0_v, "zs_ohm": zdb.value or 0.0}
        )
    if origin.ipf_origin_a is not None:
        note = "as read" if origin.ipf_origin_a == supply.ipf_a else "between lines: twice U0 / Ze"
        says = "Highest fault current at the origin"
        yield _BOARD.given("ipf_a", says, origin.ipf_origin_a, note=note)
        values = {
            "u0_v": supply.u0_v,
            "ipf_a": origin.ipf_origin_a,
            "ways": fault_ways(job),
            "one_way_ohm": one_way_ohm(job, edition),
        }
        yield _BOARD.worked(formulas.FAULT_BOARD, values, rule)


def _added(loops: Sequence[Length], rule: Rule) -> Step:
    """Return the sum of the conductors ahead of the board."""
    values = {f"part_{n}_ohm": part.r20_ohm for n, part in enumerate(loops, start=1)}
    note = "; ".join(
        f"R{n} {part.name}, {part.csa_mm2:g} mm² over {part.length_m:g} m"
        for n, part in enumerate(loops, start=1)
    )
    written = " + ".join(f"{{{name}}}" for name in values)

    def together(**found: float) -> float:
        return sum(found.values())

    says = "Conductors to the board, out and back at 20 °C"
    return _BOARD.worked(Formula("added_ohm", says, written, together), values, rule, note)
