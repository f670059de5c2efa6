"""The board as found, and what is wished of the new one."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from boardwright.job.base import Id, Surveyed, YesNo


class ExistingDevice(Surveyed):
    """A device on the board as found; ``way`` is its first way, counted as the maker counts."""

    way: int = Field(ge=1, le=60, description="its first way")
    modules: int = Field(default=1, ge=1, le=12, description="its width")
    kind: Literal["main switch", "MCB", "RCBO", "RCCB", "SPD", "fuse", "blank", "other"] = Field(
        description="what it is"
    )
    in_a: float | None = Field(default=None, gt=0, le=200, description="rated current")
    curve: Literal["B", "C", "D", ""] = Field(
        default="", description="instantaneous tripping curve"
    )
    idn_a: float | None = Field(
        default=None, gt=0, le=1, description="rated residual current: 0.03 is 30 mA"
    )
    rcd_type: Literal["AC", "A", "F", "B", ""] = Field(
        default="", description="type of residual current detection"
    )
    time_delayed: bool = Field(default=False, description="a time-delayed (S) RCD")
    circuit: Id | None = Field(default=None, description="id of the circuit it feeds")


class ExistingBoard(Surveyed):
    """The board as found. Ways are counted from the main switch's neighbour, from 1."""

    maker: str = Field(default="", description="name on the board")
    family: str = Field(default="", description="catalogue family, or empty when not known")
    kind: Literal["consumer unit", "rewirable fuses", "cartridge fuses", "distribution board"] = (
        Field(default="consumer unit", description="what it is")
    )
    combustible: YesNo | None = Field(default=None, description="the enclosure can burn")
    metal: YesNo | None = Field(default=None, description="the enclosure is of metal")
    class_ii_incomer: YesNo | None = Field(
        default=None, description="the incomer in a metal board is insulated as Class II"
    )
    ways: int = Field(ge=1, le=60, description="how many ways it has, spare ones included")
    main_switch_a: float | None = Field(
        default=None, gt=0, le=200, description="rated current of the main switch"
    )
    main_switch_poles: int | None = Field(
        default=None, ge=1, le=4, description="poles of the main switch"
    )
    hand: Literal["left", "right"] | None = Field(
        default=None, description="side of the main switch, seen from the front"
    )
    devices: tuple[ExistingDevice, ...] = Field(default=(), description="the devices on it")


class Wishes(Surveyed):
    """What the person wants; every wish is a preference but ``board`` and ``division``.

    ``separate_box_lead_m`` is the way a lead would take from the board's terminals to a box
    beside it; it decides whether a separate box can work at all.
    """

    board: Literal["new", "keep", "compare"] = Field(
        default="new", description="a new board, keep the old one, or compare both"
    )
    division: Literal["RCBO on every way", "split load", "either"] = Field(
        default="either", description="how circuits share residual current devices"
    )
    maker: str = Field(default="", description="maker preferred, or empty")
    enclosure: str = Field(default="", description="catalogue id, or empty for a choice")
    hand: Literal["left", "right", "either"] = Field(
        default="either", description="side of the main switch preferred"
    )
    spare_ways: int = Field(default=2, ge=0, le=40, description="ways to leave free")
    separate_box_lead_m: float | None = Field(
        default=None, gt=0, le=20, description="way a lead would take to a box beside the board"
    )
    spd: str = Field(default="", description="catalogue id, or empty for a choice")
    keep_together: tuple[tuple[Id, ...], ...] = Field(
        default=(), description="groups of circuit ids to stand side by side"
    )
    keep_apart: tuple[tuple[Id, ...], ...] = Field(
        default=(), description="groups of circuit ids that one device must not drop together"
    )
