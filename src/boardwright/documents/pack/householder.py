"""The page for the person who lives there: what was done, what to press, whom to ask."""

from __future__ import annotations

from typing import Any

from boardwright.core.findings import Verdict
from boardwright.design import Design
from boardwright.documents.surge.plain_words import plain_words
from boardwright.documents.words.labels import has_rcd, test_interval
from boardwright.wiring.results import Phase

Content = dict[str, Any]

_NOTIFIED = ("England", "Wales")
"""Where a compliance certificate follows the work, reference practice 1.6 and 5."""


def householder(design: Design) -> Content:
    """Return the three answers for the householder, without a symbol of the trade."""
    return {"done": _done(design), "press": _press(design), "ask": _ask(design)}


def _done(design: Design) -> list[str]:
    chosen = design.chosen
    said = [f"The plan: {chosen.scheme.value}, for {len(design.plan.circuits)} circuits."]
    if chosen.spd.candidate is not None:
        said.append(
            "A part that limits surges from the supply, as of distant lightning, is fitted. "
            "It does not stop a direct strike, nor surges on telephone or aerial lines."
        )
        reckoned = plain_words(design)
        said += [reckoned] if reckoned else []
    elif any(f.check == "spd.need" and f.verdict is not Verdict.PASS for f in design.findings):
        said.append("No surge protection is planned.")
    if design.chosen.wiring.steps and any(s.phase is Phase.ISOLATE for s in chosen.wiring.steps):
        said.append("The power is off while the work is done. Say beforehand what must stay on.")
    return said


def _press(design: Design) -> list[str]:
    said = []
    if has_rcd(design):
        said.append(
            f"Press each test button on the board {test_interval(design)}; the days when the "
            "clocks change are easy to remember. Each switch must drop. Put it up again, then "
            "set the clocks that have stopped."
        )
    if design.chosen.spd.candidate is not None:
        said.append("Look at the window of the surge protection on the same day.")
    said.append(
        "If a switch drops by itself, unplug what was used last and put the switch up once. "
        "If it drops again, leave it down and call."
    )
    return said


def _ask(design: Design) -> list[str]:
    papers = "the installation certificate"
    if design.job.premises.country in _NOTIFIED:
        papers += " and the certificate of compliance with the building regulations"
    street = (
        "No power in the whole street, a hot or damaged supply fuse, or a burning smell at the "
        "meter: call the network operator, in Great Britain on 105, day and night."
    )
    return [
        "The electrician who did the work:",
        street,
        "Fire or danger to life: leave, and call 999.",
        f"Keep {papers} with the papers of the house.",
        "Ask for a new inspection when it falls due, when the home is sold, or when much is added.",
    ]
