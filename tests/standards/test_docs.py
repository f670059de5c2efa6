"""The manual's page on editions says what the program does."""

import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from boardwright.cli import app
from boardwright.core.errors import FieldError
from boardwright.standards.load import DEFAULT, editions, load_edition
from boardwright.standards.overrides import overrides
from tests.habits.source import ROOT

PAGE = (ROOT / "docs" / "editions.md").read_text(encoding="utf-8")
OWN = re.findall(r"```toml\n(.*?)```", PAGE, re.DOTALL)
TEXTS = re.findall(r"```text\n(.*?)```", PAGE, re.DOTALL)


def _printed(*words: str) -> str:
    return CliRunner().invoke(app, list(words)).output.replace("\u00a0", " ")


def test_the_page_names_every_edition() -> None:
    assert [name for name in editions() if f"| `{name}` |" not in PAGE] == []


def test_the_example_of_own_figures_loads(tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_text(OWN[0], encoding="utf-8")
    found = list(overrides(load_edition(DEFAULT, path)))

    assert [own.replaces for own in found] == [False, True]


def test_the_sentence_is_what_the_program_says(tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_text(OWN[0].replace("value = 1.0", 'value = "1,0"'), encoding="utf-8")

    with pytest.raises(FieldError) as caught:
        load_edition(DEFAULT, path)

    assert str(caught.value) in PAGE


def test_the_entry_is_printed_so() -> None:
    assert TEXTS[0] in _printed("edition", "show", "--key", "spd.leads_max_m")


@pytest.mark.slow
def test_the_difference_and_the_working_are_printed_so() -> None:
    semi = str(ROOT / "examples" / "semi.yaml")

    assert TEXTS[1] in _printed("edition", "compare", DEFAULT, "iec60364", semi)
    assert TEXTS[3] in _printed("working", semi, "kitchen-ring")
