"""The survey page, read only: what is known, what was assumed, what is not known yet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.documents.figures import NO_BREAK, in_words, number, sentence, unit_sign
from boardwright.job.base import Surveyed
from boardwright.job.job import Job
from boardwright.web.views import questions
from boardwright.web.views.questions import Question

KNOWN, ASSUMED, UNKNOWN = "known", "assumed", "unknown"

_SMALL_A = 0.5
"""A residual current is written in mA. [A]"""

_YEAR = "per km² and year"


@dataclass(frozen=True, slots=True)
class FieldRow:
    """One answer of the survey; ``state`` is known, assumed or unknown."""

    label: str
    symbol: str
    value: str
    unit: str
    state: str


@dataclass(frozen=True, slots=True)
class Part:
    """Answers under one heading; a section's own answers have none."""

    heading: str
    rows: tuple[FieldRow, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """One section of the survey."""

    key: str
    title: str
    parts: tuple[Part, ...]
    caution: tuple[str, str] = ("", "")

    @property
    def unknown(self) -> int:
        """How many answers are not known yet."""
        return sum(row.state == UNKNOWN for part in self.parts for row in part.rows)

    @property
    def assumed(self) -> int:
        """How many answers were assumed."""
        return sum(row.state == ASSUMED for part in self.parts for row in part.rows)


@dataclass(frozen=True, slots=True)
class SurveyView:
    """All sections in the order of a walk through the home."""

    answer: str
    sections: tuple[Section, ...]


def survey_view(job: Job) -> SurveyView:
    """Return what the survey page shows."""
    sections = tuple(_sections(job))
    unknown = sum(section.unknown for section in sections)
    assumed = sum(section.assumed for section in sections)
    said = f"{sentence(in_words(unknown, 'answer')).rstrip('.')} not known yet, {assumed} assumed."
    return SurveyView(said if unknown or assumed else "Everything asked is known.", sections)


def _sections(job: Job) -> Iterator[Section]:
    supply = job.supply
    origin = [_part("", supply, "supply", questions.SUPPLY, job)]
    origin.append(_part("Tails", supply.tails, "supply.tails", questions.TAILS, job))
    if supply.submain is not None:
        origin.append(
            _part("Distribution circuit", supply.submain, "supply.submain", questions.SUBMAIN, job)
        )
    live = ("Live parts.", "Look only. The cut-out is not yours to open; ask the network operator.")
    yield Section("supply", "Supply", tuple(origin), live)
    bonds = tuple(
        _part(f"Bond, {bond.service}", bond, f"earthing.bonds.{bond.service}", questions.BOND, job)
        for bond in job.earthing.bonds
    )
    earth = _part("", job.earthing, "earthing", questions.earthing(job), job)
    yield Section("earthing", "Earthing and bonding", (earth, *bonds))
    lines = _part("", job.surge_environment, "surge_environment", questions.ENVIRONMENT, job)
    yield Section("environment", "Environment", (lines,))
    premises = _part("", job.premises, "premises", questions.PREMISES, job)
    yield Section("premises", "Premises", (premises,))
    yield Section("existing-board", "Existing board", _existing(job))
    yield Section("circuits", "Circuits", tuple(_circuit(job)))


def _existing(job: Job) -> tuple[Part, ...]:
    board = job.existing_board
    if board is None:
        return (Part("", (FieldRow("Board as found", "", "none", "", KNOWN),)),)
    found = _part("", board, "existing_board", questions.EXISTING, job)
    names = {circuit.id: circuit.name for circuit in job.circuits}
    devices = tuple(
        FieldRow(
            f"Way {device.way}",
            names.get(device.circuit or "", ""),
            f"{device.kind} {device.curve}{number(device.in_a) if device.in_a else ''}".strip(),
            "A" if device.in_a else "",
            KNOWN,
        )
        for device in board.devices
    )
    return (found, Part("Devices", devices)) if devices else (found,)


def _circuit(job: Job) -> Iterator[Part]:
    for circuit in job.circuits:
        at = f"circuits.{circuit.id}"
        rows = [
            *_rows(circuit, at, questions.CIRCUIT, job),
            *_rows(circuit.cable, f"{at}.cable", questions.CABLE, job),
            *_rows(circuit.load, f"{at}.load", questions.load(circuit), job),
            *_rows(circuit.readings, f"{at}.readings", questions.readings(circuit), job),
        ]
        yield Part(circuit.name, tuple(rows))


def _part(heading: str, model: Surveyed, path: str, asked: tuple[Question, ...], job: Job) -> Part:
    return Part(heading, tuple(_rows(model, path, asked, job)))


def _rows(model: Surveyed, path: str, asked: tuple[Question, ...], job: Job) -> Iterator[FieldRow]:
    for question in asked:
        value = getattr(model, question.field)
        state = ASSUMED if f"{path}.{question.field}" in job.assumed else KNOWN
        shown, unit = _shown(value, question)
        yield FieldRow(question.label, question.symbol, shown, unit, state if shown else UNKNOWN)


def _shown(value: object, question: Question) -> tuple[str, str]:
    """Return a value and its unit as written; both empty where it is not known."""
    if value is None or value in ("", "unknown"):
        return "", ""
    if isinstance(value, bool):
        return ("yes" if value else "no"), ""
    if isinstance(value, int | float):
        return _figure(float(value), question.unit)
    return f"{question.before}{value}", ""


def _figure(value: float, unit: str) -> tuple[str, str]:
    if unit == "A" and 0 < value < _SMALL_A:
        return number(value * 1000), "mA"
    if unit in ("A", "W") and value >= 1000:  # noqa: PLR2004 - where the prefix begins
        return number(value / 1000), f"k{unit}"
    return number(value), _YEAR if unit == "year" else unit_sign(unit).replace(" ", NO_BREAK)
