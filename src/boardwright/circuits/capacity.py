"""What a cable may carry where it lies."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from boardwright.circuits.lookup import figure, row_from, row_up_to
from boardwright.core.errors import FieldError
from boardwright.core.findings import Rule
from boardwright.job.circuit import Cable, Circuit
from boardwright.standards.edition import Edition, Table

# Which columns hold for a cable on one and on three phases. Cable for 90 °C ends in terminals for
# 70 °C, so it is rated at 70 °C (512.1.5). A cable not known is taken as the poorest of its kind.
_TABLES: Mapping[tuple[str, int], str] = {
    ("flat twin and earth", 1): "capacity.flat twin and earth.1",
    ("flat twin and earth", 3): "capacity.multicore.3",
    ("singles", 1): "capacity.singles.1",
    ("singles", 3): "capacity.singles.3",
    ("swa 70", 1): "capacity.swa 70.1",
    ("swa 70", 3): "capacity.swa 70.3",
    ("swa 90", 1): "capacity.swa 70.1",
    ("swa 90", 3): "capacity.swa 70.3",
    ("unknown", 1): "capacity.flat twin and earth.1",
    ("unknown", 3): "capacity.multicore.3",
    ("tails in conduit", 1): "capacity.singles.1",
    ("tails in conduit", 3): "capacity.singles.3",
}


# Flat cable has a table of its own for where it is clipped or buried in insulation; enclosed in
# conduit or trunking it is a multicore cable like others.
_ENCLOSED: Mapping[tuple[str, int], str] = {
    ("flat twin and earth", 1): "capacity.multicore.1",
    ("unknown", 1): "capacity.multicore.1",
}


@dataclass(frozen=True, slots=True)
class Capacity:
    """Capacity by the method taken, and by the best one the table knows for this cable.

    ``factor`` is the product of Ca, Cg and, behind a rewirable fuse, its own factor.
    """

    method: str
    method_assumed: bool
    it_a: float
    factor: float
    best_method: str
    best_it_a: float
    rule: Rule

    @property
    def iz_a(self) -> float:
        """Capacity as installed, Iz. [A]"""
        return self.it_a * self.factor

    @property
    def best_iz_a(self) -> float:
        """Capacity if the cable lies in the best way the table knows. [A]"""
        return self.best_it_a * self.factor


def ca_factor(edition: Edition, ambient_c: float) -> float:
    """Return the factor for ambient temperature, 70 °C thermoplastic (Table 4B1)."""
    table = edition.table("ca")
    return figure(table, row_from(table, ambient_c), "factor")


def cg_factor(edition: Edition, circuits: int) -> float:
    """Return the factor for so many loaded circuits bunched or enclosed (Table 4C1)."""
    table = edition.table("cg")
    return figure(table, row_from(table, circuits), "factor")


def ci_factor(edition: Edition, insulated_mm: float) -> float:
    """Return the factor for a length inside thermal insulation (Table 52.2).

    Not to be used together with methods 100 to 103, which hold the insulation already.
    """
    if insulated_mm <= 0:
        return 1.0
    table = edition.table("ci")
    return figure(table, row_from(table, insulated_mm), "factor")


def required_it_a(in_a: float, factor: float) -> float:
    """Return the tabulated capacity a cable needs behind a device: It ≥ In/(Ca·Cg·Ci·Cf). [A]

    References
    ----------
    BS 7671 Appendix 4, section 5.1.

    Examples
    --------
    >>> round(required_it_a(in_a=30, factor=0.725), 1)
    41.4
    """
    return in_a / factor


def cable_capacity(circuit: Circuit, edition: Edition) -> Capacity:
    """Return what a circuit's cable may carry; a route not known takes the worst plausible.

    Raises
    ------
    FieldError
        The method is none that the cable's table has.
    """
    cable = circuit.cable
    factor = ca_factor(edition, cable.ambient_c) * cg_factor(edition, cable.grouped_with + 1)
    if circuit.wanted.standard == "BS 3036":
        factor *= edition.number("factor.bs3036")
    table = edition.table(_TABLES[cable.type, circuit.phases])
    enclosed = _ENCLOSED.get((cable.type, circuit.phases))
    if cable.method == "B" and enclosed:
        table = edition.table(enclosed)
    return capacity_of(edition, table, cable, factor=factor, path=f"circuits.{circuit.id}.cable")


def capacity_of(
    edition: Edition, table: Table, cable: Cable, *, factor: float, path: str
) -> Capacity:
    """Return the capacity of a cable by one table.

    Raises
    ------
    FieldError
        The conductor is smaller than the table begins, or the method is none of its columns.
    """
    row = row_up_to(table, cable.line_mm2)
    if float(row) > cable.line_mm2:
        raise FieldError(f"{path}.line_mm2", cable.line_mm2, f"{row} mm2 or more ({table.clause})")
    cells = table.rows[row]
    worst, best = min(cells, key=cells.__getitem__), max(cells, key=cells.__getitem__)
    method = cable.method or worst
    if method not in cells:
        raise FieldError(f"{path}.method", method, f"one of {', '.join(cells)} ({table.clause})")
    return Capacity(
        method=method,
        method_assumed=cable.method is None,
        it_a=cells[method],
        factor=factor,
        best_method=method if cable.method else best,
        best_it_a=cells[method if cable.method else best],
        rule=edition.cell_rule(table.key, row, method),
    )


def capacity_table(edition: Edition, cable_type: str, phases: int) -> Table:
    """Return the table of a kind of cable, for one or three loaded phases."""
    return edition.table(_TABLES[cable_type, phases])
