"""Pages on editions: what is shown, what differs, and the same home under two of them."""

import json
from functools import cache
from pathlib import Path

import pytest
from typer.testing import CliRunner

from boardwright.catalogue.load import load_catalogue
from boardwright.cli import app
from boardwright.core.errors import FieldError
from boardwright.design import Design, design
from boardwright.documents.answers.editions import (
    difference_page,
    edition_list,
    edition_page,
    job_difference,
)
from boardwright.documents.words.plain import WIDTH
from boardwright.job.read import read_job
from boardwright.standards.load import DEFAULT, editions, load_edition

SEMI = Path(__file__).parents[2] / "examples" / "semi.yaml"
BEFORE = "bs7671_2018_a2_a3"


@cache
def _semi(edition: str) -> Design:
    return design(read_job(SEMI), load_catalogue(), load_edition(edition))


def _row(text: str, start: str) -> str:
    lines = text.replace("\u00a0", " ").splitlines()
    first = next(n for n, line in enumerate(lines) if line.startswith(start))
    return " ".join(" ".join(lines[first : first + 2]).split())


@pytest.mark.parametrize("name", editions())
def test_a_page_of_an_edition_fits_and_names_every_key(name: str) -> None:
    edition = load_edition(name)
    lines = edition_page(edition).splitlines()

    assert max(map(len, lines)) <= WIDTH
    missing = [
        key
        for key in (*edition.entries, *edition.tables)
        if not any(line.startswith(key) for line in lines)
    ]
    assert missing == []


def test_only_the_doubtful_are_shown_when_asked_for() -> None:
    edition = load_edition(BEFORE)
    text = edition_page(edition, doubtful=True)

    assert "cmin" in text
    assert "spd.leads_max_m" not in text
    assert "spd.leads_max_m" in edition_page(load_edition(DEFAULT), doubtful=True)


def test_only_the_keys_asked_for_are_shown() -> None:
    text = edition_page(load_edition(DEFAULT), prefix="crl.")

    assert "crl.limit" in text
    assert "spd." not in text


def test_the_list_counts_what_is_carried() -> None:
    text = edition_list(map(load_edition, editions()))

    assert [line.split()[0] for line in text.splitlines()[2:]] == list(editions())


def test_the_two_british_editions_differ_in_the_overload_of_assemblies() -> None:
    text = difference_page(load_edition(BEFORE), load_edition(DEFAULT))

    assert "536.4.3.2 and 536.4.202" in text
    assert "One figure of different value" in text
    same = difference_page(load_edition(DEFAULT), load_edition(DEFAULT))
    assert "No figure differs" in same


def test_the_semi_under_the_edition_before_is_out_of_date_and_nothing_else() -> None:
    text = job_difference(_semi(BEFORE), _semi(DEFAULT))

    assert _row(text, "edition.in_force") == "edition.in_force Edition Fail Within"
    assert "One finding differs" in text


def test_the_semi_the_world_over_has_its_risk_level_and_no_voltage_factor() -> None:
    """Zs of a B32: 230/(5 x 32) is 1.44 ohm, with Cmin 1.37 ohm (Table 41.3)."""
    text = job_difference(_semi(DEFAULT), _semi("iec60364"))

    assert _row(text, "spd.risk_level").startswith("spd.risk_level Calculated risk level")
    assert "1.44" in text
    assert "Does not apply" in text
    assert max(map(len, text.splitlines())) <= WIDTH


@pytest.mark.parametrize(
    ("words", "shown"),
    [
        (["edition", "list"], "iec60364"),
        (["edition", "show", "--key", "cmin"], "0.95"),
        (["edition", "show", "iec60364", "--doubtful", "--key", "cmin"], "no voltage factor"),
        (["edition", "compare", BEFORE, DEFAULT], "assembly.overload"),
        (["edition", "compare", BEFORE, DEFAULT, str(SEMI)], "edition.in_force"),
    ],
)
def test_a_command_prints_its_page(words: list[str], shown: str) -> None:
    ran = CliRunner().invoke(app, words)

    assert ran.exit_code == 0
    assert shown in ran.output


@pytest.mark.parametrize("words", [["show", "bs9999"], ["compare", DEFAULT, "bs9999"]])
def test_a_wrong_name_is_answered_with_the_right_ones(words: list[str]) -> None:
    ran = CliRunner().invoke(app, ["edition", *words])

    assert isinstance(ran.exception, FieldError)
    assert str(ran.exception).startswith("edition: found 'bs9999', expected one of bs7671")


def test_a_job_keeps_its_edition_and_its_numbers(tmp_path: Path) -> None:
    """The job names the edition before; the one for new work has moved on, and must not act."""
    kept = tmp_path / "semi.yaml"
    text = SEMI.read_text(encoding="utf-8").replace(f"edition: {DEFAULT}", f"edition: {BEFORE}")
    kept.write_text(text, encoding="utf-8")
    printed = [CliRunner().invoke(app, ["plan", "--json", str(kept)]).output for _ in range(2)]
    again = json.loads(printed[0])

    assert printed[0] == printed[1]
    assert again["edition_digest"] == load_edition(BEFORE).digest != load_edition(DEFAULT).digest
    assert {f["edition"] for f in again["findings"]} == {"BS 7671:2018+A2:2022+A3:2024"}
