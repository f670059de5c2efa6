"""The page for the person who lives there: what was done, what to press, whom to ask."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

from boardwright.board.results import Scheme
from boardwright.core.findings import Verdict
from boardwright.design import Design
from boardwright.documents.readings.taken import NOTHING_YET, OnSite
from boardwright.documents.surge.plain_words import plain_words
from boardwright.documents.words.figures import in_words
from boardwright.documents.words.inspection import next_inspection
from boardwright.documents.words.labels import has_rcd, test_interval
from boardwright.wiring.results import Phase

Content = dict[str, Any]

_NOTIFIED = ("England", "Wales")
"""Where a compliance certificate follows the work, reference practice 1.6 and 5."""


_PLANNED = {
    Scheme.NEW_BOARD: "Your board is replaced by a new one, with {}.",
    Scheme.SPARE_WAYS: "Your board stays. Surge protection goes into free places in it.",
    Scheme.SEPARATE_BOX: "Your board stays. Surge protection goes into a box beside it.",
}
_DONE = {
    Scheme.NEW_BOARD: "Your board was replaced by a new one, with {}.",
    Scheme.SPARE_WAYS: "Your board stayed. Surge protection went into free places in it.",
    Scheme.SEPARATE_BOX: "Your board stayed. Surge protection went into a box beside it.",
}


def householder(design: Design, site: OnSite = NOTHING_YET) -> Content:
    """Return the three answers for the householder, without a symbol of the trade."""
    done = bool(site.values)
    return {
        "title": "What was done" if done else "What is planned",
        "done": list(_work(design, done=done)),
        "press": list(_press(design)),
        "ask": _ask(design, site.issued_on),
    }


def _work(design: Design, *, done: bool) -> Iterator[str]:
    chosen = design.chosen
    circuits = in_words(len(design.plan.circuits), "circuit")
    yield (_DONE if done else _PLANNED)[chosen.scheme].format(circuits)
    if chosen.spd.candidate is not None:
        yield (
            "The surge protection limits what comes in through the mains, as from lightning some "
            "way off. It does not stop a direct strike, nor a surge on a telephone or aerial line."
        )
        yield from filter(None, [plain_words(design)])
    elif any(f.check == "spd.need" and f.verdict is not Verdict.PASS for f in design.findings):
        yield f"No surge protection {'was fitted' if done else 'is planned'}."
    if not done and any(step.phase is Phase.ISOLATE for step in chosen.wiring.steps):
        yield "The power is off while the work is done. Say beforehand what must stay on."


def _press(design: Design) -> Iterator[str]:
    if has_rcd(design):
        yield (
            f"Press each test button on the board {test_interval(design)}; the days when the "
            "clocks change are easy to remember. Each switch must drop. Put it up again, then "
            "set your clocks. If one does not drop, switch it off by hand and call."
        )
    if design.chosen.spd.candidate is not None:
        yield (
            "Look at the window of the surge protection on the same day, and after a storm. If it "
            "has changed, have the part replaced; the power stays on without its protection."
        )
    yield (
        "If a switch drops by itself, unplug what was used last and put the switch up once. "
        "If it drops again, leave it down and call."
    )


def _ask(design: Design, issued_on: date | None) -> list[str]:
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
        *_inspection(design, issued_on),
    ]


def _inspection(design: Design, issued_on: date | None) -> list[str]:
    found = next_inspection(design, issued_on)
    sooner = "Ask sooner if the home is sold or let, or if much is added."
    if not found.usual:
        return [f"Ask the electrician when the next inspection is due. {sooner}", "Due by:"]
    if found.day:
        return [f"Have the wiring inspected again by {found.day}. {sooner}"]
    often = f"{found.usual} after the work" + (f", {found.let} if it is let" if found.let else "")
    return [f"Have the wiring inspected again: {often}. {sooner}", "Due by:"]
