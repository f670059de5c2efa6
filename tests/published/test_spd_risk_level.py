"""The risk-level examples of the annex to IEC 60364-4-44, 443.5 (inputs and answers from memory).

The formula and the weights of the low-voltage lines: a network operator's published questions
and answers on the calculated risk level.
"""

import pytest

from boardwright.core.errors import FieldError
from boardwright.spd.need import surge_need
from boardwright.spd.results import Need
from boardwright.spd.risk import LineLengths, LineWeights, risk_level, weighted_length_m
from boardwright.standards.load import load_edition
from tests.spd.samples import home

EDITIONS = ("bs7671_2018_a2_a3", "bs7671_2018_a4")
LINES = ("lv_overhead_m", "lv_underground_m", "hv_overhead_m", "hv_underground_m")


@pytest.mark.parametrize(
    ("lengths_m", "ng_per_km2_year", "crl", "printed"),
    [
        ((400, 0, 600, 0), 1.0, 81.73, "81.7"),
        ((0, 0, 1000, 0), 0.4, 531.25, "531"),
    ],
)
def test_two_examples_of_the_annex(
    lengths_m: tuple[float, ...], ng_per_km2_year: float, crl: float, printed: str
) -> None:
    job = home(ng_per_km2_year=ng_per_km2_year, **dict(zip(LINES, lengths_m, strict=True)))

    need = surge_need(job, load_edition("bs7671_2018_a4"))

    assert need.crl == pytest.approx(crl, abs=0.005)
    assert f"{need.crl:.3g}" == printed


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("ng_per_km2_year", [0.01, 1.0, 50.0])
def test_since_a2_the_level_decides_nothing(edition: str, ng_per_km2_year: float) -> None:
    """Trade body's article on A2:2022: the method was removed; fit unless the owner declines."""
    job = home(ng_per_km2_year=ng_per_km2_year, **dict.fromkeys(LINES, 250))

    need = surge_need(job, load_edition(edition))

    assert need.need is Need.FIT
    assert "does not decide by it" in need.crl_note


def test_exactly_the_limit_is_not_below_it() -> None:
    """From memory: CRL of 1000 or more asks for nothing. 85 / (0.17 km x 0.5) = 1000."""
    lengths_m = {"lv_overhead_m": 85, "lv_underground_m": 0}
    job = home(ng_per_km2_year=0.5, hv_overhead_m=0, hv_underground_m=0, **lengths_m)

    need = surge_need(job, load_edition("bs7671_2018_a4"))

    assert need.crl == pytest.approx(1000)
    assert "not below 1000" in need.crl_note


def test_over_a_kilometre_of_lines_is_refused() -> None:
    weights = LineWeights(2, 1, 0.4, 0.2)

    assert weighted_length_m(LineLengths(250, 250, 250, 250), weights, 1000) == 900
    with pytest.raises(FieldError, match="at most 1000 m"):
        weighted_length_m(LineLengths(251, 250, 250, 250), weights, 1000)


@pytest.mark.parametrize("ng_per_km2_year", [0, -1])
def test_a_flash_density_of_nothing_is_refused(ng_per_km2_year: float) -> None:
    with pytest.raises(FieldError, match="above 0"):
        risk_level(85, 1000, ng_per_km2_year)


def test_no_line_at_all_is_unknown_not_infinite() -> None:
    assert risk_level(85, 0, 1) is None


def test_an_unknown_line_is_told_at_its_worst() -> None:
    """The rest of the kilometre as overhead line: 85 / ((2 x 0.9 + 0.1) km x 1) = 44.7."""
    need = surge_need(home(ng_per_km2_year=1, lv_underground_m=100), load_edition("bs7671_2018_a4"))

    assert need.crl is None
    assert "44.7" in need.crl_note
