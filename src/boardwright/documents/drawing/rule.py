"""The way rule below the board, and the flags of findings under their ways."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.board.results import Arrangement, Placement, Role
from boardwright.catalogue.devices import MODULE_MM
from boardwright.core.findings import Finding, Verdict
from boardwright.documents.drawing.labels import broken

NAME_MM = 4.5
"""Size of a circuit's name under its way. [mm]"""

_FLAGGED = (Verdict.STOP, Verdict.FAIL, Verdict.UNKNOWN)
"""Advice is left to the list: a flag on every way would flag nothing."""


@dataclass(frozen=True, slots=True)
class WayMark:
    """One stretch of the rule: its ends, its number or range, its name in lines."""

    x0_mm: float
    x1_mm: float
    number: str
    lines: tuple[str, ...]
    spare: bool

    @property
    def centre(self) -> float:
        """The middle of the stretch. [mm]"""
        return (self.x0_mm + self.x1_mm) / 2


@dataclass(frozen=True, slots=True)
class FlagMark:
    """The gravest verdict on one device, under its way, with the sentence as its title."""

    x_mm: float
    verdict: Verdict
    title: str
    rail: int = 0


def rules(arrangement: Arrangement) -> tuple[tuple[WayMark, ...], ...]:
    """Return the stretches of one rule a rail, in the order of the rails."""
    return tuple(
        way_marks(arrangement, number) for number in range(len(arrangement.enclosure.rails))
    )


def way_marks(arrangement: Arrangement, number: int = 0) -> tuple[WayMark, ...]:
    """Return the stretches of a rail's rule from left to right, spare ways one by one."""
    marks = [_taken(placement) for placement in arrangement.placements if placement.rail == number]
    rail = arrangement.enclosure.rails[number]
    covered = [(mark.x0_mm - 1e-6, mark.x1_mm + 1e-6) for mark in marks]
    for module in range(rail.modules):
        x0 = rail.x_mm + module * MODULE_MM
        if not any(low <= x0 and x0 + MODULE_MM <= high for low, high in covered):
            marks.append(
                WayMark(
                    x0,
                    x0 + MODULE_MM,
                    _spare_number(arrangement, number, module),
                    ("spare",),
                    spare=True,
                )
            )
    return tuple(sorted(marks, key=lambda mark: mark.x0_mm))


def flag_marks(arrangement: Arrangement, findings: tuple[Finding, ...]) -> tuple[FlagMark, ...]:
    """Return one flag for each device that a finding to be acted on speaks of."""
    marks = []
    for placement in arrangement.placements:
        names = {placement.item.id, placement.item.circuit_id} - {""}
        spoken = [f for f in findings if f.subject_id in names and f.verdict in _FLAGGED]
        if spoken:
            gravest = min(spoken, key=lambda finding: finding.verdict.rank)
            centre = placement.x_mm + placement.item.device.width_mm / 2
            marks.append(FlagMark(centre, gravest.verdict, gravest.message, placement.rail))
    return tuple(marks)


def _taken(placement: Placement) -> WayMark:
    item = placement.item
    x0, x1 = placement.x_mm, placement.x_mm + item.device.width_mm
    first, last = placement.way, placement.way + item.device.modules - 1
    number = (
        "" if item.role is Role.MAIN_SWITCH else f"{first}" if first == last else f"{first}–{last}"
    )
    label = {Role.SPD: "SPD", Role.SPD_BACKUP: "for SPD", Role.MAIN_SWITCH: "Main switch"}
    name = label.get(item.role, item.short or item.label)
    return WayMark(x0, x1, number, broken(name, x1 - x0 - 0.6, NAME_MM), spare=False)


def _spare_number(arrangement: Arrangement, number: int, module: int) -> str:
    """Count a spare way as its neighbours are counted: away from the main switch."""
    anchor = next((p for p in arrangement.placements if p.way > 0 and p.rail == number), None)
    if anchor is None:
        return ""
    if arrangement.enclosure.hand == "right":
        last_module = anchor.module + anchor.item.device.modules - 1
        return str(anchor.way + last_module - module)
    return str(anchor.way + module - anchor.module)
