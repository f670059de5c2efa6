"""A number that was typed as people write it: what it was meant to be."""

import pytest

from boardwright.job.mend import remedy

NUMBER = {"type": "number", "minimum": 0, "maximum": 9}


@pytest.mark.parametrize(
    ("typed", "key", "said"),
    [
        ("0,35", "ze_ohm", "Write 0.35 with a point."),
        ("0,35 Ω", "ze_ohm", "Write 0.35 without a unit."),
        ("350 mΩ", "ze_ohm", "Write 0.35 without a unit."),
        ("30 mA", "idn_a", "Write 0.03 without a unit."),
        ("30mA", "idn_a", "Write 0.03 without a unit."),
        ("1.2kA", "ipf_a", "Write 1200 without a unit."),
        ("9,5 kW", "power_w", "Write 9500 without a unit."),
        ("200 MΩ", "insulation_mohm", "Write 200 without a unit."),
        ("10mm²", "line_mm2", "Write 10 without a unit."),
        ("80 cm", "length_m", "Write 0.8 without a unit."),
        ("80 cm", "reach_mm", "Write 800 without a unit."),
        # A unit of something else, or no unit at all, is not guessed at.
        ("16 A", "line_mm2", ""),
        ("16 mm", "line_mm2", ""),
        ("1O", "line_mm2", ""),
        ("about 3", "length_m", ""),
        # Three figures after a comma: a small number or a thousand, which only the writer knows.
        ("1,200", "ipf_a", "Write 1.200 or 1200, whichever it is, without a comma."),
    ],
)
def test_a_number_is_mended_as_it_was_meant(typed: str, key: str, said: str) -> None:
    assert remedy(typed, key, NUMBER) == said


@pytest.mark.parametrize(
    ("value", "schema", "said"),
    [
        (True, {"enum": ["yes", "no"]}, "Write yes."),
        (False, {"enum": ["yes", "no"]}, "Write no."),
        (True, NUMBER, ""),
        ("3", {"enum": [1, 3]}, "Take its quotes away."),
        ("Shower", {"enum": ["sockets", "shower"]}, "Did you mean 'shower'?"),
        ("tea", {"enum": ["sockets", "shower"]}, ""),
        (7, {"type": "string", "maxLength": 80}, 'Put it in quotes: "7".'),
        (20261125, {"type": "string", "format": "date"}, ""),
        ([], NUMBER, ""),
    ],
)
def test_another_value_is_mended_where_its_form_shows_what_was_meant(
    value: object, schema: dict[str, object], said: str
) -> None:
    assert remedy(value, "x", schema) == said
