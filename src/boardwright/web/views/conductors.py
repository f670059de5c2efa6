"""Conductors as rows of the page: the same words as the papers', one row a wire of the drawing."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.design import Variant
from boardwright.documents.words.conductor_words import (
    cut_words,
    end_words,
    function_words,
    in_order_of_work,
    size_words,
    strip_words,
    torque_words,
)
from boardwright.documents.words.figures import NO_BREAK
from boardwright.wiring.results import Conductor, Origin


@dataclass(frozen=True, slots=True)
class Row:
    """One conductor; ``drawn`` is true where it can be picked in the drawing."""

    id: str
    step: str
    begin: str
    end: str
    function: str
    words: str
    size: str
    cut: str
    strip: str
    torque: str
    drawn: bool


@dataclass(frozen=True, slots=True)
class Conductors:
    """The table in order of work: new and flying leads, then the existing cores, folded."""

    new: tuple[Row, ...]
    existing: tuple[Row, ...]
    busbars: tuple[Row, ...]
    leads: str


def conductors(variant: Variant) -> Conductors:
    """Return every conductor of a variant."""
    ordered = in_order_of_work(variant.wiring.conductors)
    of = {origin: tuple(_row(c) for c in ordered if c.origin is origin) for origin in Origin}
    new = tuple(_row(c) for c in ordered if c.origin in (Origin.NEW, Origin.FLYING))
    return Conductors(new, of[Origin.EXISTING], of[Origin.BUSBAR], _leads(variant))


def _row(conductor: Conductor) -> Row:
    return Row(
        id=conductor.id,
        step=str(conductor.step or ""),
        begin=end_words(conductor.begin),
        end=end_words(conductor.end),
        function=conductor.function,
        words=function_words(conductor),
        size=size_words(conductor),
        cut=cut_words(conductor),
        strip=strip_words(conductor),
        torque=torque_words(conductor),
        drawn=conductor.origin in (Origin.NEW, Origin.FLYING),
    )


def _leads(variant: Variant) -> str:
    leads = variant.wiring.spd_leads
    if leads is None:
        return ""
    parts = f"line {leads.line_m:.2f}, neutral {leads.neutral_m:.2f}, earth {leads.pe_m:.2f}"
    assumed = " A length outside the box was assumed." if leads.assumed else ""
    return f"SPD leads in metres: {parts}; together {leads.total_m:.2f}{NO_BREAK}m.{assumed}"
