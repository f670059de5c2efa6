"""The papers of the semi, word for word; tests/documents/golden.py writes them anew."""

import csv
import subprocess
from pathlib import Path

import pytest

from boardwright.core.findings import Verdict
from boardwright.documents.answers.summary import LINES, summary
from boardwright.documents.pack import pack
from boardwright.documents.words.plain import WIDTH
from tests.documents.golden import FILES, example, golden, papers

HOMES = ("semi", "semi-split", "cottage", "flat", "three-phase")


@pytest.mark.slow
@pytest.mark.parametrize("file", FILES)
def test_a_paper_is_as_it_was_reviewed(file: str) -> None:
    made = papers(example("semi"))[file]

    assert made.encode() == golden("semi", file).read_bytes()


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_every_home_has_papers_that_fit(home: str) -> None:
    design = example(home)
    texts = {name: text for name, text in papers(design).items() if name.endswith(".txt")}
    too_wide = [
        f"{name}: {line}"
        for name, text in texts.items()
        for line in text.splitlines()
        if len(line) > WIDTH
    ]

    assert too_wide == []
    assert len(summary(design).splitlines()) <= LINES


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_every_home_has_every_conductor_in_its_spreadsheet(home: str) -> None:
    design = example(home)
    rows = list(csv.DictReader(papers(design)["wiring.csv"].splitlines()))
    conductors = {conductor.id: conductor for conductor in design.chosen.wiring.conductors}

    assert {row["id"] for row in rows} == conductors.keys()
    assert all(float(row["size_mm2"]) == conductors[row["id"]].csa_mm2 for row in rows)


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_every_home_has_a_pack_with_its_title_and_clauses(home: str, tmp_path: Path) -> None:
    design = example(home)
    path = tmp_path / "pack.pdf"
    path.write_bytes(pack.build(design))
    read = ["pdftotext", "-layout", str(path), "-"]
    pages = subprocess.run(read, capture_output=True, text=True, check=True).stdout.split("\f")[:-1]
    text = " ".join("".join(pages).replace("\u00a0", " ").split())
    still_open = [
        finding
        for finding in design.findings
        if finding.verdict in (Verdict.STOP, Verdict.FAIL, Verdict.UNKNOWN)
    ]

    assert all(design.job.title in page.strip().splitlines()[0] for page in pages)
    assert [f.check for f in still_open if f.rule.clause not in text] == []
    # Running head and foot alone are about a hundred letters.
    assert min(len(" ".join(page.split())) for page in pages) > 200
