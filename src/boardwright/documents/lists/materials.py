"""What must be on the van, with the sum of the prices that are known."""

from __future__ import annotations

from boardwright.design import Design
from boardwright.documents.words.figures import fixed, number
from boardwright.documents.words.plain import Column, heading, paragraph, table
from boardwright.wiring.results import Material

TITLE = "Materials"
FILE = "materials.txt"

_COLUMNS = (
    Column("Count", figures=True),
    Column("Unit", widest=8),
    Column("What", widest=52),
    Column("Maker", widest=14),
    Column("Price", "£", figures=True),
)


def build(design: Design) -> str:
    """Return the list of materials with its sum."""
    materials = design.chosen.wiring.materials
    rows = [_row(material) for material in materials]
    unpriced = sum(material.price_gbp == 0 for material in materials)
    total = f"Together £{fixed(total_gbp(materials), 2)}"
    total += f"; {unpriced} without a price are not in the sum." if unpriced else "."
    head = heading(f"{TITLE}: {design.job.title}")
    return f"{head}\n{table(_COLUMNS, rows)}\n{paragraph(total)}\n"


def total_gbp(materials: tuple[Material, ...]) -> float:
    """Return the sum of the prices, each being for its whole line. [£]"""
    return sum(material.price_gbp for material in materials)


def _row(material: Material) -> list[str]:
    price = fixed(material.price_gbp, 2) if material.price_gbp else ""
    return [number(material.count), material.unit, material.what, material.maker, price]
