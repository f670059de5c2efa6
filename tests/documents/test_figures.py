"""How figures are written: the look's rules (units, signs, digits) on figures from the trade."""

import pytest

from boardwright.core.findings import Finding, Known, Rule, Sense, Verdict
from boardwright.documents.words.figures import (
    change,
    confidence,
    fixed,
    in_words,
    number,
    quantity,
    sentence,
    source,
    value_and_limit,
    verdict_word,
    volts_between,
)

RULE = Rule("411.4.4", "BS 7671", Known.FOUND)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.24, "0.24"),
        (0.2400001, "0.24"),
        (1666.67, "1,667"),
        (1310.0, "1,310"),
        (-5.0, "−5"),
        (2.5, "2.5"),
        (0.0, "0"),
        (1.365, "1.37"),
        (99.96, "100"),
    ],
)
def test_a_number_keeps_its_digits_and_no_more(value: float, text: str) -> None:
    assert number(value) == text


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (0.03, "A", "30 mA"),
        (0.3, "A", "300 mA"),
        (0.87, "A", "0.87 A"),
        (16000, "A", "16 kA"),
        (1500, "V", "1.5 kV"),
        (230, "V", "230 V"),
        (0.24, "ohm", "0.24 Ω"),
        (1667, "ohm", "1,667 Ω"),
        (2.5, "mm2", "2.5 mm²"),
        (0.4, "s", "0.4 s"),
        (30, "%", "30%"),
        (3, "", "3"),
    ],
)
def test_a_quantity_has_the_trades_prefix(value: float, unit: str, text: str) -> None:
    assert quantity(value, unit).replace("\u00a0", " ") == text


def test_a_column_shares_its_decimals() -> None:
    assert [fixed(value, 2) for value in (1.0, 0.125, 1234.5, -0.5, None)] == [
        "1.00",
        "0.13",
        "1,234.50",
        "−0.50",
        "",
    ]


def test_a_range_has_an_en_dash_and_one_unit() -> None:
    assert volts_between(1050, 1300) == "1.05–1.30\u00a0kV"
    assert volts_between(500, 900) == "500–900\u00a0V"
    assert volts_between(1500, 1500) == "1.5\u00a0kV"


def test_a_change_shows_its_sign() -> None:
    assert [change(v, "V") for v in (180, -120, 0)] == ["+180\u00a0V", "−120\u00a0V", "0\u00a0V"]


def test_a_sentence_holds_figure_and_unit_together() -> None:
    assert sentence("up 1500 V at 0.5 m, way 12") == "Up 1,500\u00a0V at 0.5\u00a0m, way 12."
    assert sentence("In 2026 it is 16 mm²") == "In 2026 it is 16\u00a0mm²."
    assert sentence("") == ""


def test_counts_are_said_aloud() -> None:
    assert [in_words(n, "thing") for n in (0, 1, 2, 12, 1300)] == [
        "no things",
        "one thing",
        "two things",
        "twelve things",
        "1,300 things",
    ]


def test_value_and_limit_name_the_side() -> None:
    finding = Finding("a", Verdict.FAIL, "b", "c", RULE, value=32, limit=25, unit="A")
    ahead = Finding("a", Verdict.PASS, "b", "c", RULE, limit=16000, unit="A", sense=Sense.AT_LEAST)

    assert value_and_limit(finding) == "32\u00a0A, at most 25\u00a0A"
    assert value_and_limit(ahead) == "at least 16\u00a0kA"


def test_every_verdict_has_a_word_of_its_own() -> None:
    assert len({verdict_word(verdict) for verdict in Verdict}) == len(Verdict)


def test_a_doubtful_figure_says_so() -> None:
    memory = Rule("543.1.3", "BS 7671", Known.MEMORY, carried=True)
    own = Rule("543.1.3", "BS 7671", Known.CONFIRMED, note="read by AB")

    assert confidence(memory) == "from memory, carried from the edition before"
    assert confidence(own) == "your copy, read by AB"
    assert source(RULE) == "411.4.4 · BS 7671"
