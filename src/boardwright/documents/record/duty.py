"""The published models of what stands ahead of the SPD and of its wear."""

from __future__ import annotations

from pydantic import AliasPath, Field

from boardwright.design import Design
from boardwright.documents.duty.words import on_the_way
from boardwright.documents.record.models import Part, Word, read
from boardwright.documents.workings.duty import wear_of
from boardwright.spd.wear_words import how_long, how_often


class AheadOut(Part):
    """One surge of the SPD through one device; ``bound_a`` bounds from above and says no more."""

    device: str = Field(validation_alias=AliasPath("ahead", "name"))
    surge: str = Field(validation_alias=AliasPath("impulse", "name"))
    wave: Word = Field(validation_alias=AliasPath("impulse", "wave"))
    crest_a: float = Field(validation_alias=AliasPath("impulse", "crest_a"))
    tested_a: float | None
    bound_a: float | None
    answer: Word


class OftenOut(Part):
    """Surges of a size or more: 5 % and 95 % points of their number a year, and in words."""

    size_a: float
    low_per_year: float
    high_per_year: float
    words: str


class SurgeDutyOut(Part):
    """Withstand ahead of the SPD, surges at this place and the life of its duty by them."""

    ahead: list[AheadOut]
    often: list[OftenOut]
    life_low_years: float
    life_high_years: float
    life: str
    assumed: list[str]


def surge_duty_out(design: Design) -> SurgeDutyOut | None:
    """Return it for the SPD taken or declined, or None where no SPD suits."""
    found = wear_of(design)
    if found is None:
        return None
    return SurgeDutyOut(
        ahead=read(AheadOut, on_the_way(design)),
        often=[
            OftenOut(
                size_a=each.size_a,
                low_per_year=each.times_per_year.low,
                high_per_year=each.times_per_year.high,
                words=how_often(each.times_per_year),
            )
            for each in found.often
        ],
        life_low_years=found.life_years.low,
        life_high_years=found.life_years.high,
        life=how_long(found.life_years),
        assumed=list(found.place.assumed),
    )
