"""Every conductor as a table for a spreadsheet."""

from __future__ import annotations

import csv
import io

from boardwright.design import Design
from boardwright.documents.words.conductor_words import in_order_of_work
from boardwright.wiring.results import Conductor, Origin

TITLE = "Conductors for a spreadsheet"
FILE = "wiring.csv"

HEAD = (
    "id",
    "step",
    "from",
    "to",
    "function",
    "size_mm2",
    "colour",
    "origin",
    "cut_mm",
    "strip_from_mm",
    "strip_to_mm",
    "torque_from_nm",
    "torque_to_nm",
)

_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def build(design: Design) -> str:
    """Return the conductors as comma-separated values, one a line, in the order of work."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(HEAD)
    for conductor in in_order_of_work(design.chosen.wiring.conductors):
        writer.writerow(_row(conductor))
    return text.getvalue()


def _row(conductor: Conductor) -> list[str]:
    begin, end = conductor.begin, conductor.end
    return [
        _inert(conductor.id),
        str(conductor.step or ""),
        _inert(begin.label),
        _inert(end.label),
        conductor.function,
        _plain(conductor.csa_mm2),
        _inert(conductor.colour),
        conductor.origin.value,
        str(round(conductor.length_mm)) if conductor.origin is Origin.NEW else "",
        _plain(begin.strip_mm),
        _plain(end.strip_mm),
        _plain(begin.torque_nm),
        _plain(end.torque_nm),
    ]


def _plain(value: float | None) -> str:
    return "" if value is None else f"{value:g}"


def _inert(text: str) -> str:
    """Return text that no spreadsheet takes for a formula: a name from a survey can be anything."""
    return f"'{text}" if text.startswith(_FORMULA) else text
