"""Every conductor as a text table, in the order of work."""

from __future__ import annotations

from boardwright.design import Design
from boardwright.documents.words.conductor_words import (
    cut_words,
    end_words,
    function_words,
    in_order_of_work,
    origin_words,
    size_words,
    torque_words,
)
from boardwright.documents.words.plain import Column, heading, paragraph, table
from boardwright.wiring.results import Conductor, SpdLeads

TITLE = "Conductors"
FILE = "wiring.txt"

_COLUMNS = (
    Column("Step", figures=True),
    Column("From", widest=23),
    Column("To", widest=23),
    Column("Function", widest=8),
    Column("Size", "mm²", figures=True),
    Column("Cut", "mm", figures=True),
    Column("Torque", "N·m", widest=9, figures=True),
    Column("Note", widest=10),
)


def build(design: Design) -> str:
    """Return the conductor table with the SPD's leads below it."""
    wiring = design.chosen.wiring
    rows = [_row(conductor) for conductor in in_order_of_work(wiring.conductors)]
    leads = _leads(wiring.spd_leads) if wiring.spd_leads else ""
    return f"{heading(f'{TITLE}: {design.job.title}')}\n{table(_COLUMNS, rows)}{leads}"


def _row(conductor: Conductor) -> list[str]:
    return [
        str(conductor.step or ""),
        end_words(conductor.begin),
        end_words(conductor.end),
        function_words(conductor),
        size_words(conductor),
        cut_words(conductor),
        torque_words(conductor),
        _note(conductor),
    ]


def _note(conductor: Conductor) -> str:
    return {"fitted by the maker": "on device"}.get(
        origin_words(conductor), origin_words(conductor)
    )


def _leads(leads: SpdLeads) -> str:
    text = (
        f"SPD leads: line {leads.line_m:.2f} m, neutral {leads.neutral_m:.2f} m, "
        f"earth {leads.pe_m:.2f} m; the longer way to earth is {leads.total_m:.2f} m."
    )
    return f"\n{paragraph(text)}\n"
