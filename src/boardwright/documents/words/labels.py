"""The labels a board must carry, by its edition: the chart of its ways, and the notices."""

from __future__ import annotations

from datetime import date
from typing import Any

from boardwright.board.results import Role
from boardwright.catalogue.devices import DeviceType
from boardwright.design import Design
from boardwright.documents.words.circuit_words import device_words, way_of
from boardwright.documents.words.figures import source
from boardwright.documents.words.inspection import next_inspection

Content = dict[str, Any]

_CHARTED = {
    Role.SPD: "Surge protection",
    Role.SPD_BACKUP: "Back-up of the surge protection",
    Role.SECTION_RCD: "RCD of the ways beside it",
    Role.INCOMER_RCD: "RCD of the whole board",
}

_MONTHS = {3: "every three months", 6: "twice a year", 12: "once a year"}


def labels(design: Design, issued_on: date | None = None) -> Content:
    """Return the labels that this home asks for by its edition, in words of our own."""
    cards = [
        _rcd_card(design),
        _spd_card(design),
        _supply_card(design),
        _inspection_card(design, issued_on),
    ]
    return {
        "chart": _chart(design),
        "cards": [card for card in cards if card],
    }


def _chart(design: Design) -> list[list[str]]:
    """Return way, name and device of all that stands in a way of the board."""
    rows = []
    for place in design.chosen.arrangement.placements:
        item = place.item
        if item.role is Role.CIRCUIT:
            circuit = design.plan.circuit(item.circuit_id)
            rows.append([way_of(place), circuit.name, device_words(circuit)])
        elif item.role in _CHARTED:
            rows.append([way_of(place), _CHARTED[item.role], _short(item.device)])
    return rows


def _short(device: DeviceType) -> str:
    """Return a device in the few words that a chart has room for."""
    if device.spd is not None:
        return "Type " + "+".join(kind[1:] for kind in device.spd.types)
    return device.name.split(",")[0]


def has_rcd(design: Design) -> bool:
    """Tell whether anything in the board carries a test button."""
    return any(p.item.device.idn_a for p in design.chosen.arrangement.placements)


def has_source(design: Design) -> bool:
    """Tell whether energy can come from inside the home."""
    return any(
        circuit.source or circuit.serves in ("PV", "battery") for circuit in design.job.circuits
    )


def test_interval(design: Design) -> str:
    """Return how often the test buttons are pressed, as the edition asks."""
    months = test_months(design)
    return _MONTHS.get(months, f"every {months} months")


def test_months(design: Design) -> int:
    """Return after how many months the test buttons are pressed again, as the edition asks."""
    key = "notice.rcd_test_months"
    return round(design.edition.number(key)) if design.edition.has(key) else 6


def _rcd_card(design: Design) -> Content | None:
    if not has_rcd(design):
        return None
    return {
        "title": "Press the test buttons",
        "lines": [
            f"Press each button marked T or Test {test_interval(design)}.",
            "The switch beside it must drop; put it up again.",
            "If it does not drop, switch it off by hand and call an electrician.",
        ],
        "source": _cited(design, "notice.rcd_test_months"),
    }


def _spd_card(design: Design) -> Content | None:
    candidate = design.chosen.spd.candidate
    if candidate is None:
        return None
    return {
        "title": "Surge protection: look at the window",
        "lines": [
            f"{candidate.device.name}. Look when you press the test buttons, and after a storm.",
            "Has the window changed from what it showed when new? Have the part replaced.",
            "Until then the supply goes on, without surge protection.",
        ],
        "source": "the maker's instructions",
    }


def _supply_card(design: Design) -> Content | None:
    if not has_source(design):
        return None
    return {
        "title": "Two sources of supply",
        "lines": [
            "This home is fed by the mains and by its own source.",
            "Isolate both, and prove dead, before work on any part.",
        ],
        "source": _cited(design, "notice.dual_supply"),
    }


def _inspection_card(design: Design, issued_on: date | None) -> Content:
    found = next_inspection(design, issued_on)
    # A day that nobody has set is a line to write on, with what is usual below it.
    due = f"Due again not later than: {found.day}".rstrip()
    lines = ["Inspected and tested on:", due]
    if found.usual:
        let = f"; where it is let, {found.let}" if found.let else ""
        lines.append(f"Usual in a home: {found.usual} after{let}.")
    cited = [_cited(design, "notice.inspection"), found.source]
    return {
        "title": "Next inspection",
        "lines": lines,
        "source": ", interval by ".join(filter(None, cited)),
    }


def _cited(design: Design, key: str) -> str:
    return source(design.edition.rule(key)) if design.edition.has(key) else ""
