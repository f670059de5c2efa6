"""Appliance types: what an electrician need not be asked."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from boardwright.catalogue.devices import Part


class ApplianceType(Part):
    """A kind of appliance: its leakage, impulse category and what it asks of an RCD.

    ``rcd_type`` is the least type its residual current asks for; ``capacitance_f`` and
    ``resistance_ohm`` stand for its input filter in the surge study.
    """

    id: str
    name: str
    leakage_a: float = Field(ge=0)
    impulse_category: Literal["I", "II", "III", "IV"] = "II"
    rcd_type: Literal["AC", "A", "F", "B"] = "A"
    capacitance_f: float = Field(default=10e-9, ge=0)
    resistance_ohm: float = Field(default=1000.0, gt=0)
    source: str
    known: Literal["found", "memory", "derived"] = "memory"
