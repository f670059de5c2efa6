"""Variants of a home that are worth a try: what is often asked of one like it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.design import Design


@dataclass(frozen=True, slots=True)
class Idea:
    """A variant worth a try: its name, and its edits as an address has them."""

    words: str
    edits: tuple[str, ...]


def ideas(design: Design) -> Iterator[Idea]:
    """Yield what is often asked of a home: the other division, another maker, no SPD."""
    wishes = design.job.wishes
    divided = any(section.rcd_in_a is not None for section in design.plan.sections)
    other = "RCBO on every way" if divided else "split load"
    yield Idea(other[0].upper() + other[1:], (f"wishes.division={other}",))
    enclosures = design.catalogue.enclosures.values()
    units = [e for e in enclosures if e.purpose == "consumer unit"]
    here = design.chosen.arrangement.enclosure.maker
    for maker in sorted({e.maker for e in units if e.phases == design.job.supply.phases} - {here}):
        yield Idea(f"A board of {maker}", (f"wishes.maker={maker}", "wishes.enclosure="))
    taken = design.chosen.spd.candidate
    for candidate in design.chosen.spd.candidates:
        device = candidate.device
        if candidate.suitable and taken is not None and device.id != taken.device.id:
            yield Idea(f"SPD: {device.name}", (f"wishes.spd={device.id}",))
    if taken is not None:
        yield Idea("Surge protection declined", ("surge_environment.declined_by=owner",))
    if wishes.spare_ways:
        yield Idea("No spare ways", ("wishes.spare_ways=0",))


__all__ = ["Idea", "ideas"]
