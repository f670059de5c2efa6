"""The order of work: a partial order of steps, numbered always in the same way."""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from graphlib import TopologicalSorter
from typing import Any

from boardwright.board.results import Item, Role, Scheme
from boardwright.catalogue.devices import Kind
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.wiring.layout import Layout
from boardwright.wiring.netlist import brought_ends
from boardwright.wiring.practice import load
from boardwright.wiring.results import Conductor, Origin, Phase, Step
from boardwright.wiring.words import circuit_words, conductor_words, words

STAGES = ("comb", "earth", "neutral", "line", "spd", "tail")

EARTH_STEPS = ("wire-earth-earthing", "earth-seen")
"""Nothing may be energised before these, where the job has them."""


@dataclass(frozen=True, slots=True)
class Work:
    """What the order of work is made from."""

    layout: Layout
    job: Job
    conductors: tuple[Conductor, ...]


def order(layout: Layout, job: Job, conductors: tuple[Conductor, ...]) -> tuple[Step, ...]:
    """Return the steps of the day, each after all that it needs."""
    work = Work(layout, job, conductors)
    held = tags(work)
    templates = [t for t in load("order.toml")["step"] if held.issuperset(t.get("when", []))]
    steps = [step for template in templates for step in _steps(template, work)]
    return _numbered(_linked(steps))


def may_energise(done: set[str], steps: Sequence[Step]) -> tuple[bool, str]:
    """Tell whether the supply may be restored with these steps done, and if not, why.

    Energising is blocked while the earthing conductor is disconnected, whatever else is done.
    """
    by_id = {step.id: step for step in steps}
    for name in EARTH_STEPS:
        if name in by_id and name not in done:
            return False, "The earthing conductor is not connected: nothing may be energised."
    needed = _before("energise-incomer", by_id)
    waiting = sorted((by_id[name] for name in needed - done), key=lambda step: step.number)
    if waiting:
        first = waiting[0]
        return False, f"{len(waiting)} steps are open; the first is {first.number}, {first.title}."
    return True, "All that must come before is done."


def _before(name: str, by_id: Mapping[str, Step]) -> set[str]:
    """Return the ids of all steps that a step needs, directly or not."""
    found: set[str] = set()
    waiting = list(by_id[name].needs)
    while waiting:
        need = waiting.pop()
        if need not in found:
            found.add(need)
            waiting += by_id[need].needs
    return found


def tags(work: Work) -> frozenset[str]:
    """Return the words that decide which steps a job has."""
    job, scheme = work.job, work.layout.arrangement.scheme
    isolation = job.supply.isolation if job.supply.isolation not in (None, "none") else "unsettled"
    held = {
        f"isolation {isolation}",
        f"country {job.premises.country}",
        "three-phase" if job.supply.phases == 3 else "one-phase",  # noqa: PLR2004 - three phases
        job.supply.system,
    }
    held |= {
        Scheme.NEW_BOARD: {"board", "enclosure"},
        Scheme.SPARE_WAYS: {"spare", "as found"},
        Scheme.SEPARATE_BOX: {"box", "as found", "enclosure"},
    }[scheme]
    if work.layout.of_role(Role.SPD):
        held.add("spd")
    if any(circuit.source for circuit in job.circuits):
        held.add("source")
    return frozenset(held)


def _steps(template: Mapping[str, Any], work: Work) -> Iterator[Step]:
    """Yield the steps of one template: one, or one for each circuit or conductor group."""
    each = template.get("each", "")
    if each == "circuit":
        yield from _circuit_steps(template, work)
    elif each in STAGES:
        yield from _wire_steps(template, work, each)
    else:
        yield _step(template, template["id"], words(work.layout, work.job, work.conductors))


def _circuit_steps(template: Mapping[str, Any], work: Work) -> Iterator[Step]:
    for item in work.layout.items:
        if item.circuit_id and work.layout.is_new(item):
            circuit = work.job.circuit(item.circuit_id)
            filled = circuit_words(circuit, _features(circuit, item, work))
            step = _step(template, f"{template['id']}-{circuit.id}", filled)
            yield replace(step, circuit_id=circuit.id)


