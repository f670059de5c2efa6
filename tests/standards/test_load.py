"""Editions: loaded, carried, confirmed by the user, and hashed."""

from pathlib import Path

import pytest

from boardwright.core.errors import FieldError, FileError
from boardwright.core.findings import Known
from boardwright.standards.edition import Entry, MissingRuleError, Table
from boardwright.standards.load import editions, load_edition

GOOD = """
[[confirmed]]
key = "spd.leads_max_m"
value = 0.9
copy = "own printed copy"
initials = "QS"
date = 2026-11-20
"""


def _file(folder: Path, text: str) -> Path:
    path = folder / "confirmed.toml"
    path.write_text(text)
    return path


def test_the_editions_exist_and_load() -> None:
    assert editions() == ("bs7671_2018_a2_a3", "bs7671_2018_a4", "iec60364")
    assert load_edition("bs7671_2018_a4").title == "BS 7671:2018+A4:2026"


def test_an_unknown_edition_is_named_with_those_that_exist() -> None:
    with pytest.raises(FieldError, match=r"edition: found 'bs9999'.*bs7671_2018_a2_a3"):
        load_edition("bs9999")


def test_a_figure_not_seen_in_a4_is_carried_and_says_so() -> None:
    before, now = load_edition("bs7671_2018_a2_a3"), load_edition("bs7671_2018_a4")

    assert not before.rule("spd.leads_max_m").carried
    assert now.rule("spd.leads_max_m").carried
    assert now.rule("bonding_pme").carried
    assert now.number("spd.leads_max_m") == before.number("spd.leads_max_m")


def test_what_was_seen_about_a4_is_not_carried() -> None:
    assert not load_edition("bs7671_2018_a4").rule("assembly.overload").carried


def test_every_figure_says_where_it_comes_from() -> None:
    for name in editions():
        edition = load_edition(name)
        told: list[Entry | Table] = [*edition.entries.values(), *edition.tables.values()]
        for item in told:
            assert item.clause, item.key
            assert item.source, item.key
            assert "http" not in item.source, item.key


def test_a_missing_key_is_named() -> None:
    with pytest.raises(MissingRuleError, match=r"no\.such\.key"):
        load_edition("bs7671_2018_a4").number("no.such.key")


def test_a_confirmation_replaces_the_value_and_prints_its_note(tmp_path: Path) -> None:
    edition = load_edition("bs7671_2018_a4", _file(tmp_path, GOOD))

    assert edition.number("spd.leads_max_m") == 0.9
    rule = edition.rule("spd.leads_max_m")
    assert rule.known is Known.CONFIRMED
    assert not rule.carried
    assert rule.note == "replaces 1.0; own printed copy, QS, 2026-11-20"


def test_a_cell_of_a_table_can_be_confirmed(tmp_path: Path) -> None:
    text = GOOD.replace('"spd.leads_max_m"', '"bonding_pme"\nrow = "35"\ncolumn = "mm2"')
    edition = load_edition("bs7671_2018_a4", _file(tmp_path, text.replace("0.9", "10")))

    rule = edition.cell_rule("bonding_pme", "35", "mm2")
    assert rule.known is Known.CONFIRMED
    assert rule.note.startswith("confirmed; own printed copy")
    assert edition.cell_rule("bonding_pme", "50", "mm2").carried


def test_a_confirmation_moves_the_digest_and_nothing_else_does(tmp_path: Path) -> None:
    plain = load_edition("bs7671_2018_a4")

    assert plain.digest == load_edition("bs7671_2018_a4").digest
    assert plain.digest != load_edition("bs7671_2018_a4", _file(tmp_path, GOOD)).digest
    assert plain.digest != load_edition("bs7671_2018_a2_a3").digest


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ('"spd.leads_max_m"', '"spd.leeds"', "key: found 'spd.leeds'"),
        (
            "value = 0.9",
            'value = "0,9"',
            "value of spd.leads_max_m: found '0,9', expected a number",
        ),
        ("value = 0.9", "", "value: found None"),
        ("value = 0.9", "valeu = 0.9", "valeu: found 0.9"),
        ('initials = "QS"', 'initials = ""', "initials: found ''"),
        ("date = 2026-11-20", 'date = "soon"', "date: found 'soon'"),
        ('"spd.leads_max_m"', '"bonding_pme"', "row and column of bonding_pme"),
        ("value = 0.9", "value = -0.9", "value of spd.leads_max_m: found -0.9, expected a number"),
        ("value = 0.9", "value = nan", "value of spd.leads_max_m: found nan, expected a number"),
        ("value = 0.9", "value = 0", "value of spd.leads_max_m: found 0, expected a number over 0"),
        ("value = 0.9", "value = 0.9\nrow = '1'", "row: found '1', expected none"),
        (
            '"spd.leads_max_m"',
            '"bonding_pme"\nrow = "36"\ncolumn = "mm2"',
            "row: found '36', expected one of 35, 50",
        ),
        (
            '"spd.leads_max_m"',
            '"bonding_pme"\nrow = "35"\ncolumn = "mm"',
            "column: found 'mm', expected one of mm2",
        ),
        ("[[confirmed]]", "[[konfirmed]]", "konfirmed"),
        ("[[confirmed]]", "[confirmed]", "a list of"),
    ],
)
def test_a_bad_confirmation_is_one_sentence(
    tmp_path: Path, old: str, new: str, message: str
) -> None:
    with pytest.raises(FieldError) as caught:
        load_edition("bs7671_2018_a4", _file(tmp_path, GOOD.replace(old, new)))

    assert message in str(caught.value)
    assert "confirmed.toml" in str(caught.value)


def test_a_figure_may_stand_in_the_file_only_once(tmp_path: Path) -> None:
    with pytest.raises(FieldError, match=r"number 2: key: found 'spd\.leads_max_m', expected each"):
        load_edition("bs7671_2018_a4", _file(tmp_path, GOOD + GOOD))


def test_a_file_that_is_no_toml_or_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"confirmed\.toml: is not TOML"):
        load_edition("bs7671_2018_a4", _file(tmp_path, "key = "))
    with pytest.raises(FileError, match=r"gone\.toml: cannot be read"):
        load_edition("bs7671_2018_a4", tmp_path / "gone.toml")


def test_what_comes_from_memory_says_so() -> None:
    """A figure whose only source is memory may not pass for one that was found."""
    for name in editions():
        edition = load_edition(name)
        told: list[Entry | Table] = [*edition.entries.values(), *edition.tables.values()]
        boasting = [
            item.key
            for item in told
            if "from memory" in item.source and item.known is not Known.MEMORY
        ]
        assert boasting == []
