"""Cable inside thermal insulation and in the ground: Tables 52.2 and 4B2.

From memory, but for 0.50 from half a metre on, which an insulation note prints (523.9).
"""

import pytest

from tests.circuits.build import only, raw_circuit


def _iz_a(**cable: object) -> float:
    plain = {"line_mm2": 2.5, "cpc_mm2": 1.5, "length_m": 10, "method": "C"}
    return only(raw_circuit("fixed appliance", cable={**plain, **cable})).iz_a


@pytest.mark.parametrize(
    ("insulated_mm", "factor"),
    [(0, 1), (50, 0.88), (100, 0.78), (200, 0.63), (400, 0.51), (500, 0.50), (3000, 0.50)],
)
def test_a_length_inside_insulation(insulated_mm: float, factor: float) -> None:
    """Clipped 2.5 mm² carries 27 A (Table 4D5): 13.5 A wholly buried, as method 103 has it."""
    assert _iz_a(insulated_mm=insulated_mm) == pytest.approx(27 * factor)


def test_a_length_between_two_rows_takes_the_lower_factor() -> None:
    assert _iz_a(insulated_mm=60) == pytest.approx(27 * 0.78)


@pytest.mark.parametrize("method", ["100", "101", "102", "103", "A"])
def test_a_method_in_insulation_holds_the_factor_already(method: str) -> None:
    """On-Site Guide practice, from memory: never both for one stretch."""
    assert _iz_a(method=method, insulated_mm=500) == _iz_a(method=method)


@pytest.mark.parametrize(
    ("ground_c", "factor"), [(None, 1.0), (10, 1.1), (20, 1.0), (25, 0.95), (30, 0.89)]
)
def test_buried_cable_goes_by_the_ground(ground_c: float | None, factor: float) -> None:
    """The survey's usual 30 °C is that of air: left out, the ground is at the table's 20 °C."""
    ambient = {} if ground_c is None else {"ambient_c": ground_c}

    assert _iz_a(type="swa 70", method="D", **ambient) == pytest.approx(29 * factor)


def test_every_factor_counts_and_is_told_apart() -> None:
    """40 °C, three circuits together, 100 mm of insulation, rewirable fuse."""
    circuit = raw_circuit(
        "cooker",
        wanted={"in_a": 15, "standard": "BS 3036"},
        cable={
            "line_mm2": 6,
            "cpc_mm2": 2.5,
            "length_m": 10,
            "method": "C",
            "ambient_c": 40,
            "grouped_with": 2,
            "insulated_mm": 100,
        },
    )
    result = only(circuit, wishes={"board": "keep"}, existing_board={"ways": 6})
    factors = (result.ca_factor, result.cg_factor, result.ci_factor, result.cf_factor)

    assert factors == (0.87, 0.7, 0.78, 0.725)
    assert result.iz_a == pytest.approx(47 * 0.87 * 0.7 * 0.78 * 0.725)
    assert result.it_needed_a == pytest.approx(15 / (0.87 * 0.7 * 0.78 * 0.725))
