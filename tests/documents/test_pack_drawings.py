"""The drawings in the pack: to a scale that the page says, on a sheet that holds them."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

from boardwright.documents.pack import pack
from boardwright.documents.pack.drawings import connections, diagram, views
from tests.documents.golden import example

HOMES = ("semi", "semi-split", "cottage", "flat", "three-phase")
A4_MM = (210.0, 297.0)
"""ISO 216."""


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_board_and_cover_stand_at_the_same_scale(home: str) -> None:
    """So that one can be laid over the other: the same box, the same shrinking."""
    design = example(home)
    drawn = views(design)
    enclosure_mm = design.chosen.arrangement.enclosure.width_mm

    assert drawn[0]["scale"] == drawn[1]["scale"]
    for each in drawn:
        view = re.search(r'viewBox="[-\d.]+ [-\d.]+ ([\d.]+)', each["svg"])
        assert view
        factor = float(each["scale"].removeprefix("1:"))
        assert each["width_mm"] * factor == pytest.approx(float(view[1]), abs=0.01)
        assert float(view[1]) >= enclosure_mm


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_every_drawing_lies_on_its_sheet(home: str) -> None:
    design = example(home)
    for each in (*views(design), *diagram(design), *connections(design)):
        sides = re.search(r'width="([\d.]+)mm" height="([\d.]+)mm"', each["svg"])
        assert sides
        height_mm = each["width_mm"] * float(sides[2]) / float(sides[1])
        page_mm = A4_MM[::-1] if each.get("turned") else A4_MM

        assert each["width_mm"] <= page_mm[0] - 12
        assert height_mm <= page_mm[1] - 26


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_a_diagram_s_words_stay_at_least_as_large_as_a_label_in_print(home: str) -> None:
    """The look: 6.2 pt, 2.2 mm, for labels inside a drawing."""
    design = example(home)
    for drawn in (*diagram(design), *connections(design)):
        width = re.search(r'width="([\d.]+)mm"', drawn["svg"])
        assert width
        # To a hundredth of a millimetre: a sheet may just be full.
        assert 2.6 * drawn["width_mm"] / float(width[1]) >= 2.2 - 0.01


@pytest.mark.slow
def test_cover_and_diagram_follow_the_board(tmp_path: Path) -> None:
    path = tmp_path / "pack.pdf"
    path.write_bytes(pack.build(example("semi")))
    read = ["pdftotext", "-layout", str(path), "-"]
    text = subprocess.run(read, capture_output=True, text=True, check=True).stdout
    titles = ["The board, cover off", "The board, cover on", "From the street to each circuit"]
    places = [text.index(title) for title in titles]

    assert places == sorted(places)
    assert "front view, cover on" in text
    assert "Symbols in this diagram" in text