def _features(circuit: Circuit, item: Item, work: Work) -> frozenset[str]:
    """Return what a circuit has that asks for a test of its own."""
    feeder = work.layout.feeder(item)
    found: set[str] = {circuit.topology}
    if item.device.idn_a or (feeder and feeder.device.idn_a):
        found.add("rcd")
    if item.device.kind is Kind.AFDD:
        found.add("afdd")
    return frozenset(found)


def _wire_steps(template: Mapping[str, Any], work: Work, stage: str) -> Iterator[Step]:
    groups: dict[str, list[Conductor]] = {}
    for conductor in work.conductors:
        if stage_of(conductor) == stage and not _left_alone(conductor, work):
            groups.setdefault(conductor.group or conductor.id, []).append(conductor)
    for name, members in groups.items():
        filled = {**template, **conductor_words(name, members)}
        step = _step(filled, f"{template['id']}-{name}", {})
        tool, torque, check = by_hand(members)
        ids = tuple(member.id for member in members)
        yield replace(step, conductors=ids, tool=tool, torque=torque, check=check)


def by_hand(members: Sequence[Conductor]) -> tuple[str, str, str]:
    """Return tool, torque and check of the terminals that a step makes."""
    words = load("order.toml")["by_hand"]
    kind = "comb" if members[0].origin is Origin.BUSBAR else "wire"
    names: dict[float, list[str]] = {}
    for end in (end for member in members for end in (member.begin, member.end)):
        if end.torque_nm is not None and end.label not in names.setdefault(end.torque_nm, []):
            names[end.torque_nm].append(end.label)
    torque = "; ".join(
        f"{torque_nm:.1f} N·m: {', '.join(labels)}" for torque_nm, labels in sorted(names.items())
    )
    return words[f"{kind}_tool"], torque, words[f"{kind}_check"]


def _left_alone(conductor: Conductor, work: Work) -> bool:
    """Tell whether a conductor of a board as found stays as it is: it meets nothing new."""
    if work.layout.arrangement.scheme is not Scheme.SPARE_WAYS:
        return False
    brought = brought_ends(work.layout)
    return not any(name.rpartition(".")[0] in brought for name in conductor.terminals)


def stage_of(conductor: Conductor) -> str:
    """Return the stage of the wiring in which a conductor is joined."""
    if conductor.origin is Origin.BUSBAR:
        return "comb"
    if conductor.id.startswith("tail-"):
        return "tail"
    if conductor.function == "PE":
        return "earth"
    if conductor.function == "N":
        return "neutral"
    return "spd" if conductor.id.startswith("spd-") else "line"


def _step(template: Mapping[str, Any], step_id: str, filled: Mapping[str, str]) -> Step:
    cautions = load("order.toml")["cautions"]
    own = step_id.removeprefix(f"{template['id']}-")
    return Step(
        id=step_id,
        number=0,
        phase=Phase[template["phase"]],
        title=template["title"].format_map(filled) if filled else template["title"],
        text=template["text"].format_map(filled) if filled else template["text"],
        needs=tuple(need.format_map({"circuit": own}) for need in template.get("needs", [])),
        caution=cautions.get(template.get("caution", ""), ""),
        live=template.get("live", False),
    )


def _linked(steps: Sequence[Step]) -> list[Step]:
    """Return the steps with each need an id that is there; a pattern becomes all it meets."""
    ids = [step.id for step in steps]
    return [
        replace(
            step,
            needs=tuple(
                name
                for name in ids
                if name != step.id and any(_meets(name, need) for need in step.needs)
            ),
        )
        for step in steps
    ]


def _meets(name: str, need: str) -> bool:
    return name.startswith(need[:-1]) if need.endswith("*") else name == need


def _numbered(steps: Sequence[Step]) -> tuple[Step, ...]:
    """Return the steps in an order that keeps every need; among the free, the first written."""
    place = {step.id: k for k, step in enumerate(steps)}
    sorter = TopologicalSorter({step.id: step.needs for step in steps})
    sorter.prepare()
    ready: list[int] = []
    done: list[Step] = []
    while sorter.is_active():
        for name in sorter.get_ready():
            heapq.heappush(ready, place[name])
        step = steps[heapq.heappop(ready)]
        done.append(replace(step, number=len(done) + 1))
        sorter.done(step.id)
    return tuple(done)
