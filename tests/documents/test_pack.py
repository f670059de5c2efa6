"""The pack, read back with poppler: what a person, a printer and a screen reader would find."""

import re
import subprocess
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from boardwright.documents.pack import pack
from boardwright.documents.pack.content import content
from tests.documents.small import FINDINGS, small_design

HOSTILE = 'A #let "x" = $1$ *b* _c_ <d> \\e @f [g] & ~ `raw` // note'
SHEETS = (
    "Answer and open points",
    "Board and conductors",
    "Order of work",
    "Test readings",
    "Schedules and schemes",
    "Surge",
    "Workings",
    "Labels",
    "For the householder",
)


@cache
def _pdf() -> bytes:
    return pack.build(small_design())


@pytest.mark.slow
def test_the_sheets_stand_in_their_order(tmp_path: Path) -> None:
    pages = _pages(_pdf(), tmp_path)
    heads = [page.strip().splitlines()[0] for page in pages]
    places = [next(n for n, head in enumerate(heads) if sheet in head) for sheet in SHEETS]

    assert places == sorted(places)
    assert all("7 Heron Terrace" in head for head in heads)
    assert all("a plan, not a certificate" in page for page in pages)
    assert all(f"page {n} of {len(pages)}" in page for n, page in enumerate(pages, start=1))


@pytest.mark.slow
def test_every_open_point_has_its_clause_and_its_deed(tmp_path: Path) -> None:
    text = _flat("".join(_pages(_pdf(), tmp_path)))

    for finding in FINDINGS:
        if finding.verdict.value in {"fail", "unknown", "advise"}:
            assert finding.rule.clause in text
            assert _flat(finding.remedy) in text
    assert "from memory" in text
    assert "carried from the edition before" in text


@pytest.mark.slow
def test_a_hostile_title_is_set_as_it_is_written(tmp_path: Path) -> None:
    pages = _pages(pack.build(small_design(HOSTILE)), tmp_path)

    assert _flat(HOSTILE) in _flat(pages[0])


@pytest.mark.slow
def test_the_same_design_gives_the_same_bytes() -> None:
    assert pack.build(small_design()) == _pdf()


@pytest.mark.slow
def test_it_is_tagged_a4_and_all_in_one_typeface(tmp_path: Path) -> None:
    path = tmp_path / "pack.pdf"
    path.write_bytes(_pdf())
    about = _poppler("pdfinfo", str(path))
    fonts = _poppler("pdffonts", str(path)).splitlines()[2:]

    assert re.search(r"Tagged:\s+yes", about)
    assert re.search(r"Title:\s+7 Heron Terrace", about)
    assert "A4" in about
    assert fonts
    assert all("IBMPlexSans" in line and "yes yes yes" in line for line in fonts)
    assert b"pdfuaid" in _pdf()


@pytest.mark.slow
def test_no_page_is_empty_and_none_overflows(tmp_path: Path) -> None:
    pages = _pages(_pdf(), tmp_path)

    # Running head and foot alone are about a hundred letters.
    assert min(len(_flat(page)) for page in pages) > 250
    assert len(pages) <= len(SHEETS) + 6


def test_the_labels_are_those_that_this_home_asks_for() -> None:
    titles = [card["title"] for card in content(small_design())["labels"]["cards"]]

    assert titles == [
        "Press the test buttons",
        "Surge protection: look at the window",
        "Next inspection",
    ]


def test_a_home_with_its_own_source_gets_the_dual_supply_label() -> None:
    design = small_design()
    circuit = design.job.circuits[0].model_copy(update={"serves": "PV"})
    job = design.job.model_copy(update={"circuits": (circuit, *design.job.circuits[1:])})
    titles = [card["title"] for card in content(replace(design, job=job))["labels"]["cards"]]

    assert "Two sources of supply" in titles


def test_the_householders_page_holds_no_sign_of_the_trade() -> None:
    said = " ".join(
        line for part in content(small_design())["householder"].values() for line in part
    )

    assert "RCD" not in said
    assert "SPD" not in said
    assert not re.search(r"\d ?(A|V|Ω|mA|mm²)\b", said)


def test_an_existing_cable_is_one_row() -> None:
    conductors = content(small_design())["conductors"]

    assert conductors["existing"] == [["Shower cable", "L-out, top", "", "", "6", "2.0"]]
    assert [row[1] for row in conductors["rows"]] == ["SPD PE, top"]


def _pages(pdf: bytes, folder: Path) -> list[str]:
    path = folder / "pack.pdf"
    path.write_bytes(pdf)
    return _poppler("pdftotext", "-layout", str(path), "-").split("\f")[:-1]


def _poppler(*command: str) -> str:
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


def _flat(text: str) -> str:
    """Return text on one line with plain spaces, as a search would see it."""
    return " ".join(text.replace("\u00a0", " ").split())
