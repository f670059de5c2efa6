"""Back-up, failure and wear of the SPD as the surge page shows them."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.design import Design
from boardwright.documents.duty.decline import state
from boardwright.documents.duty.words import DutyWords, duty_words


@dataclass(frozen=True, slots=True)
class WearView:
    """What the page says; ``decline`` is empty where nobody declined."""

    words: DutyWords
    decline: str


def wear_view(design: Design) -> WearView | None:
    """Return the SPD's back-up and wear, or None where no SPD suits."""
    words = duty_words(design)
    if words is None:
        return None
    declined_by = design.job.surge_environment.declined_by
    return WearView(words, state(design) if declined_by else "")
