"""docs/nomenclature.md names what is there: every code name it lists occurs in the program."""

import re

from boardwright.standards.load import load_edition
from tests.habits.source import ROOT, trees

PAGE = (ROOT / "docs" / "nomenclature.md").read_text(encoding="utf-8")


def _names() -> set[str]:
    rows = [line.split("|")[3] for line in PAGE.splitlines() if line.startswith("| ")]
    return {name for cell in rows for name in re.findall(r"`([^`]+)`", cell)}


def test_the_page_lists_names() -> None:
    assert len(_names()) > 50


def test_every_name_of_the_page_is_in_the_program() -> None:
    program = "\n".join(path.read_text(encoding="utf-8") for path in trees())
    edition = load_edition("bs7671_2018_a4")
    strays = {
        name
        for name in _names()
        if not re.search(rf"\b{re.escape(name)}\b", program)
        and not name.startswith("_")
        and not edition.has(name)
    }

    assert strays == set()
