"""Devices moved on the board and not saved: judged, wired and checked, not designed anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from boardwright.board.moved import moved
from boardwright.board.results import Role
from boardwright.board.wished import SPD_WAY
from boardwright.core.errors import BoardwrightError, FieldError
from boardwright.core.findings import Finding, in_order
from boardwright.design import Design, Variant
from boardwright.verification.check import verify
from boardwright.verification.facts import Facts
from boardwright.wiring.wire import wire

MOST = 40
"""How many moves one address may hold."""


@dataclass(frozen=True, slots=True)
class Move:
    """A device by its item, and the way it is put on."""

    item: str
    way: int


@dataclass(frozen=True, slots=True)
class Tried:
    """A design with devices moved; with ``faults`` it is as it was, and they say why.

    ``ways`` is what a job says to have the devices so: a way by the key of each moved device.
    """

    design: Design
    moves: tuple[Move, ...]
    faults: tuple[str, ...]
    ways: dict[str, int]


def read(lines: Sequence[str]) -> tuple[Move, ...]:
    """Return moves from ``item:way`` lines, as ``way-cooker:5``.

    Raises
    ------
    FieldError
        A line says no device and way, or there are too many.
    """
    if len(lines) > MOST:
        raise FieldError("move", f"{len(lines)} moves", f"at most {MOST}")
    moves = []
    for line in lines:
        item, _, way = line.rpartition(":")
        if not item or not way.isdecimal() or len(way) > 3:  # noqa: PLR2004 - no board has 1000 ways
            raise FieldError("move", line, "a device and its way, as way-cooker:5")
        moves.append(Move(item, int(way)))
    return tuple(moves)


def tried(design: Design, moves: Sequence[Move]) -> Tried:
    """Return the design with devices moved; the study of surges is that of the saved order.

    Raises
    ------
    FieldError
        No such device stands on the rail.
    """
    chosen, ways = design.chosen, dict[str, int]()
    arrangement = chosen.arrangement
    for move in moves:
        after = moved(arrangement, chosen.board, design.job.wishes, item_id=move.item, way=move.way)
        if after.faults:
            return Tried(design, tuple(moves), after.faults, {})
        arrangement = after.arrangement
        ways |= _key(design, move.item)
    try:
        wiring = wire(arrangement, design.job, chosen.spd, design.edition)
    except BoardwrightError as error:
        return Tried(design, tuple(moves), (str(error),), {})
    variant = replace(chosen, arrangement=arrangement, wiring=wiring)
    variant = replace(variant, findings=_checked(design, variant))
    ways = {key: arrangement.placement(_item(design, key)).way for key in ways}
    return Tried(_with(design, variant), tuple(moves), (), ways)


def _key(design: Design, item_id: str) -> dict[str, int]:
    """Return what a job calls a device, if it can place it: circuits, and the SPD's branch."""
    item = design.chosen.arrangement.placement(item_id).item
    if item.role in (Role.SPD, Role.SPD_BACKUP):
        return {SPD_WAY: 0}
    return {item.circuit_id: 0} if item.circuit_id and item.fixed_module is None else {}


def _item(design: Design, key: str) -> str:
    """Return the item that a key of a job's ways means: of the SPD's branch its first."""
    items = {p.item.id for p in design.chosen.arrangement.placements}
    if f"way-{key}" in items:
        return f"way-{key}"
    return "spd-backup" if "spd-backup" in items else "spd"


def _checked(design: Design, variant: Variant) -> tuple[Finding, ...]:
    return verify(
        Facts(
            job=design.job,
            edition=design.edition,
            catalogue=design.catalogue,
            plan=design.plan,
            need=design.need,
            spd=variant.spd,
            board=variant.board,
            arrangement=variant.arrangement,
            wiring=variant.wiring,
            study=variant.study,
        )
    )


def _with(design: Design, variant: Variant) -> Design:
    """Return the design with another first variant; what no arrangement decides stays said."""
    own = set(design.chosen.findings)
    rest = tuple(finding for finding in design.findings if finding not in own)
    return replace(
        design,
        variants=(variant, *design.variants[1:]),
        findings=in_order(rest + variant.findings),
    )


__all__ = ["Move", "Tried", "read", "tried"]
