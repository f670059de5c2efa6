"""Enclosure types: rails, bars, entries and busbars to scale.

The frame is the enclosure's front view with the cover off: mm, origin bottom left, y up.
"""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, model_validator

from boardwright.catalogue.devices import MODULE_MM, ConductorName, Part


class Rail(Part):
    """One DIN rail: way 1 starts at ``x_mm``; ``y_mm`` is its centre line."""

    x_mm: float = Field(ge=0)
    y_mm: float = Field(ge=0)
    modules: int = Field(ge=1, le=60)

    def left_mm(self, module: int) -> float:
        """Return the left edge of a module, counted from 0. [mm]"""
        return self.x_mm + module * MODULE_MM


class Bar(Part):
    """A neutral or earth bar with numbered terminals; ``x_mm`` is its left end.

    A bar of the line is the lug that feeds the busbar of a further rail.
    ``section`` names the RCD section a neutral bar serves; empty serves the whole board.
    ``numbered_from`` is the end at which terminal 1, the largest, stands.
    """

    id: str
    conductor: ConductorName
    x_mm: float = Field(ge=0)
    y_mm: float = Field(ge=0)
    pitch_mm: float = Field(default=8.9, gt=0)
    count: int = Field(ge=1, le=80)
    capacity_mm2: float = Field(default=16.0, gt=0)
    first_capacity_mm2: float = Field(
        default=25.0, gt=0, description="of the largest terminal, number 1"
    )
    torque_nm: float = Field(default=2.0, gt=0)
    strip_mm: float = Field(default=12.0, gt=0)
    section: str = ""
    rail: int | None = Field(
        default=None, ge=0, description="the rail it serves, from 0; none: all rails"
    )
    numbered_from: Literal["left", "right"] = "left"

    @property
    def length_mm(self) -> float:
        """Length along the board. [mm]"""
        return self.count * self.pitch_mm

    def terminal_x_mm(self, number: int) -> float:
        """Return where terminal ``number``, from 1, stands. [mm]"""
        along_mm = (number - 0.5) * self.pitch_mm
        return self.x_mm + (along_mm if self.numbered_from == "left" else self.length_mm - along_mm)


class Busbar(Part):
    """The comb below a rail: its teeth meet the devices' busbar terminals.

    ``section`` names the RCD section it feeds; empty is fed by the main switch.
    """

    rail: int = Field(default=0, ge=0)
    in_a: float = Field(gt=0)
    phases: Literal[1, 3] = 1
    below_rail_mm: float = Field(
        default=50.0, gt=0, description="from the rail's centre down to the bar"
    )
    section: str = ""


class CableEntry(Part):
    """A knock-out or gland place on an edge; further places lie right of, or above, the first."""

    id: str
    purpose: Literal["tails", "earth", "circuits", "any"]
    edge: Literal["top", "bottom", "left", "right", "back"]
    at_mm: float = Field(ge=0, description="along the edge, from the left or the bottom")
    diameter_mm: float = Field(gt=0)
    count: int = Field(default=1, ge=1, description="how many cables it takes side by side")
    pitch_mm: float = Field(default=17.8, gt=0)
    one_opening: bool = Field(
        default=True, description="tails: its places share one opening, or a slot joins them"
    )


class EnclosureType(Part):
    """One enclosure that can be bought, with the main switch its maker puts in it.

    ``hand`` is the side of the main switch; ``main_switch`` and ``rccbs`` are catalogue ids of
    what is supplied with it; ``conditional_isc_a`` is the assembly's conditional rating with the
    cut-out as back-up; ``rdf`` the maker's rated diversity factor, None if not given.
    """

    id: str
    maker: str
    family: str
    name: str
    purpose: Literal["consumer unit", "SPD box", "switch-fuse box"]
    phases: Literal[1, 3] = 1
    width_mm: float = Field(gt=0)
    height_mm: float = Field(gt=0)
    depth_mm: float = Field(gt=0)
    combustible: bool = False
    metal: bool = True
    class_ii_incomer: bool = Field(
        default=False, description="supply side insulated to Class II or equivalent"
    )
    hand: Literal["left", "right", "none"]
    main_switch: str = ""
    rails: tuple[Rail, ...] = Field(min_length=1)
    bars: tuple[Bar, ...] = ()
    busbars: tuple[Busbar, ...] = ()
    entries: tuple[CableEntry, ...] = ()
    ina_a: float = Field(gt=0, description="InA, rated current of the assembly")
    conditional_isc_a: float = Field(gt=0)
    rdf: float | None = Field(default=None, gt=0, le=1)
    wires_behind_rail: bool = Field(
        default=False, description="the maker allows new conductors behind the rails"
    )
    ip_top: str = "IP4X"
    ip: str = "IP2XC"
    price_gbp: float = Field(default=0.0, ge=0)

    @property
    def modules(self) -> int:
        """Modules of all rails, the main switch's included."""
        return sum(rail.modules for rail in self.rails)

    @model_validator(mode="after")
    def _everything_is_inside(self) -> Self:
        """Refuse a rail, bar or entry that would stand outside the enclosure."""
        for name, right_mm, top_mm in self._extents():
            if right_mm > self.width_mm or top_mm > self.height_mm:
                raise ValueError(
                    f"{self.id}: {name} reaches {right_mm:.1f} × {top_mm:.1f} mm, the enclosure "
                    f"is {self.width_mm:.1f} × {self.height_mm:.1f} mm"
                )
        return self

    def _extents(self) -> list[tuple[str, float, float]]:
        """Return name, right end and top of each rail, bar and entry. [mm]"""
        rails = [
            (f"rail {n}", r.x_mm + r.modules * MODULE_MM, r.y_mm) for n, r in enumerate(self.rails)
        ]
        bars = [(bar.id, bar.x_mm + bar.length_mm, bar.y_mm) for bar in self.bars]
        entries = [
            (entry.id, end_mm, 0.0) if entry.edge in {"top", "bottom"} else (entry.id, 0.0, end_mm)
            for entry in self.entries
            if entry.edge != "back"
            for end_mm in [entry.at_mm + (entry.count - 1) * entry.pitch_mm]
        ]
        return rails + bars + entries
