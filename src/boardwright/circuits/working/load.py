"""The working of a circuit's load, cable and volt drop."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.circuits.allowance import purpose_of
from boardwright.circuits.assess import RING_PATHS, drop_load_a, leg_a
from boardwright.circuits.design_current import known_power_w, usual_row
from boardwright.circuits.origin import submain_drop_v
from boardwright.circuits.results import CircuitResult, Origin
from boardwright.circuits.volt_drop import drop_per_a_m, nominal_v, volt_drop_key
from boardwright.circuits.working import formulas
from boardwright.circuits.working.step import Sheet, Step
from boardwright.core.findings import Rule
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.standards.edition import Edition

_LOAD = Sheet("Load and device")
_CABLE = Sheet("Cable")
_DROP = Sheet("Volt drop")


def load_steps(circuit: Circuit, result: CircuitResult, job: Job, edition: Edition) -> list[Step]:
    """Return how Ib came about, and which device was taken for it."""
    return [*_design_current(circuit, result, job, edition), _rating(circuit, result, edition)]


def _design_current(
    circuit: Circuit, result: CircuitResult, job: Job, edition: Edition
) -> Iterator[Step]:
    load = circuit.load
    if load.ib_a is not None:
        yield _LOAD.given("ib_a", "Design current", load.ib_a, note="as surveyed")
        return
    power_w = known_power_w(circuit)
    if power_w is None:
        wanted = circuit.wanted.in_a
        note = "the load is not known: the device asked for is taken as full"
        usual = f"the load is not known: usual for {usual_row(circuit)}"
        rule = None if wanted else edition.cell_rule("usual", usual_row(circuit), "ib_a")
        yield _LOAD.given(
            "ib_a", "Design current", result.ib_a, rule=rule, note=note if wanted else usual
        )
        return
    values: dict[str, float] = {"power_w": power_w, "u0_v": job.supply.u0_v}
    three = circuit.phases > 1
    if three:
        values["phases"] = circuit.phases
    if purpose_of(circuit) != edition.text("design_current.with_allowance"):
        yield _LOAD.worked(formulas.IB_3 if three else formulas.IB, values)
        return
    connected = _LOAD.worked(formulas.CONNECTED_3 if three else formulas.CONNECTED, values)
    yield connected
    yield _cooker(circuit, connected.value or 0.0, edition)


def _cooker(circuit: Circuit, connected_a: float, edition: Edition) -> Step:
    purpose = purpose_of(circuit)
    row = edition.table("allowance").rows[purpose]
    values = {
        "connected_a": connected_a,
        "full_a": min(row["full_up_to_a"], connected_a),
        "share_factor": row["rank_1"],
        "socket_a": row["socket_a"] if circuit.load.with_socket else 0.0,
    }
    return _LOAD.worked(formulas.COOKER, values, edition.cell_rule("allowance", purpose, "rank_1"))


def _rating(circuit: Circuit, result: CircuitResult, edition: Edition) -> Step:
    note = "as asked for" if circuit.wanted.in_a else "the usual or the next standard rating"
    rule = edition.rule("overload")
    return _LOAD.given("in_a", "Rating of the device", result.in_a, rule=rule, note=note)


def cable_steps(circuit: Circuit, result: CircuitResult, edition: Edition) -> Iterator[Step]:
    """Yield the factors, the capacity that the device asks for, and the capacity that is there."""
    rule = result.capacity_rule or edition.rule("overload")
    assumed = ", the worst plausible: the route was not seen" if result.method_assumed else ""
    method = f"{circuit.cable.line_mm2:g} mm², method {result.method}{assumed}"
    yield _CABLE.given("it_a", "Tabulated capacity", result.it_a, rule=rule, note=method)
    yield from _factors(circuit, result, edition)
    asked = {"in_a": result.in_a, "factor": result.factor}
    note = ""
    if circuit.topology == "ring":
        least_a = edition.number("ring.iz_min_a")
        asked = {"in_a": least_a, "factor": result.factor}
        note = f"a ring on {result.in_a:g} A asks {least_a:g} A of its cable"
    asks = edition.rule("ring.iz_min_a" if circuit.topology == "ring" else "overload")
    yield _CABLE.worked(formulas.IT_ASKED, asked, asks, note)
    factors = {
        "ca_factor": result.ca_factor,
        "cg_factor": result.cg_factor,
        "ci_factor": result.ci_factor,
        "cf_factor": result.cf_factor,
    }
    counted = {name: value for name, value in factors.items() if value != 1}
    none = "" if counted else "no factor applies"
    iz = formulas.with_factors(tuple(counted))
    yield _CABLE.worked(iz, {"it_a": result.it_a, **counted}, rule, none)


def _factors(circuit: Circuit, result: CircuitResult, edition: Edition) -> Iterator[Step]:
    """Yield the factors that are not 1; a 1 is shown in the product and needs no line."""
    cable = circuit.cable
    inside = f"{cable.insulated_mm:g} mm inside insulation" if cable.insulated_mm else ""
    buried = result.method == "D"
    for name, says, value, rule, note in (
        (
            "ca_factor",
            "Factor for the temperature around it",
            result.ca_factor,
            edition.rule("ca_ground" if buried else "ca"),
            f"{cable.ambient_c:g} °C",
        ),
        (
            "cg_factor",
            "Factor for grouping",
            result.cg_factor,
            edition.rule("cg"),
            f"{cable.grouped_with + 1} circuits together",
        ),
        (
            "ci_factor",
            "Factor for thermal insulation",
            result.ci_factor,
            edition.rule("ci"),
            inside,
        ),
        (
            "cf_factor",
            "Factor for a rewirable fuse",
            result.cf_factor,
            edition.rule("factor.bs3036"),
            "",
        ),
    ):
        if value != 1:
            yield _CABLE.given(name, says, value, rule=rule, note=note)


def drop_steps(
    circuit: Circuit, result: CircuitResult, job: Job, origin: Origin, edition: Edition
) -> Iterator[Step]:
    """Yield the volt drop, what is allowed, and the drop at the temperature the load brings."""
    ring = circuit.topology == "ring"
    before_v = submain_drop_v(job, origin, circuit.phases)
    values = {
        "drop_v_per_a_m": drop_per_a_m(edition, circuit.cable.line_mm2, circuit.phases),
        "load_a": drop_load_a(circuit, result.ib_a, edition),
        "length_m": circuit.cable.length_m,
    }
    if ring:
        values["paths"] = RING_PATHS
    if before_v:
        values["before_v"] = before_v
    note = "a ring: a quarter of its length, part of the load spread along it" if ring else ""
    rule = edition.rule(f"volt_drop_mv_per_a_m.{circuit.phases}")
    drop = formulas.along(formulas.DROP, ring=ring, behind=bool(before_v))
    yield _DROP.worked(drop, values, rule, note)
    yield _DROP.worked(formulas.DROP_LIMIT, *_allowed(circuit, job, edition))
    yield from _warm(result, leg_a(circuit, result.ib_a, edition), before_v, edition)


def _warm(
    result: CircuitResult, load_a: float, before_v: float, edition: Edition
) -> Iterator[Step]:
    """Yield Ct, and the drop with it where the cable runs cooler than its limit."""
    values = {
        "ib_a": load_a,
        "it_a": result.it_a,
        "ca_factor": result.ca_factor,
        "cg_factor": result.cg_factor,
        "limit_c": edition.number("temperature.hot_c"),
    }
    rule = edition.rule("temperature.hot_c")
    ct = _DROP.worked(formulas.CT, values, rule, _over_one(values))
    yield ct
    if ct.value is None or ct.value >= 1:
        return
    drop = {"volt_drop_v": result.volt_drop_v, "ct_factor": ct.value}
    if before_v:
        behind = {**drop, "before_v": before_v}
        yield _DROP.worked(formulas.WARM_DROP_BEHIND, behind, rule)
    else:
        yield _DROP.worked(formulas.WARM_DROP, drop, rule)


def _over_one(warm: dict[str, float]) -> str:
    over = formulas.CT.function(**warm) > 1
    return "over 1: the cable runs hotter than its limit, and counts as 1" if over else ""


def _allowed(circuit: Circuit, job: Job, edition: Edition) -> tuple[dict[str, float], Rule]:
    key = volt_drop_key(lighting=circuit.serves == "lighting")
    values = {
        "drop_fraction": edition.number(key),
        "nominal_v": nominal_v(job.supply.u0_v, circuit.phases),
    }
    return values, edition.rule(key)
