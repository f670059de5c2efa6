"""The board as found, and what is wished of the new one."""

from __future__ import annotations

from typing import Annotated, Literal

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
    feeds: tuple[int, ...] = Field(
        default=(), description="of an RCCB: the ways whose devices are behind it"
    )


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


Weight = Annotated[int, Field(ge=0, le=1000)]
"""What one unit of a preference missed costs, in whole numbers; 0 lets it count for nothing."""


class Preferences(Surveyed):
    """How much each preference of the board counts; one that is left out keeps its own weight.

    The keys, what one unit of each is and the weights they have are in docs/arrangement.md.
    """

    spd_near: Weight | None = Field(default=None, description="the SPD nearest the main switch")
    sections_lettered: Weight | None = Field(
        default=None, description="RCD sections in the order of their letters"
    )
    kept_apart: Weight | None = Field(
        default=None, description="circuits to be kept apart are no neighbours"
    )
    heavy_apart: Weight | None = Field(
        default=None, description="heavy continuous loads are no neighbours"
    )
    cables_reach: Weight | None = Field(
        default=None, description="existing cables reach their new ways"
    )
    kept_together: Weight | None = Field(
        default=None, description="circuits to be kept together stand side by side"
    )
    order_kept: Weight | None = Field(default=None, description="circuits keep the order they had")
    large_near: Weight | None = Field(
        default=None, description="large circuits near the main switch"
    )
    apart_split: Weight | None = Field(
        default=None, description="circuits to be kept apart are behind different RCDs"
    )
    like_split: Weight | None = Field(
        default=None, description="circuits of one purpose are behind different RCDs"
    )
    leakage_balanced: Weight | None = Field(
        default=None, description="standing leakage balanced between the RCDs"
    )
    load_balanced: Weight | None = Field(default=None, description="load balanced between the RCDs")

    def weight(self, key: str, usual: int) -> int:
        """Return the weight of a preference: the person's, else the usual one."""
        own = getattr(self, key)
        return usual if own is None else int(own)


Ways = dict[Id, Annotated[int, Field(ge=1, le=60)]]
"""The first way of each circuit that a person placed; ``spd`` is the SPD with its back-up."""


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
    ways: Ways = Field(
        default_factory=dict,
        description="the way of a circuit by its id, or of the SPD as spd, where you placed it",
    )
    preferences: Preferences = Field(
        default_factory=Preferences, description="weights of the board's preferences, 0 to 1000"
    )
