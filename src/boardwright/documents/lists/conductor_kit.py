"""The conductor kit: what to cut, what to write on each end, and whether the old cores reach."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.board.results import Role
from boardwright.design import Design, Variant
from boardwright.documents.words.circuit_words import way_of
from boardwright.documents.words.conductor_words import (
    cut_words,
    function_words,
    in_order_of_work,
    strip_words,
)
from boardwright.documents.words.figures import fixed, in_words, number
from boardwright.documents.words.plain import Column, heading, paragraph, table
from boardwright.job.circuit import Circuit
from boardwright.wiring.practice import figure
from boardwright.wiring.results import SECOND_LEG, Conductor, End, Origin

TITLE = "Conductor kit"
FILE = "kit.txt"

_CUTS = (
    Column("Step", figures=True),
    Column("Cut", "mm", figures=True),
    Column("Strip", "mm", widest=9, figures=True),
    Column("Label at this end", widest=30),
    Column("Label at the other end", widest=30),
)

_CORES = (
    Column("Circuit", widest=26),
    Column("Core", widest=10),
    Column("To", widest=14),
    Column("Needed", "mm", figures=True),
    Column("Free", "mm", figures=True),
    Column("So", widest=30),
)

_OUTSIDE = {"meter": "Meter", "met": "MET", "board": "Board"}

_SUBMAIN = "The submain's own cores come with its cable and are not cut here."

_SHORT = {
    Role.MAIN_SWITCH: "MS",
    Role.SPD: "SPD",
    Role.SPD_BACKUP: "SPD back-up",
    Role.INCOMER_RCD: "RCD",
}


@dataclass(frozen=True, slots=True)
class Reel:
    """New conductors of one size and colour, in the order of work."""

    csa_mm2: float
    colour: str
    pieces: tuple[Conductor, ...]

    @property
    def cut_m(self) -> float:
        """All pieces end to end. [m]"""
        return sum(piece.length_mm for piece in self.pieces) / 1000

    @property
    def drawn_m(self) -> float:
        """What to draw from the reel, waste included. [m]"""
        return self.cut_m * figure("cut", "waste_factor")

    @property
    def ferrules(self) -> int:
        """Two a piece."""
        return 2 * len(self.pieces)


def build(design: Design) -> str:
    """Return the kit: reels with their cuts, ferrules, then the cores that are there already."""
    variant = design.chosen
    kit = reels(design)
    parts = [heading(f"{TITLE}: {design.job.title}"), f"{paragraph(_lead(kit))}\n"]
    parts += [_reel(reel, variant) for reel in kit]
    parts.append(_ferrules(kit))
    if design.job.supply.submain:
        parts.append(f"{paragraph(_SUBMAIN)}\n")
    cores = tuple(_cores(design))
    if cores:
        parts.append(
            f"{heading('Cores of the cables: do they reach?')}\n{table(_CORES, cores)}\n"
            + paragraph(
                "Needed is counted from where the cable enters the board to the screw, strip "
                "included. Never strain a short core: give it a nearer way, or extend it with a "
                "joint that its maker allows where it will lie."
            )
            + "\n"
        )
    return "\n".join(parts)


def reels(design: Design) -> tuple[Reel, ...]:
    """Return the new conductors by size and colour, cores of cables left out."""
    grouped: dict[tuple[float, str], list[Conductor]] = {}
    for conductor in in_order_of_work(design.chosen.wiring.conductors):
        if conductor.origin is Origin.NEW and not _of_cable(conductor, design):
            grouped.setdefault((conductor.csa_mm2, conductor.colour), []).append(conductor)
    return tuple(Reel(*key, tuple(pieces)) for key, pieces in sorted(grouped.items()))


def _of_cable(conductor: Conductor, design: Design) -> bool:
    """Tell whether a conductor is a core of a cable: a circuit's, or the submain's."""
    places = ("cable-", "meter.", "met.") if design.job.supply.submain else ("cable-",)
    return conductor.begin.terminal.startswith(places)


def end_label(here: End, there: End, variant: Variant) -> str:
    """Return what to write on one end: where it is joined, then where the other end is."""
    return f"{short(here, variant)} → {short(there, variant)}"


def short(end: End, variant: Variant) -> str:
    """Return an end in the few letters that a sleeve holds: E3, NA2, W4 L-out, MS N-in."""
    place, _, name = end.terminal.rpartition(".")
    for bar in variant.arrangement.enclosure.bars:
        if bar.id == place:
            letters = "E" if bar.conductor == "PE" else "N"
            return f"{letters}{bar.section.removeprefix('rcd-').upper()}{name}"
    for placement in variant.arrangement.placements:
        if placement.item.id == place:
            usual = _SHORT.get(placement.item.role) or f"W{way_of(placement)}"
            return f"{usual} {name}"
    return f"{_OUTSIDE.get(place, place)} {name}" if place != "met" else _OUTSIDE["met"]


def _lead(kit: tuple[Reel, ...]) -> str:
    if not kit:
        return "Nothing is cut for this board."
    pieces = sum(len(reel.pieces) for reel in kit)
    waste = fixed((figure("cut", "waste_factor") - 1) * 100, 0)
    return (
        f"{in_words(pieces, 'piece').capitalize()} from {in_words(len(kit), 'reel')}. Lengths are "
        f"cut lengths: strip and dressing are in them. Metres to draw hold {waste} % of waste. "
        "A figure from the drawing is no figure of the wall: measure before you cut a tail."
    )


def _reel(reel: Reel, variant: Variant) -> str:
    title = (
        f"{number(reel.csa_mm2)} mm², {reel.colour}: {in_words(len(reel.pieces), 'piece')}, "
        f"{fixed(reel.cut_m, 2)} m cut, draw {fixed(reel.drawn_m, 2)} m"
    )
    rows = [
        [
            str(piece.step or ""),
            cut_words(piece),
            strip_words(piece),
            end_label(piece.begin, piece.end, variant),
            end_label(piece.end, piece.begin, variant),
        ]
        for piece in reel.pieces
    ]
    return f"{title}\n\n{table(_CUTS, rows)}"


def _ferrules(kit: tuple[Reel, ...]) -> str:
    counts: Counter[float] = Counter()
    for reel in kit:
        counts[reel.csa_mm2] += reel.ferrules
    if not counts:
        return ""
    said = ", ".join(f"{count} of {number(size)} mm²" for size, count in sorted(counts.items()))
    return (
        f"{heading('Ferrules, two a piece')}\n"
        + paragraph(
            f"{said}. On fine-stranded conductors, and where the terminal's maker asks for them; "
            "a solid or stranded core goes in bare."
        )
        + "\n"
    )


def _cores(design: Design) -> Iterator[list[str]]:
    """Yield each core of a cable with the length it needs and the length it has."""
    variant = design.chosen
    for core in in_order_of_work(variant.wiring.conductors):
        if not core.begin.terminal.startswith("cable-"):
            continue
        circuit, name = _served(core, design)
        reach_mm = circuit.cable.reach_mm if core.origin is Origin.EXISTING else None
        yield [
            name,
            function_words(core),
            short(core.end, variant),
            fixed(core.length_mm, 0),
            "" if reach_mm is None else fixed(reach_mm, 0),
            reaches(core, reach_mm),
        ]


def _served(core: Conductor, design: Design) -> tuple[Circuit, str]:
    """Return the circuit of a core and the name of its cable: a ring has two."""
    place = core.begin.terminal.rpartition(".")[0].removeprefix("cable-")
    ids = {circuit.id: circuit for circuit in design.job.circuits}
    if place in ids:
        return ids[place], ids[place].name
    circuit = ids[place.removesuffix(SECOND_LEG)]
    return circuit, f"{circuit.name}, second"


def reaches(core: Conductor, reach_mm: float | None) -> str:
    """Return whether a core reaches its terminal, in mm; a new cable is told what to leave."""
    if core.origin is Origin.NEW:
        return "new cable: leave at least this"
    if reach_mm is None:
        return "not known: measure it"
    spare_mm = reach_mm - core.length_mm
    if spare_mm < 0:
        return f"{fixed(-spare_mm, 0)} mm short"
    return f"reaches, {fixed(spare_mm, 0)} mm over"
