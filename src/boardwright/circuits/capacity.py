"""What a cable may carry where it lies."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

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


_BURIED = "D"
_BUNCHED = "bunched"
_ON_A_SURFACE = frozenset({"C", "100", "102"})
_INSULATED = frozenset({"A", "100", "101", "102", "103"})
"""Methods whose figures are for a cable in or on thermal insulation."""


@dataclass(frozen=True, slots=True)
class Capacity:
    """Capacity by the method taken, and by the best one the table knows for this cable.

    The factors are for ambient temperature, grouping, thermal insulation, and a rewirable fuse.
    """

    method: str
    method_assumed: bool
    it_a: float
    best_method: str
    best_it_a: float
    rule: Rule
    ca_factor: float = 1.0
    cg_factor: float = 1.0
    ci_factor: float = 1.0
    cf_factor: float = 1.0

    @property
    def factor(self) -> float:
        """Product of all factors, Ca·Cg·Ci·Cf."""
        return self.ca_factor * self.cg_factor * self.ci_factor * self.cf_factor

    @property
    def iz_a(self) -> float:
        """Capacity as installed, Iz. [A]"""
        return self._installed_a(self.it_a)

    @property
    def best_iz_a(self) -> float:
        """Capacity if the cable lies in the best way the table knows. [A]"""
        return self._installed_a(self.best_it_a)

    def _installed_a(self, it_a: float) -> float:
        return installed_a(
            it_a,
            ca_factor=self.ca_factor,
            cg_factor=self.cg_factor,
            ci_factor=self.ci_factor,
            cf_factor=self.cf_factor,
        )


def installed_a(
    it_a: float,
    *,
    ca_factor: float = 1.0,
    cg_factor: float = 1.0,
    ci_factor: float = 1.0,
    cf_factor: float = 1.0,
) -> float:
    """Return the capacity as installed, Iz = It·Ca·Cg·Ci·Cf. [A]

    Examples
    --------
    >>> round(installed_a(it_a=27, ca_factor=0.94, cg_factor=0.8), 2)
    20.3
    """
    return it_a * (ca_factor * cg_factor * ci_factor * cf_factor)


def ca_factor(edition: Edition, ambient_c: float) -> float:
    """Return the factor for ambient temperature, 70 °C thermoplastic (Table 4B1)."""
    table = edition.table("ca")
    return figure(table, row_from(table, ambient_c), "factor")


def cg_factor(edition: Edition, circuits: int, grouping: str = _BUNCHED) -> float:
    """Return the factor for so many loaded circuits as they lie together (Table 4C1)."""
    table = edition.table("cg" if grouping == _BUNCHED else f"cg.{grouping}")
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
    table = edition.table(_TABLES[cable.type, circuit.phases])
    enclosed = _ENCLOSED.get((cable.type, circuit.phases))
    if cable.method == "B" and enclosed:
        table = edition.table(enclosed)
    bare = capacity_of(edition, table, cable, path=f"circuits.{circuit.id}.cable")
    rewirable = circuit.wanted.standard == "BS 3036"
    return replace(
        bare,
        ca_factor=surroundings_factor(edition, cable, bare.method),
        cg_factor=cg_factor(edition, cable.grouped_with + 1, _lying(cable, bare.method)),
        ci_factor=insulation_factor(edition, cable, bare.method),
        cf_factor=edition.number("factor.bs3036") if rewirable else 1.0,
    )


def surroundings_factor(edition: Edition, cable: Cable, method: str) -> float:
    """Return Ca: for the air around a cable, or the ground around a buried one (Table 4B2)."""
    if method != _BURIED:
        return ca_factor(edition, cable.ambient_c)
    # The survey's 30 °C is that of air; a temperature somebody gave is that of the ground.
    if "ambient_c" not in cable.model_fields_set:
        return 1.0
    table = edition.table("ca_ground")
    return figure(table, row_from(table, cable.ambient_c), "factor")


def _lying(cable: Cable, method: str) -> str:
    """Return how a cable lies among others: a single layer is one only on a surface."""
    return cable.grouping if method in _ON_A_SURFACE else _BUNCHED


def insulation_factor(edition: Edition, cable: Cable, method: str) -> float:
    """Return Ci for a stretch inside thermal insulation, 1 where the method holds it already."""
    if cable.insulated_mm is None or method in _INSULATED:
        return 1.0
    return ci_factor(edition, cable.insulated_mm)


def capacity_of(edition: Edition, table: Table, cable: Cable, *, path: str) -> Capacity:
    """Return the capacity of a cable by one table, before any factor.

    Raises
    ------
    FieldError
        The conductor is smaller than the table begins, or the method is none of its columns.
    """
    row = row_up_to(table, cable.line_mm2)
    if float(row) > cable.line_mm2:
        raise FieldError(f"{path}.line_mm2", cable.line_mm2, f"{row} mm2 or more ({table.clause})")
    cells = table.rows[row]
    # Only a route that was not seen asks for the other methods' figures.
    method: str = cable.method or min(cells, key=cells.__getitem__)
    if method not in cells:
        raise FieldError(f"{path}.method", method, f"one of {', '.join(cells)} ({table.clause})")
    best: str = cable.method or max(cells, key=cells.__getitem__)
    return Capacity(
        method=method,
        method_assumed=cable.method is None,
        it_a=cells[method],
        best_method=best,
        best_it_a=cells[best],
        rule=edition.cell_rule(table.key, row, method),
    )


def capacity_table(edition: Edition, cable_type: str, phases: int) -> Table:
    """Return the table of a kind of cable, for one or three loaded phases."""
    return edition.table(_TABLES[cable_type, phases])
