"""What is found of one circuit's load: overload, route, volt drop, cable against readings."""

from __future__ import annotations

from dataclasses import replace

from boardwright.circuits.conductor import loop_20c_ohm
from boardwright.circuits.origin import submain_drop_v
from boardwright.circuits.results import CircuitResult
from boardwright.circuits.site import Site
from boardwright.circuits.volt_drop import volt_drop_key, warm_drop_v
from boardwright.core.findings import Finding, Rule, Sense
from boardwright.core.point import Point, joined
from boardwright.job.circuit import Circuit

_LOOK = "Follow the cable's route: look in the loft, behind an accessory, at the board's entry."


def overload(circuit: Circuit, result: CircuitResult, site: Site) -> Finding:
    """Hold load, device and cable against one another: Ib ≤ In ≤ Iz (433.1.1)."""
    if result.ib_a > result.in_a:
        rule = _with_capacity(site.edition.rule("overload"), result)
        point = _point("circuit.overload", result, rule, result.ib_a, result.in_a, unit="A")
        return point.failed(
            f"The load draws {result.ib_a:.1f} A, over its device of {result.in_a:g} A.",
            "Fit a larger device on a cable that bears it, or take load off the circuit.",
        )
    return (_ring if circuit.topology == "ring" else _radial)(circuit, result, site)


def _radial(circuit: Circuit, result: CircuitResult, site: Site) -> Finding:
    rule = _with_capacity(site.edition.rule("overload"), result)
    point = _point("circuit.overload", result, rule, result.in_a, result.iz_a, unit="A")
    if result.in_a <= result.iz_a:
        return point.passed(
            f"Ib {result.ib_a:.1f} A, In {result.in_a:g} A, Iz {result.iz_a:.1f} A "
            f"({_how(result)})."
        )
    if result.method_assumed and result.in_a <= result.iz_best_a:
        return point.unknown(_depends(result), _LOOK)
    if circuit.serves in site.edition.text("overload.fixed_loads").split(", "):
        fixed = site.edition.rule("overload.fixed_loads")
        if not result.ib_assumed and result.ib_a <= result.iz_a:
            return replace(point, rule=joined(fixed, rule), value=result.ib_a).advised(
                f"The cable carries the load of {result.ib_a:.1f} A, not the device's "
                f"{result.in_a:g} A; a fixed load of this kind cannot overload it.",
                "Lay a larger cable when the appliance is next renewed; never fit a larger one.",
            )
    return point.failed(
        f"A device of {result.in_a:g} A on a cable that carries {result.iz_a:.1f} A as it lies "
        f"({_how(result)}){_asks(result)}.",
        "Fit a smaller device, lay the cable better, or renew it in a larger size.",
    )


def _ring(circuit: Circuit, result: CircuitResult, site: Site) -> Finding:
    edition = site.edition
    least_a = edition.number("ring.iz_min_a")
    rule = _with_capacity(edition.rule("ring.iz_min_a"), result)
    point = replace(
        _point("circuit.overload", result, rule, result.iz_a, least_a, unit="A"),
        sense=Sense.AT_LEAST,
    )
    most_a, line_mm2 = edition.number("ring.in_max_a"), edition.number("ring.line_min_mm2")
    too_thin = circuit.cable.line_mm2 < line_mm2
    if too_thin or result.in_a > most_a:
        shown = (
            replace(point, value=circuit.cable.line_mm2, limit=line_mm2, unit="mm²")
            if too_thin
            else replace(point, value=result.in_a, limit=most_a, sense=Sense.AT_MOST)
        )
        return shown.failed(
            f"A ring of {circuit.cable.line_mm2:g} mm² on {result.in_a:g} A: the rule for rings "
            f"asks {line_mm2:g} mm² and at most {most_a:g} A.",
            "Split it into radials on devices that their cable bears.",
        )
    if result.iz_a >= least_a:
        return point.passed(
            f"A ring on {result.in_a:g} A: its cable carries {result.iz_a:.1f} A "
            f"(method {result.method}), {least_a:g} A being asked."
        )
    if result.method_assumed and result.iz_best_a >= least_a:
        return point.unknown(_depends(result), _LOOK)
    return point.failed(
        f"The ring's cable carries {result.iz_a:.1f} A as it lies (method {result.method}), "
        f"under the {least_a:g} A that a ring asks.",
        "Split it into radials on smaller devices, or lay the cable out of the insulation.",
    )


def route(circuit: Circuit, result: CircuitResult, site: Site) -> Finding | None:
    """Tell what an installation method that was not seen decides; None where it was seen."""
    if not result.method_assumed:
        return None
    ring = circuit.topology == "ring"
    asked_a = site.edition.number("ring.iz_min_a") if ring else result.in_a
    rule = _with_capacity(site.edition.rule("capacity.unknown_route"), result)
    point = _point("circuit.method", result, rule, asked_a, result.iz_a, unit="A")
    if result.iz_a >= asked_a:
        return point.advised(
            f"The route was not seen; even method {result.method} carries "
            f"{result.iz_a:.1f} A, {asked_a:g} A being asked.",
            "Note the method for the schedule when the route is seen.",
        )
    if result.iz_best_a >= asked_a:
        return point.unknown(_depends(result), _LOOK)
    return point.failed(
        f"Even by method {result.method_best} the cable carries {result.iz_best_a:.1f} A, "
        f"{asked_a:g} A being asked.",
        "Fit a smaller device or renew the cable.",
    )


