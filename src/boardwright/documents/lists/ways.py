"""The order of the ways: what stands where, what each wish weighed, what the answer paid for it."""

from __future__ import annotations

from boardwright.board.results import Arrangement, Placement, Preference
from boardwright.design import Design
from boardwright.documents.words.figures import number, sentence
from boardwright.documents.words.plain import Column, heading, paragraph, table

TITLE = "Order of the ways"
FILE = "ways.txt"

_STANDS = (
    Column("Way", figures=True),
    Column("What", widest=40),
    Column("Device", widest=44),
)
_PAID = (
    Column("Wish", widest=64),
    Column("Weight", figures=True),
    Column("Missed by", figures=True),
    Column("Cost", figures=True),
)


def build(design: Design) -> str:
    """Return the order of the ways, and the bill of the wishes that it follows from."""
    order = design.chosen.arrangement
    placed = sorted(order.placements, key=lambda p: (p.way, p.rail))
    bill = [_paid(wish) for wish in order.preferences]
    total = number(sum(wish.cost for wish in order.preferences))
    return "\n".join(
        (
            heading(f"{TITLE}: {design.job.title}"),
            table(_STANDS, [_stands(placement) for placement in placed]),
            paragraph(_said(order)),
            "",
            table(_PAID, [*bill, ["Together", "", "", total]]),
            paragraph(
                "Cost is the weight times the units missed; the least sum of all wins. A weight is "
                "changed in the job: wishes.preferences, 0 to 1000."
            ),
            "",
        )
    )


def _said(order: Arrangement) -> str:
    spare = order.spare_modules
    return f"{order.note} {spare} {'module stays' if spare == 1 else 'modules stay'} free."


def _stands(placement: Placement) -> list[str]:
    width = placement.item.device.modules
    way = str(placement.way) if placement.way else ""
    span = f"{way}–{placement.way + width - 1}" if placement.way and width > 1 else way
    section = f", RCD {placement.item.section.upper()}" if placement.item.circuit_id else ""
    behind = section if placement.item.section else ""
    return [span, f"{placement.item.label}{behind}", placement.item.device.name]


def _paid(wish: Preference) -> list[str]:
    missed = number(wish.cost / wish.weight) if wish.weight else "not counted"
    return [sentence(wish.name).rstrip("."), number(wish.weight), missed, number(wish.cost)]
