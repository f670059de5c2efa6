"""What fills the places in the text of the steps."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from boardwright.board.results import Scheme
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.wiring.layout import Layout
from boardwright.wiring.practice import load
from boardwright.wiring.results import Conductor, Origin

_FUNCTIONS = {"L": "line", "N": "neutral"}


def words(layout: Layout, job: Job, conductors: Sequence[Conductor]) -> dict[str, str]:
    """Return the words that hold for the whole job."""
    pairs = proof_pairs(job.supply.phases)
    spare = layout.arrangement.spare_modules
    sources = ", ".join(circuit.name for circuit in job.circuits if circuit.source)
    return {
        "proof_tests": str(len(pairs)),
        "proof_pairs": "; ".join(f"{a} to {b}" for a, b in pairs),
        "live_pairs": "; ".join(f"{a} to {b}" for a, b in pairs),
        "stays_live": _stays_live(layout, job),
        "sources": sources,
        "dual_supply": " Dual-supply notices at cut-out, meter, board and inverter."
        if sources
        else "",
        "sets": "; ".join(_set_of(job.circuit(i.circuit_id)) for i in layout.items if i.circuit_id),
        "enclosure": layout.arrangement.enclosure.name,
        "rail": ", ".join(item.label for item in layout.items if layout.is_new(item)),
        "terminals": str(_terminals(conductors)),
        "blanks": f"{spare} blanks in. " if spare else "",
    }


def proof_pairs(phases: int) -> list[tuple[str, str]]:
    """Return the pairs to test for dead: 3 on one phase, 10 on three (every two of five)."""
    live = ["line"] if phases == 1 else ["L1", "L2", "L3"]
    return list(combinations([*live, "neutral", "earth"], 2))


def _stays_live(layout: Layout, job: Job) -> str:
    """Return in a sentence what stays live behind the point of isolation."""
    point = {
        "isolator": "the tails from meter to isolator, and the isolator's supply side",
        "supplier": "the cut-out, and the tails up to the isolator if one was fitted",
        "network operator": "the supply side of the cut-out",
        "landlord": "the supply side of the switch-fuse at the intake",
    }.get(job.supply.isolation or "", "the tails up to the supply side of the main switch")
    extra = " PV modules make DC by day." if any(c.serves == "PV" for c in job.circuits) else ""
    main = (
        ""
        if layout.arrangement.scheme is Scheme.NEW_BOARD
        else " The main switch alone leaves its supply side live."
    )
    return f"Live still: {point}.{main}{extra}"


def _terminals(conductors: Sequence[Conductor]) -> int:
    """Return how many terminals of the board are made."""
    made = {name for c in conductors for name in c.terminals}
    outside = ("meter.", "met.", "board.", "cable-")
    return sum(not name.startswith(outside) for name in made)


def circuit_words(circuit: Circuit, features: frozenset[str]) -> dict[str, str]:
    """Return the words of one circuit; a test that it does not ask for is left out."""
    tests = load("order.toml")["circuit_tests"]
    filled = {f"{name}_test": text if name in features else "" for name, text in tests.items()}
    return filled | {"name": circuit.name}


def _set_of(circuit: Circuit) -> str:
    """Return a circuit's set of cores in words."""
    cables = "two cables, " if circuit.topology == "ring" else ""
    colours = f", {circuit.cable.colours}" if circuit.cable.colours else ""
    size = f"{circuit.cable.line_mm2:g}/{circuit.cable.cpc_mm2:g} mm²"
    return f"{circuit.name} ({cables}{size}{colours})"


def conductor_words(name: str, members: Sequence[Conductor]) -> dict[str, str]:
    """Return title and text of the step that joins a conductor or a group."""
    texts = load("order.toml")["wire_text"]
    titles = load("order.toml")["stage_titles"]
    first = members[0]
    if len(members) > 1 or name in titles:
        kind = "comb" if first.origin is Origin.BUSBAR else "group"
        names = "; ".join(dict.fromkeys(_short(member) for member in members))
        text = texts[kind].format(count=len(members), names=names)
        return {"title": titles.get(name, name), "text": text}
    kind = "existing" if first.origin is Origin.EXISTING else "single"
    text = texts[kind].format(
        begin=first.begin.label,
        end=first.end.label,
        csa=f"{first.csa_mm2:g}",
        colour=first.colour,
        length=f"{first.length_mm:.0f}",
    )
    return {"title": _title(first), "text": text}


def _title(conductor: Conductor) -> str:
    """Return what a conductor joins, and as which line where there may be several."""
    begin, end = _part(conductor.begin.label), _part(conductor.end.label)
    # An abbreviation keeps its capitals inside the sentence.
    end = end if end[1:2].isupper() else end[0].lower() + end[1:]
    line = (
        ""
        if conductor.function == "PE"
        else f", {_FUNCTIONS.get(conductor.function, conductor.function)}"
    )
    return f"{begin} to {end}{line}"


def _short(conductor: Conductor) -> str:
    if conductor.origin is Origin.BUSBAR:
        return f"{conductor.function}, {len(conductor.teeth)} teeth"
    return _part(conductor.begin.label).removesuffix(" cable")


def _part(label: str) -> str:
    """Return the part of a label that names the thing, without its terminal."""
    return label.partition(",")[0]
