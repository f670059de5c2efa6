"""Current-carrying capacities as printed elsewhere.

Table 4D5: a personal reference page and trade threads; multicore: SANS 10142-1:2019 Table 6.3(a),
p. 99, a public study note; factors: a study document of the wiring regulations.
"""

import pytest

from boardwright.circuits.capacity import ca_factor, cg_factor
from tests.circuits.build import EDITION, only, raw_circuit

SIZES = ("1", "1.5", "2.5", "4", "6", "10", "16")


@pytest.mark.parametrize(
    ("row", "column", "printed"),
    [
        ("1", "100", 13),
        ("1", "101", 10.5),
        ("1", "102", 13),
        ("1", "103", 8),
        ("1", "C", 16),
        ("1", "A", 11.5),
        ("1.5", "100", 16),
        ("1.5", "103", 10),
        ("1.5", "C", 20),
        ("2.5", "C", 27),
        ("4", "100", 27),
        ("6", "C", 47),
        ("6", "A", 32),
        ("10", "100", 45),
        ("10", "103", 32),
        ("16", "100", 57),
    ],
)
def test_flat_twin_and_earth(row: str, column: str, printed: float) -> None:
    """Only cells that were seen; the edition marks the others as from memory."""
    assert EDITION.table("capacity.flat twin and earth.1").cell(row, column) == printed


@pytest.mark.parametrize(
    ("phases", "column", "sizes", "printed"),
    [
        (1, "A", SIZES, (11, 14, 18.5, 25, 32, 43, 57)),
        (1, "B", SIZES, (13, 16.5, 23, 30, 38, 52, 69)),
        (1, "C", SIZES, (15, 19.5, 27, 36, 46, 63, 85)),
        (3, "A", SIZES[1:], (13, 17.5, 23, 29, 39, 52)),
        (3, "B", SIZES[1:], (15, 20, 27, 34, 46, 62)),
        (3, "C", SIZES[1:], (17.5, 24, 32, 41, 57, 76)),
    ],
)
def test_multicore(
    phases: int, column: str, sizes: tuple[str, ...], printed: tuple[float, ...]
) -> None:
    table = EDITION.table(f"capacity.multicore.{phases}")

    assert tuple(table.cell(row, column) for row in sizes) == printed


@pytest.mark.parametrize(
    ("ambient_c", "printed"),
    [(25, 1.03), (30, 1.00), (35, 0.94), (40, 0.87), (45, 0.79), (50, 0.71), (55, 0.61)],
)
def test_factor_for_ambient(ambient_c: float, printed: float) -> None:
    """BS prints 1.03 at 25 °C where the formula gives 1.06: the table counts."""
    assert ca_factor(EDITION, ambient_c) == printed


@pytest.mark.parametrize(
    ("circuits", "printed"),
    [(1, 1.0), (2, 0.8), (3, 0.7), (4, 0.65), (5, 0.6), (6, 0.57), (7, 0.54), (8, 0.52), (9, 0.5)],
)
def test_factor_for_grouping(circuits: int, printed: float) -> None:
    assert cg_factor(EDITION, circuits) == printed


@pytest.mark.parametrize(
    ("circuits", "printed"),
    [(2, 0.85), (3, 0.79), (4, 0.75), (5, 0.73), (6, 0.72), (7, 0.72), (8, 0.71), (9, 0.70)],
)
def test_factor_for_a_single_layer_touching(circuits: int, printed: float) -> None:
    assert cg_factor(EDITION, circuits, "single layer, touching") == printed


@pytest.mark.parametrize(("circuits", "printed"), [(1, 1.0), (2, 0.94), (3, 0.90), (9, 0.90)])
def test_factor_for_a_single_layer_spaced(circuits: int, printed: float) -> None:
    assert cg_factor(EDITION, circuits, "single layer, spaced") == printed


@pytest.mark.parametrize(("method", "factor"), [("C", 0.85), ("B", 0.80)])
def test_a_layer_is_one_only_on_a_surface(method: str, factor: float) -> None:
    cable = {
        "type": "singles",
        "line_mm2": 2.5,
        "cpc_mm2": 2.5,
        "length_m": 10,
        "method": method,
        "grouped_with": 1,
        "grouping": "single layer, touching",
    }

    assert only(raw_circuit("fixed appliance", cable=cable)).cg_factor == factor
