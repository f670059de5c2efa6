"""The board as found, and what is wished of the new one."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from boardwright.job.base import Id, Surveyed, YesNo


class ExistingDevice(Surveyed):
    """A device on the board as found; ``way`` is its first way, counted as the maker counts."""

    way: int = Field(ge=1, le=60)
    modules: int = Field(default=1, ge=1, le=12)
    kind: Literal["main switch", "MCB", "RCBO", "RCCB", "SPD", "fuse", "blank", "other"]
    in_a: float | None = Field(default=None, gt=0, le=200)
    curve: Literal["B", "C", "D", ""] = ""
    idn_a: float | None = Field(default=None, gt=0, le=1)
    rcd_type: Literal["AC", "A", "F", "B", ""] = ""
    time_delayed: bool = False
    circuit: Id | None = None


class ExistingBoard(Surveyed):
    """The board as found. Ways are counted from the main switch's neighbour, from 1."""

    maker: str = ""
    family: str = Field(default="", description="catalogue family, or empty when not known")
    kind: Literal["consumer unit", "rewirable fuses", "cartridge fuses", "distribution board"] = (
        "consumer unit"
    )
    combustible: YesNo | None = None
    metal: YesNo | None = None
    class_ii_incomer: YesNo | None = None
    ways: int = Field(ge=1, le=60)
    main_switch_a: float | None = Field(default=None, gt=0, le=200)
    main_switch_poles: int | None = Field(default=None, ge=1, le=4)
    hand: Literal["left", "right"] | None = None
    devices: tuple[ExistingDevice, ...] = ()


class Wishes(Surveyed):
    """What the person wants; every wish is a preference but ``board`` and ``division``.

    ``separate_box_lead_m`` is the way a lead would take from the board's terminals to a box
    beside it; it decides whether a separate box can work at all.
    """

    board: Literal["new", "keep", "compare"] = "new"
    division: Literal["RCBO on every way", "split load", "either"] = "either"
    maker: str = ""
    enclosure: str = Field(default="", description="catalogue id, or empty for a choice")
    hand: Literal["left", "right", "either"] = "either"
    spare_ways: int = Field(default=2, ge=0, le=40)
    separate_box_lead_m: float | None = Field(default=None, gt=0, le=20)
    spd: str = Field(default="", description="catalogue id, or empty for a choice")
    keep_together: tuple[tuple[Id, ...], ...] = ()
    keep_apart: tuple[tuple[Id, ...], ...] = ()