def volt_drop(circuit: Circuit, result: CircuitResult, site: Site) -> Finding:
    """Hold the drop from the origin to the load against 3 % or 5 % (525.202)."""
    key = volt_drop_key(lighting=circuit.serves == "lighting")
    drop_v, limit_v = result.volt_drop_v, result.volt_drop_limit_v
    point = _point("circuit.volt_drop", result, site.edition.rule(key), drop_v, limit_v, unit="V")
    shown = f"{drop_v:.2f} V at {result.ib_a:.1f} A, {limit_v:.1f} V being allowed"
    before_v = submain_drop_v(site.job, site.origin, circuit.phases)
    warm_v = warm_drop_v(drop_v, result.ct_factor, before_v)
    if drop_v <= limit_v:
        return point.passed(f"{shown}.")
    if warm_v <= limit_v:
        return replace(point, value=warm_v).passed(
            f"{warm_v:.2f} V with the conductor at its true {_at_c(result, site):.0f} °C (Ct "
            f"{result.ct_factor:.3f}), {limit_v:.1f} V being allowed."
        )
    if result.ib_assumed:
        return point.unknown(f"{shown}; the load is not known.", "Find out what it feeds.")
    return point.failed(f"{shown}.", "Lay a larger cable, or shorten the run.")


def _at_c(result: CircuitResult, site: Site) -> float:
    """Return the temperature that Ct stands for: Ct is (230 + t) over (230 + limit). [°C]"""
    return (230 + site.edition.number("temperature.hot_c")) * result.ct_factor - 230


def reading_agrees(circuit: Circuit, result: CircuitResult, site: Site) -> Finding | None:
    """Compare what R1+R2 reads with what length and sizes give; None where they agree."""
    cable, read_ohm = circuit.cable, circuit.readings.r1r2_ohm
    if read_ohm is None or cable.cpc_mm2 == 0:
        return None
    paths = 4 if circuit.topology == "ring" else 1
    due_ohm = loop_20c_ohm(site.edition, cable.line_mm2, cable.cpc_mm2, cable.length_m) / paths
    slack_ohm = max(
        due_ohm * site.edition.number("r1r2.agreement_fraction"),
        site.edition.number("r1r2.agreement_ohm"),
    )
    if abs(read_ohm - due_ohm) <= slack_ohm:
        return None
    rule = site.edition.rule("r1r2.agreement_fraction")
    return _point("circuit.r1r2", result, rule, read_ohm, due_ohm, unit="Ω").advised(
        f"R1+R2 reads {read_ohm:g} Ω where {cable.length_m:g} m of "
        f"{cable.line_mm2:g}/{cable.cpc_mm2:g} mm² give {due_ohm:.2f} Ω; the worse counts.",
        "Null the leads and read again; look at the length, the sizes, the joints.",
    )


def pair(circuit: Circuit, result: CircuitResult, site: Site) -> Finding | None:
    """Doubt a flat cable whose protective conductor is larger than its line: none is made so."""
    cable = circuit.cable
    if cable.type != "flat twin and earth" or cable.cpc_mm2 <= cable.line_mm2:
        return None
    rule = site.edition.rule("flat_cpc_mm2")
    point = _point("circuit.pair", result, rule, cable.cpc_mm2, cable.line_mm2, unit="mm²")
    return point.advised(
        f"A protective conductor of {cable.cpc_mm2:g} mm² beside a line of {cable.line_mm2:g} mm²: "
        "no flat cable is made so.",
        "Read both sizes off the conductors again; a separate conductor is noted as such.",
    )


def _how(result: CircuitResult) -> str:
    """Return method and, where one counts, the factors by their symbols."""
    named = (
        ("Ca", result.ca_factor),
        ("Cg", result.cg_factor),
        ("Ci", result.ci_factor),
        ("Cf", result.cf_factor),
    )
    factors = "".join(f" × {symbol} {factor:g}" for symbol, factor in named if factor != 1)
    lies = f"method {result.method}"
    return f"{lies}: It {result.it_a:g} A{factors}" if factors else lies


def _asks(result: CircuitResult) -> str:
    return f"; It of {result.it_needed_a:.1f} A is asked" if result.factor != 1 else ""


def _depends(result: CircuitResult) -> str:
    return (
        f"It depends on the cable's method: by method {result.method_best} it carries "
        f"{result.iz_best_a:.1f} A, by method {result.method} only {result.iz_a:.1f} A; the "
        f"device is {result.in_a:g} A."
    )


def _with_capacity(rule: Rule, result: CircuitResult) -> Rule:
    """Cite the table that the cable's capacity was taken from beside the rule."""
    return rule if result.capacity_rule is None else joined(rule, result.capacity_rule)


def _point(
    check_id: str,
    result: CircuitResult,
    rule: Rule,
    value: float | None,
    limit: float | None,
    *,
    unit: str,
) -> Point:
    return Point(check_id, result.name, result.id, rule, value, limit, unit)
