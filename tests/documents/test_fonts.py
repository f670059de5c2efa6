"""The typeface: there as a file, cut for the page, kept in the cache."""

from io import BytesIO
from pathlib import Path

import platformdirs
import pytest
from fontTools.ttLib import TTFont

from boardwright.documents.look import fonts

SIGNS = "Ωµ²·≥≤−→×°–ΔIl10O"


def test_the_font_is_there_with_its_axes() -> None:
    with TTFont(fonts.font_file(), lazy=True) as font:
        axes = {axis.axisTag for axis in font["fvar"].axes}

    assert axes == {"wght", "wdth"}
    assert fonts.font_file().parent == fonts.font_folder()


@pytest.mark.slow
def test_the_cut_holds_what_the_look_asks_for() -> None:
    content = fonts.cut_font()
    font = TTFont(BytesIO(content))
    axes = {axis.axisTag: (axis.minValue, axis.maxValue) for axis in font["fvar"].axes}
    features = {record.FeatureTag for record in font["GSUB"].table.FeatureList.FeatureRecord}

    assert content[:4] == b"wOF2"
    assert len(content) < 60_000
    assert axes == {"wght": (400, 700), "wdth": (85, 100)}
    assert all(ord(sign) in font.getBestCmap() for sign in SIGNS)
    assert "zero" in features
    # Figures of one width need no feature: this family has them so by default.
    widths = {font["hmtx"][font.getBestCmap()[ord(digit)]][0] for digit in "0123456789"}
    assert len(widths) == 1
    assert fonts.cut_font() == content


def test_the_cut_is_made_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    cuts = iter([b"font"])
    monkeypatch.setattr(platformdirs, "user_cache_path", lambda _: tmp_path / "new")
    # A second cut would find the iterator empty.
    monkeypatch.setattr(fonts, "cut_font", lambda: next(cuts))

    assert [fonts.page_font() for _ in range(3)] == [b"font"] * 3
    assert [path.read_bytes() for path in (tmp_path / "new").iterdir()] == [b"font"]


def test_a_cache_that_cannot_be_written_is_done_without(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setattr(platformdirs, "user_cache_path", lambda _: tmp_path / "file")
    monkeypatch.setattr(fonts, "cut_font", lambda: b"font")

    assert fonts.page_font() == b"font"
