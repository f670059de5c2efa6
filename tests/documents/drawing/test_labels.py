"""Names under the ways: whatever a person types, no line runs into its neighbour."""

import pytest

from boardwright.documents.drawing.labels import broken
from tests.documents.drawing.measure import true_width_mm

MODULE_MM = 17.8
SIZE_MM = 4.5
ROUGH = 1.06
"""The letters' widths are read off in three classes; the true line may be so much wider."""


@pytest.mark.parametrize(
    "name",
    [
        "Sockets of the conservatory and the utility room",
        "Wallboxladestation Doppelgarage",
        "Outbuildings, workshop and greenhouse",
        "Underfloor heating",
        "Dishwasher",
        "WWWWWWWWWWWWWWWWWWWWWWWW",
        "Lights",
        "",
    ],
)
def test_a_name_takes_two_lines_that_fit(name: str) -> None:
    lines = broken(name, MODULE_MM - 0.6, SIZE_MM)

    assert len(lines) <= 2
    # Against the font's own metrics, by fonttools.
    assert all(true_width_mm(line, SIZE_MM) <= ROUGH * MODULE_MM for line in lines)
    assert all(not line.endswith(",") for line in lines)
    assert all(lines) or not name


def test_a_word_too_long_is_divided_and_then_cut_with_a_sign() -> None:
    assert broken("Dishwasher", MODULE_MM - 0.6, SIZE_MM) == ("Dishw-", "asher")
    assert broken("Wallboxladestation", MODULE_MM - 0.6, SIZE_MM)[1].endswith("…")
