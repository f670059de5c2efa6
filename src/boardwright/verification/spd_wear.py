"""The check on how long an SPD's duty lasts at this place, and on what a decline accepts."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.catalogue.devices import DeviceType
from boardwright.core.findings import Finding
from boardwright.spd.results import Need
from boardwright.spd.wear import wear
from boardwright.spd.wear_words import how_often, life_sentence, size_words
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point

_SOONER = "Other causes may end it sooner: its window tells."
_LONGER = "Take a larger Imax or a Type 1+2, and read its window every year and after a storm."


@check
def wear_expected(facts: Facts) -> Iterator[Finding]:
    """Set the surges of this place against the SPD's duty, as a range in words.

    Where the owner declined, the same is said of the SPD that would have suited best.
    """
    device = _device(facts)
    if device is None or device.spd is None:
        return
    environment = facts.job.surge_environment
    found = wear(environment, device.spd, facts.edition)
    rule = facts.edition.rule("wear.short_life_years")
    point = Point("spd.wear", "Wear by surges", "spd", rule)
    middle = found.often[1]
    said = f"Surges of {size_words(middle)} and more: {how_often(middle.times_per_year)}."
    if facts.need.need is Need.DECLINED:
        name = f"the {device.maker} {device.name}, declined,"
        yield point.spared(f"{said} {life_sentence(found, name=name)}")
        return
    said = f"{said} {life_sentence(found)} {_SOONER}"
    if found.life_years.low >= facts.edition.number("wear.short_life_years"):
        yield point.passed(said)
    elif found.place.assumed:
        yield point.unknown(said, "Ask the network operator for the lines, and read the density.")
    else:
        yield point.advised(said, _LONGER)


def _device(facts: Facts) -> DeviceType | None:
    """Return the SPD taken, or where the owner declined the one that would have been."""
    if facts.spd.candidate is not None:
        return facts.spd.candidate.device
    if facts.need.need is not Need.DECLINED:
        return None
    return next((each.device for each in facts.spd.candidates if each.suitable), None)
