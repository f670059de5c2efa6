"""What the surge study found, for the householder: no symbol and no word of the trade."""

from __future__ import annotations

from collections.abc import Sequence

from boardwright.design import Design
from boardwright.surge.bands import BOARD
from boardwright.surge.study import PlaceResult

_NAMED = 3


def plain_words(design: Design) -> str:
    """Return one paragraph on what a surge through the mains would leave at the home's things."""
    places = [place for place in design.chosen.study.places if place.place != BOARD]
    fitted = [place for place in places if place.with_spd_v]
    if not fitted:
        return ""
    above = [place for place in fitted if _high_v(place) > place.uw_v]
    within = [place for place in fitted if place not in above]
    burst = (
        "A storm some way off can send a short burst of high voltage through the mains. For one "
        f"of the size that is used for testing, the calculation gives {_before_and_after(fitted)}."
    )
    said = [burst]
    if within:
        verb = "is" if len(within) == 1 else "are"
        said.append(f"{_capital(_things(within))} {verb} built to take that.")
    if above:
        said.append(
            f"More may reach some things than they are built for: {_each(above)}. A surge "
            "protector at the socket lowers it; or pull the plug before a storm comes near."
        )
    said.append("This is calculated, not measured, and a strike on the house is far larger.")
    return " ".join(said)


def _each(places: Sequence[PlaceResult]) -> str:
    """Return each thing with the most that may reach it and what it is built for."""
    worst = sorted(places, key=lambda place: -_high_v(place) / place.uw_v)[:_NAMED]
    return "; ".join(
        f"the {_thing(place.appliance)}, up to {_high_v(place):,.0f} volts and built for "
        f"{place.uw_v:,.0f}"
        for place in worst
    )


def _before_and_after(places: Sequence[PlaceResult]) -> str:
    before = [place.without_spd_v.typical_v for place in places]
    after = [place.with_spd_v.typical_v for place in places if place.with_spd_v]
    return (
        f"about {max(before):,.0f} volts at your appliances without the surge protection,"
        f" about {max(after):,.0f} with it"
    )


def _high_v(place: PlaceResult) -> float:
    return place.with_spd_v.p95_v if place.with_spd_v else 0.0


def _things(places: Sequence[PlaceResult]) -> str:
    names = [_thing(place.appliance) for place in places[:_NAMED]]
    if len(places) > _NAMED:
        names[-1] = "other things"
    if len(names) == 1:
        return f"the {names[0]}"
    return f"the {', the '.join(names[:-1])} and the {names[-1]}"


def _thing(appliance: str) -> str:
    """Return an appliance's name within a sentence, as short as people say it."""
    name = appliance.partition(",")[0]
    return name if name[:2].isupper() else name[:1].lower() + name[1:]


def _capital(words: str) -> str:
    return words[0].upper() + words[1:]
