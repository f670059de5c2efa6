"""The left of the single-line diagram: from the street to the tails, and the earthing below."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.design import Design, Variant
from boardwright.documents.drawing.diagram import (
    HALF_MM,
    LineMark,
    Mark,
    StrokesMark,
    SymbolMark,
    fitted,
    in_lines,
    stacked,
)
from boardwright.documents.words.figures import NO_BREAK, number, quantity
from boardwright.job.supply import Bond, Earthing, Supply

TRUNK_MM = 12.0
WORDS_MM = 20.0
ROOM_MM = 40.0
"""Where the trunk stands, where words beside it begin, and how far they may run. [mm]"""

_STEP_MM = 17.0
_BRANCH_MM = 9.5
_ASIDE_MM = 4.0
_SYMBOL_MM = 20.0

_Element = tuple[str, tuple[str, ...]]

_NOT_BONDED = "not bonded"

_FROM = {
    "TN-C-S": "earth from the service neutral",
    "TN-S": "earth from the service sheath",
    "TT": "earth from an electrode",
}


def supply_marks(design: Design, top_mm: float, board_mm: float) -> Iterator[Mark]:
    """Yield the trunk from the street up to the tails, which enter the board at ``top_mm``."""
    supply = design.job.supply
    elements = _elements(supply)
    end = street_mm(design, top_mm)
    yield LineMark(((board_mm, top_mm), (TRUNK_MM, top_mm), (TRUNK_MM, top_mm + 4.0)))
    yield from stacked(WORDS_MM, top_mm - 3.2, (_feeder(supply, ROOM_MM),))
    if supply.phases > 1:
        yield StrokesMark(WORDS_MM - 4.5, top_mm, supply.phases)
    above = top_mm + 4.0
    for number_, (symbol, words) in enumerate(elements):
        y = top_mm + _STEP_MM * (number_ + 0.9)
        yield LineMark(((TRUNK_MM, above), (TRUNK_MM, y - HALF_MM)))
        yield SymbolMark(symbol, TRUNK_MM, y, turned=True)
        yield from _words(WORDS_MM, y, words, board_mm)
        above = y + HALF_MM
    yield LineMark(((TRUNK_MM, above), (TRUNK_MM, end)))
    yield LineMark(((TRUNK_MM - 1.6, end - 2.0), (TRUNK_MM, end), (TRUNK_MM + 1.6, end - 2.0)))
    yield from _words(WORDS_MM, end, _street(supply), board_mm)


def _words(x: float, y: float, said: tuple[str, ...], board_mm: float) -> Iterator[Mark]:
    """Yield lines that end before the board, whatever a survey wrote."""
    room = board_mm - x - 1.0
    lines = [
        line
        for number_, words in enumerate(said)
        for line in in_lines(words, room, 1, strong=number_ == 0)
    ]
    return stacked(x, y, lines, first_strong=True)


def street_mm(design: Design, top_mm: float) -> float:
    """Return where the trunk ends at the street. [mm]"""
    return top_mm + _STEP_MM * (len(_elements(design.job.supply)) + 0.75)


def earth_marks(design: Design, variant: Variant, top_mm: float, board_mm: float) -> Iterator[Mark]:
    """Yield the main earthing terminal and its branches, below the trunk."""
    earthing, supply = design.job.earthing, design.job.supply
    met = met_mm(design, top_mm)
    yield from _means(supply, street_mm(design, top_mm), met)
    yield SymbolMark("met", TRUNK_MM, met)
    yield from _words(WORDS_MM, met, ("Main earthing terminal", _conductor(earthing)), board_mm)
    branches = _branches(design)
    last = met + _BRANCH_MM * (1 + len(branches))
    yield LineMark(((TRUNK_MM, met + 1.7), (TRUNK_MM, last)), earth=True)
    board = met + _BRANCH_MM
    yield LineMark(((TRUNK_MM, board), (board_mm + 4.0, board)), earth=True)
    yield from stacked(WORDS_MM, board - 2.4, (_to_board(design, variant),))
    for number_, (symbol, words) in enumerate(branches):
        y = board + _BRANCH_MM * (number_ + 1)
        # What is not bonded is drawn, and left unjoined.
        if _NOT_BONDED not in words:
            yield LineMark(((TRUNK_MM, y), (_SYMBOL_MM - HALF_MM, y)), earth=True)
        yield SymbolMark(symbol, _SYMBOL_MM, y)
        yield from _words(_SYMBOL_MM + 7.0, y, words, board_mm)


def met_mm(design: Design, top_mm: float) -> float:
    """Return where the main earthing terminal stands. [mm]"""
    return street_mm(design, top_mm) + 19.0


def earth_end_mm(design: Design, top_mm: float) -> float:
    """Return how far down the earthing reaches. [mm]"""
    return met_mm(design, top_mm) + _BRANCH_MM * (1 + len(_branches(design))) + HALF_MM


def earth_bar_mm(design: Design, top_mm: float) -> float:
    """Return where the protective conductor enters the board. [mm]"""
    return met_mm(design, top_mm) + _BRANCH_MM


def _elements(supply: Supply) -> tuple[_Element, ...]:
    """Return what stands between tails and street, from the board outward."""
    elements: list[_Element] = []
    if supply.submain:
        fuse = quantity(supply.submain.fuse_a, "A")
        elements.append(("switch-fuse", (f"Switch-fuse {fuse}", supply.submain.fuse_standard)))
    if supply.isolation == "isolator":
        elements.append(("isolator", ("Isolator",)))
    elements.append(("meter", ("Meter", _tails(supply) if supply.submain else "")))
    rated = quantity(supply.cutout_fuse_a, "A") if supply.cutout_fuse_a else "rating not known"
    standard = supply.cutout_fuse_standard
    elements.append(("cut-out", (f"Cut-out {rated}", "" if standard == "unknown" else standard)))
    return tuple((symbol, tuple(filter(None, words))) for symbol, words in elements)


def _tails(supply: Supply) -> str:
    tails = supply.tails
    size = f"{number(tails.csa_mm2)} mm²" if tails.csa_mm2 else "size not known"
    length = f"{number(tails.length_m)}{NO_BREAK}m" if tails.length_m else ""
    return fitted((f"Tails {size}", length), ROOM_MM)


def _feeder(supply: Supply, room_mm: float) -> str:
    submain = supply.submain
    if submain is None:
        return _tails(supply)
    size = f"Submain {number(submain.line_mm2)}/{number(submain.cpc_mm2)} mm²"
    return fitted((size, f"{number(submain.length_m)}{NO_BREAK}m"), room_mm)


def _street(supply: Supply) -> tuple[str, ...]:
    phases = "three-phase" if supply.phases > 1 else "single-phase"
    ze = quantity(supply.ze_ohm, "ohm") if supply.ze_ohm is not None else "not known"
    ipf = quantity(supply.ipf_a, "A") if supply.ipf_a is not None else "not known"
    return (
        f"{supply.system}, {number(supply.u0_v)}{NO_BREAK}V to earth",
        f"{phases}, {supply.service or 'service not seen'}",
        f"Ze {ze}, Ipf {ipf}",
        _FROM[supply.system],
    )


def _means(supply: Supply, street: float, met: float) -> Iterator[Mark]:
    """Yield the protective conductor from the service, which a TT supply has not."""
    if supply.system != "TT":
        yield LineMark(
            (
                (TRUNK_MM, street - 6.0),
                (_ASIDE_MM, street - 6.0),
                (_ASIDE_MM, met),
                (TRUNK_MM - HALF_MM, met),
            ),
            earth=True,
        )


def _conductor(earthing: Earthing) -> str:
    size = f"{number(earthing.conductor_mm2)} mm²" if earthing.conductor_mm2 else "not known"
    length = (
        f"{number(earthing.conductor_length_m)}{NO_BREAK}m" if earthing.conductor_length_m else ""
    )
    return fitted((f"earthed by {size}", length), ROOM_MM)


def _to_board(design: Design, variant: Variant) -> str:
    sizes = [
        conductor.csa_mm2
        for conductor in variant.wiring.conductors
        if "met.PE" in (conductor.begin.terminal, conductor.end.terminal)
    ]
    if sizes:
        return f"to the board {number(sizes[0])} mm²"
    submain = design.job.supply.submain
    return f"cpc of the submain {number(submain.cpc_mm2)} mm²" if submain else "to the board"


def _branches(design: Design) -> tuple[_Element, ...]:
    earthing = design.job.earthing
    found = [("bond", _bond(bond)) for bond in earthing.bonds if bond.metallic != "no"]
    if design.job.supply.system == "TT":
        ra = earthing.electrode_ohm
        said = f"RA {quantity(ra, 'ohm')}" if ra is not None else "RA not measured"
        found.append(("electrode", ("Electrode", said)))
    return tuple(found)


def _bond(bond: Bond) -> tuple[str, str]:
    service = f"{bond.service[0].upper()}{bond.service[1:]}"
    if bond.present == "no":
        return service, _NOT_BONDED
    size = f"{number(bond.csa_mm2)} mm²" if bond.csa_mm2 else "size not known"
    state = {"yes": "measured", "no": "not good"}.get(bond.verified or "", "not measured")
    return service, f"{size}, {state if bond.present else 'not seen'}"
