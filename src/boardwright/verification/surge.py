"""What the surge study leaves, held against what board and equipment withstand."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.core.findings import Finding, Verdict
from boardwright.surge.bands import BOARD
from boardwright.surge.study import PlaceResult
from boardwright.verification.check import check
from boardwright.verification.facts import Facts

_CATEGORIES = ("i", "ii", "iii", "iv")


@check
def left_within_withstand(facts: Facts) -> Iterator[Finding]:
    """Hold the band of each place against its rated impulse voltage, Table 443.2.

    No edition asks for such a study, and its surge is assumed: what it finds is advice. Two alike
    appliances that see the same are one finding.
    """
    for place in {place.sentence: place for place in facts.study.places}.values():
        band, key = place.with_spd_v, _key(place, facts)
        if band is None or key is None:
            continue
        within = band.p95_v <= place.uw_v
        yield Finding(
            check="surge.withstand",
            verdict=Verdict.PASS if within else Verdict.ADVISE,
            subject="The board" if place.place == BOARD else place.appliance,
            subject_id="spd",
            message=place.sentence,
            rule=facts.edition.rule(key),
            value=band.p95_v,
            limit=place.uw_v,
            unit="V",
            remedy="" if within else _REMEDY,
        )


_REMEDY = (
    "See the paper 'What would change the surge': it names the cheapest change that clears this, "
    "each solved again."
)


def _key(place: PlaceResult, facts: Facts) -> str | None:
    """Return the edition's key of the impulse category with this rated voltage."""
    keys = (f"uw.category_{category}_v" for category in _CATEGORIES)
    return next((key for key in keys if facts.edition.number(key) == place.uw_v), None)
