"""What a person reads when a field cannot be used: place, field, what was found, what is right."""

import pytest

from boardwright.job.schema import job_schema
from boardwright.job.words import inside, nearest, wanted
from tests.job.homes import HOME, line, said, spoilt


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        (
            "ze_ohm: 0.21",
            "ze_ohm: 0,35",
            (
                "supply.ze_ohm: found '0,35', expected a number over 0 and at most 2000 (ohm)."
                " Write 0.35 with a point."
            ),
        ),
        (
            "ze_ohm: 0.21",
            "ze_ohm: 0.35 ohm",
            (
                "supply.ze_ohm: found '0.35 ohm', expected a number over 0 and at most 2000 (ohm)."
                " Write 0.35 without a unit."
            ),
        ),
        (
            "ze_ohm: 0.21",
            "ze: 0.21",
            "supply.ze: found 'ze', expected a key of this section. Did you mean 'ze_ohm'?",
        ),
        (
            "ze_ohm: 0.21",
            "ze_ohm: true",
            "supply.ze_ohm: found true, expected a number over 0 and at most 2000 (ohm).",
        ),
        (
            "ze_ohm: 0.21",
            "ze_ohm: .nan",
            "supply.ze_ohm: found '.nan', expected a number over 0 and at most 2000 (ohm).",
        ),
        (
            "system: TN-C-S",
            "system: TNCS",
            "supply.system: found 'TNCS', expected TN-S, TN-C-S or TT. Did you mean 'TN-C-S'?",
        ),
        (
            "system: TN-C-S",
            "system: IT",
            "supply.system: found 'IT', expected TN-S, TN-C-S or TT.",
        ),
        (
            "means_present: yes",
            "means_present: true",
            "earthing.means_present: found true, expected yes or no. Write yes.",
        ),
        (
            "ways: 6",
            "ways: 300",
            "existing_board.ways: found 300, expected a whole number from 1 to 60.",
        ),
        (
            "ways: 6",
            "ways: 6.5",
            "existing_board.ways: found 6.5, expected a whole number from 1 to 60.",
        ),
        (
            "length_m: 14",
            "length_m: -14",
            (
                "circuits.shower.cable.length_m: found -14, expected a number over 0 and at most"
                " 500 (m)."
            ),
        ),
        (
            "designed_on: 2026-11-25",
            "designed_on: 25.11.2026",
            (
                "designed_on: found '25.11.2026', expected a date written year-month-day,"
                " as 2026-11-25."
            ),
        ),
        (
            "designed_on: 2026-11-25",
            "designed_on: 2026-02-30",
            (
                "designed_on: found '2026-02-30', expected a date written year-month-day,"
                " as 2026-11-25."
            ),
        ),
        (
            "designed_on: 2026-11-25",
            "designed_on: 20261125",
            "designed_on: found 20261125, expected a date written year-month-day, as 2026-11-25.",
        ),
        (
            "id: home",
            "id: My Home",
            (
                "id: found 'My Home', expected an id of at most 40 small letters, figures, - and _,"
                " as ring-1."
            ),
        ),
        (
            '"Number 7"  #',
            "7  #",
            'title: found 7, expected a text of 1 to 80 characters. Put it in quotes: "7".',
        ),
        (
            "{kind: house}",
            "[house]",
            (
                "premises: found a list of 1, expected a section with the keys kind, country,"
                " building_class, occupier, board_place, board_on_combustible_wall,"
                " board_in_sole_escape_route."
            ),
        ),
        (
            "[circuits.ring.cable.length_m]",
            "all",
            (
                "assumed: found 'all', expected a list, in brackets or with a line"
                " and a - for each item."
            ),
        ),
        (
            "way: 4",
            "way: fourth",
            "circuits.shower.way: found 'fourth', expected a whole number from 1.",
        ),
    ],
)
def test_a_wrong_value_is_named_in_plain_words(old: str, new: str, sentence: str) -> None:
    text = spoilt(old, new)

    assert said(text) == f"home.yaml, line {line(text, new)}: {sentence}"


def test_a_missing_section_says_where_to_see_one() -> None:
    text = HOME.replace("supply:\n  system: TN-C-S\n  ze_ohm: 0.21\n", "")

    assert said(text) == (
        "home.yaml, line 2: supply: found nothing, expected the section 'supply'."
        " `boardwright new` shows how."
    )


def test_a_misspelt_section_is_told_once() -> None:
    assert said(spoilt("\nsupply:", "\nsuply:")) == (
        "home.yaml, line 7: suply: found 'suply', expected a key of this section."
        " Did you mean 'supply'?"
    )


def test_a_missing_field_is_named_at_the_section_that_lacks_it() -> None:
    text = spoilt("      line_mm2: 10\n", "")

    assert said(text) == (
        f"home.yaml, line {line(text, 'cable:' + chr(10))}: circuits.shower.cable.line_mm2: found"
        " nothing, expected a number over 0 and at most 95 (mm²). Add 'line_mm2'."
    )


def test_a_comma_inside_braces_is_understood() -> None:
    sentences = said(spoilt("position_m: 20}", "position_m: 20,5}"))

    assert "circuits.ring.appliances.tv.5: found '5'" in sentences
    assert "write the number with a point" in sentences


def test_no_circuit_and_too_many_circuits_are_one_sentence() -> None:
    none = HOME[: HOME.index("circuits:\n")] + "circuits: []\n"
    many = HOME[: HOME.index("existing_board:")] + "circuits:\n"
    many += "".join(
        f"  - {{id: c{n}, name: C, serves: sockets,"
        " cable: {line_mm2: 2.5, cpc_mm2: 1.5, length_m: 5}}\n"
        for n in range(61)
    )

    assert "circuits: found a list of 0, expected a list of 1 to 60 items." in said(none)
    assert "circuits: found a list of 61, expected a list of 1 to 60 items." in said(many)


def test_a_wrong_circuit_is_not_counted_as_missing_too() -> None:
    alone = HOME[: HOME.index("existing_board:")] + (
        "circuits:\n  - {id: a, name: A, serves: tea,"
        " cable: {line_mm2: 1, cpc_mm2: 1, length_m: 1}}\n"
    )

    assert said(alone).count("found") == 1


def test_items_without_a_name_go_by_their_number() -> None:
    text = spoilt("- id: shower\n    name", "- name")

    assert "circuits.#2.id: found nothing" in said(text)


@pytest.mark.parametrize("word", ["pydantic", "Input should", "Field required", "valid", "type="])
def test_nothing_of_the_library_shows_through(word: str) -> None:
    text = HOME
    for old, new in (("0.21", "x"), ("TN-C-S", "1"), ("10\n", "[]\n"), ("{kind: house}", "3")):
        text = text.replace(old, new)

    assert len(said(text).splitlines()) == 4
    assert word not in said(text)


def test_the_nearest_word_is_offered_or_all_of_them() -> None:
    assert nearest("lenght_m", ["length_m", "method"]) == "Did you mean 'length_m'?"
    assert nearest("zzz", ["b", "a"]) == "There are: a, b."
    assert nearest("zzz", []) == ""


def test_every_field_of_a_job_says_what_it_wants() -> None:
    schema = job_schema()
    for part in (schema, *schema["$defs"].values()):
        for key in part["properties"]:
            there = inside(part, (key,), schema)
            assert there is not None
            assert wanted(there, key)
