"""Every number opened to its working: signs, formula, figures and clause."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from boardwright.circuits.working.circuit import working
from boardwright.circuits.working.home import board_working, demand_working
from boardwright.circuits.working.step import Formula, Step, unit_of
from boardwright.design import Design
from boardwright.documents.words.figures import NO_BREAK, confidence, number, quantity
from boardwright.documents.words.plain import WIDTH, heading, paragraph
from boardwright.documents.workings.spd import spd_working

TITLE = "Workings"
FILE = "workings.txt"

NOT_KNOWN = "not known"
_INDENT = 4
_SIGN = 14
_VALUE = 14
_PURE_DIGITS = 4
"""A factor of 0.9398 is read to four figures; a current or a loop to three."""

_SHOWN_IN_THOUSANDTHS = {"V/A/m": "mV/A/m", "Ω/m": "mΩ/m"}
"""Units of tables that the trade prints in thousandths."""


@dataclass(frozen=True, slots=True)
class Row:
    """One step as text: ``in_signs`` and ``in_figures`` are empty where nothing was worked.

    ``source`` is clause and confidence, without the edition, which is the same for all.
    """

    part: str
    sign: str
    says: str
    value: str
    in_signs: str
    in_figures: str
    note: str
    source: str


def rows(design: Design, circuit_id: str) -> tuple[Row, ...]:
    """Return the working of one circuit.

    Raises
    ------
    KeyError
        The job has no circuit of that id.
    """
    circuit = design.job.circuit(circuit_id)
    return _rows(working(circuit, design.plan, design.job, design.edition))


def shared_rows(design: Design) -> tuple[Row, ...]:
    """Return the working of what the circuits share: demand, board, surge protection."""
    job, plan, edition = design.job, design.plan, design.edition
    board = board_working(plan, job, edition)
    return _rows((*board, *demand_working(plan, job, edition), *spd_working(design)))


def build(design: Design) -> str:
    """Return the workings of the whole home: what is shared, then circuit by circuit."""
    job = design.job
    parts = [heading(f"{TITLE}: {job.title}"), *_intro(design), *_text(shared_rows(design))]
    for circuit in job.circuits:
        parts += [_title(circuit.name), *_text(rows(design, circuit.id))]
    return "\n".join(parts)


def build_one(design: Design, circuit_id: str) -> str:
    """Return the working of one circuit as text.

    Raises
    ------
    KeyError
        The job has no circuit of that id.
    """
    circuit = design.job.circuit(circuit_id)
    title = heading(f"{TITLE}: {circuit.name}, {design.job.title}")
    return "\n".join([title, *_intro(design), *_text(rows(design, circuit_id))])


def _intro(design: Design) -> list[str]:
    said = (
        f"Worked to {design.edition.title}. Figures are shown rounded and were computed unrounded, "
        "so a sum done again from this page may differ in its last figure."
    )
    return [f"{paragraph(said)}\n"]


def _title(words: str) -> str:
    return f"{words}\n{'─' * min(WIDTH, len(words))}\n"


def _text(shown: Iterable[Row]) -> Iterator[str]:
    for part, group in groupby(shown, key=lambda row: row.part):
        yield "\n".join([part, *(line for row in group for line in _lines(row))]) + "\n"


def _lines(row: Row) -> Iterator[str]:
    space = " " * _INDENT
    opening = f"{space}{row.sign:<{_SIGN}}{row.value:<{_VALUE}}"
    yield paragraph(row.says, hanging=opening)
    below = _INDENT + _SIGN
    if row.in_signs:
        yield paragraph(f"= {row.in_signs}", below)
        yield paragraph(f"= {row.in_figures}", below)
    cited = " · ".join(filter(None, (row.note, row.source)))
    if cited:
        yield paragraph(cited, below)


def _rows(steps: Iterable[Step]) -> tuple[Row, ...]:
    return tuple(_row(step) for step in steps)


def _row(step: Step) -> Row:
    rule = step.rule
    cited = " · ".join(filter(None, (rule.clause, confidence(rule)))) if rule else ""
    return Row(
        part=step.part,
        sign=step.sign,
        says=step.says,
        value=NOT_KNOWN if step.value is None else shown(step.value, step.unit),
        in_signs=step.formula.in_signs if step.formula else "",
        in_figures=_in_figures(step.formula, step) if step.formula else "",
        note=step.note,
        source=cited,
    )


def _in_figures(formula: Formula, step: Step) -> str:
    figures = {name: shown(value, unit_of(name)) for name, value in step.values.items()}
    # A square is of the figure with its unit, not of the unit alone.
    squared = {
        name: f"({text})" for name, text in figures.items() if f"{{{name}}}²" in formula.written
    }
    return formula.filled(figures | squared)


def shown(value: float, unit: str) -> str:
    """Return a figure of a working with its unit, as the trade writes it."""
    if unit in _SHOWN_IN_THOUSANDTHS:
        return f"{number(value * 1000)}{NO_BREAK}{_SHOWN_IN_THOUSANDTHS[unit]}"
    if unit == "%":
        return f"{number(value * 100)}%"
    return quantity(value, unit, 3 if unit else _PURE_DIGITS)
