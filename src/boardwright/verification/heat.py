"""Checks on heat in the enclosure: hours of load against rated diversity, and neighbours."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from boardwright.board.results import Arrangement, BoardPlan, Item, Placement, Role
from boardwright.circuits.lookup import row_from
from boardwright.core.findings import Finding, Rule
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point, joined
from boardwright.verification.work import keeps_board

_OUTGOING = frozenset({Role.CIRCUIT, Role.AS_FOUND})


@check
def rated_diversity(facts: Facts) -> Iterator[Finding]:
    """Hold loads that last for hours against the device's rating times the diversity factor.

    The maker's factor goes before the standard's default. It is for all circuits loaded at once,
    which a home hardly is: over it is advice, and the maker's word settles it.
    """
    board = facts.board
    if board is None or keeps_board(facts):
        return
    factor, rule = diversity_factor(facts, board)
    point = Point("heat.rdf", "Heat in the enclosure", "board", rule)
    lasting = [i for i in board.items if i.role in _OUTGOING and i.continuous and i.device.in_a]
    over = [i for i in lasting if i.ib_a > (i.device.in_a or 0.0) * factor]
    whose = "its maker's" if board.enclosure.rdf is not None else "the default"
    shown = f"{whose.capitalize()} diversity factor is {factor:g}; {_losses(board)}"
    if not over:
        held = f"every load that lasts for hours keeps within it ({len(lasting)})"
        yield point.passed(f"{shown}; {held}." if lasting else f"{shown}; no load lasts for hours.")
        return
    each = "; ".join(
        f"{i.label}: {i.ib_a:.1f} A, {factor:g} × {i.device.in_a:g} A is "
        f"{factor * (i.device.in_a or 0.0):.1f} A"
        for i in over
    )
    yield point.advised(
        f"{shown}. Loaded for hours beyond it: {each}.",
        "Leave a free module beside each, take the next rating where its cable bears it, or get "
        "the maker's word for these loads.",
    )


def diversity_factor(facts: Facts, board: BoardPlan) -> tuple[float, Rule]:
    """Return the assembly's rated diversity factor and what it rests on: its maker, else a default.

    References
    ----------
    BS EN 61439-3: per-unit of its rating to which each outgoing circuit may be loaded for long.
    """
    base = facts.edition.rule("heat.rdf")
    if board.enclosure.rdf is not None:
        return board.enclosure.rdf, base
    table = facts.edition.table("rdf_by_circuits")
    outgoing = sum(item.role in _OUTGOING for item in board.items)
    row = row_from(table, max(outgoing, 1))
    factor = table.rows[row]["factor"]
    return factor, joined(base, facts.edition.cell_rule(table.key, row, "factor"))


def _losses(board: BoardPlan) -> str:
    full_w = sum(item.device.loss_w for item in board.items)
    loaded_w = sum(loss_w(item) for item in board.items)
    return f"its devices give off {full_w:.0f} W at their ratings, {loaded_w:.0f} W at these loads"


def loss_w(item: Item) -> float:
    """Return what a device gives off at its load: loss grows with the square of current. [W]

    A device that is no circuit's, as the main switch, counts in full.
    """
    if item.role not in _OUTGOING or not item.device.in_a:
        return item.device.loss_w
    # A load beyond the rating is another check's matter; the loss is told as it would be.
    return item.device.loss_w * (item.ib_a / item.device.in_a) ** 2


@check
def heavy_neighbours(facts: Facts) -> Iterator[Finding]:
    """Name heavy loads that last for hours and stand side by side without a module between."""
    if facts.arrangement is None or keeps_board(facts):
        return
    heavy_a = facts.edition.number("heat.heavy_a")
    heavy = [p for p in facts.arrangement.placements if _is_heavy(p.item, heavy_a)]
    rule = facts.edition.rule("heat.heavy_a")
    point = Point("heat.neighbours", "Heavy neighbours", "board", rule)
    pairs = [
        f"{one.item.label} and {other.item.label}"
        for one, other in _in_order(facts.arrangement)
        if one in heavy and other in heavy
    ]
    if pairs:
        yield point.advised(
            f"Side by side, each over {heavy_a:g} A for hours: {'; '.join(pairs)}.",
            "Put a free module or a lightly loaded way between them.",
        )
    elif len(heavy) > 1:
        names = ", ".join(p.item.label for p in heavy)
        yield point.passed(f"Loads over {heavy_a:g} A for hours stand apart: {names}.")


def _is_heavy(item: Item, heavy_a: float) -> bool:
    return item.role in _OUTGOING and item.continuous and item.ib_a >= heavy_a


def _in_order(arrangement: Arrangement) -> Iterator[tuple[Placement, Placement]]:
    """Yield those that touch, rail by rail."""
    ordered = sorted(arrangement.placements, key=lambda p: (p.rail, p.module))
    for one, other in pairwise(ordered):
        if one.rail == other.rail and one.module + one.item.device.modules == other.module:
            yield one, other
