"""The page that compares the schemes: one sheet, every scheme, its own figures and no others."""

from __future__ import annotations

import subprocess
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from boardwright.board.results import Scheme
from boardwright.core.findings import Verdict
from boardwright.design import Design
from boardwright.documents.drawing.diagram_rows import rows
from boardwright.documents.lists.materials import total_gbp
from boardwright.documents.pack import schemes_page
from boardwright.documents.pack.schemes_page import build, content
from tests.documents.compared import compared
from tests.documents.golden import ROOT, example

HOMES = ("semi", "semi-split", "cottage", "flat", "three-phase")


def _pages(design: Design, folder: Path) -> list[str]:
    path = folder / "schemes.pdf"
    path.write_bytes(build(design))
    read = ["pdftotext", "-layout", str(path), "-"]
    text = subprocess.run(read, capture_output=True, text=True, check=True).stdout
    return [" ".join(page.replace("\u00a0", " ").split()) for page in text.split("\f")[:-1]]


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_a_home_s_schemes_stand_on_one_page(home: str, tmp_path: Path) -> None:
    design = example(home)
    (page,) = _pages(design, tmp_path)

    assert design.job.title in page
    assert "judgement, replace with your own" in page
    for _, why in design.out_of_question:
        assert why.split(";")[0][:40] in page


@pytest.mark.slow
def test_three_schemes_stand_side_by_side_on_one_page(tmp_path: Path) -> None:
    design = compared()
    (page,) = _pages(design, tmp_path)

    assert {variant.scheme for variant in design.variants} == set(Scheme)
    for variant in design.variants:
        leads = variant.wiring.spd_leads
        assert leads
        assert f"{leads.total_m:.2f} m" in page
        assert f"£{total_gbp(variant.wiring.materials):.2f}" in page


@pytest.mark.slow
def test_what_fails_is_said_of_the_scheme_that_fails() -> None:
    """Every scheme shows all its own fails and stops, and what it must still prove."""
    design = compared()
    for variant, shown in zip(design.variants, content(design)["schemes"], strict=True):
        subjects = {
            verdict: {f.subject for f in variant.findings if f.verdict is verdict}
            for verdict in (Verdict.STOP, Verdict.FAIL, Verdict.UNKNOWN)
        }
        against = ", ".join(p["subjects"] for p in shown["against"] if p["verdict"] != "advise")
        proved = ", ".join(p["subjects"] for p in shown["proved"])

        assert all(s in against for s in subjects[Verdict.FAIL] | subjects[Verdict.STOP])
        assert all(s in proved for s in subjects[Verdict.UNKNOWN])
        assert shown["proposed"] is (variant is design.chosen)


@pytest.mark.slow
def test_the_board_that_stays_is_said_to_stay() -> None:
    design = compared()
    untouched = {
        variant.scheme: shown["untouched"]
        for variant, shown in zip(design.variants, content(design)["schemes"], strict=True)
    }
    found = design.job.existing_board
    assert found

    assert untouched[Scheme.NEW_BOARD].startswith("Meter and cut-out")
    assert "The board as found" in untouched[Scheme.SPARE_WAYS]
    assert "The board as found" in untouched[Scheme.SEPARATE_BOX]


@pytest.mark.slow
def test_hours_come_from_the_data_and_grow_with_the_circuits() -> None:
    """By hand for the semi, 11 circuits: 3.5 + 11 × 0.3 = 6.8 → 7; 5 + 11 × 0.5 = 10.5."""
    facts = dict(content(example("semi"))["schemes"][0]["facts"])

    assert facts["Hours on site"].replace("\u00a0", " ") == "7–10.5 h"


def test_every_range_of_hours_runs_upward_and_says_that_it_is_a_judgement() -> None:
    path = ROOT / "src" / "boardwright" / "documents" / "pack" / "paper" / "hours.toml"
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    source = data.pop("source")

    assert source["document"] == "invented"
    assert "judgement" in source["note"]
    assert set(data) == set(schemes_page._HOURS.values())
    for row in data.values():
        assert 0 < row["base_low_h"] <= row["base_high_h"]
        assert 0 <= row["circuit_low_h"] <= row["circuit_high_h"]


@pytest.mark.slow
def test_a_board_that_stays_is_drawn_with_its_devices_as_found() -> None:
    """Every circuit of the survey has its row in the diagram of each scheme."""
    design = compared()
    names = {circuit.name for circuit in design.job.circuits}

    for variant in design.variants:
        assert names <= {row.name for row in rows(design, variant)}


@pytest.mark.slow
def test_an_rcd_as_found_is_not_drawn_as_if_its_ways_were_known() -> None:
    """The survey lists devices by way; which of them stand behind the RCD it does not say."""
    design = compared()
    kept = [v for v in design.variants if v.scheme is not Scheme.NEW_BOARD]

    for variant in kept:
        found = [row for row in rows(design, variant) if row.device == "rcd"]
        assert found
        assert all("what it feeds was not surveyed" in row.above for row in found)


@pytest.mark.slow
def test_no_point_is_cut_within_a_sentence_and_nothing_counts_no_circuits() -> None:
    for home in HOMES:
        page = content(example(home))
        told = [p for each in page["schemes"] for p in (*each["against"], *each["proved"])]
        for point in (*told, *page["always"]):
            assert "…" not in point["said"] + point["do"]
            assert point["said"].rstrip().endswith(".")
        assert not [each for each in page["schemes"] if "no circuits" in each["untouched"]]


@pytest.mark.slow
def test_a_home_not_lived_in_yet_names_no_cables() -> None:
    design = example("semi")
    fresh = tuple(c.model_copy(update={"existing": False}) for c in design.job.circuits)
    job = design.job.model_copy(update={"circuits": fresh})

    page = content(replace(design, job=job))

    assert not [each for each in page["schemes"] if "cables" in each["untouched"]]
