"""The surge chart says what the study says."""

import json
from collections.abc import Iterator
from dataclasses import replace
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from boardwright.design import Design
from boardwright.documents.look.tokens import tokens
from boardwright.documents.surge import surge_chart
from boardwright.surge.study import Band, PlaceResult
from tests.documents.small import STUDY, small_design, with_study


def test_every_band_and_limit_is_the_studys() -> None:
    rows = list(_rows("low_kv"))
    found = {(row["series"], row["low_kv"], row["high_kv"]) for row in rows}
    expected = {
        (series, band.p5_v / 1000, band.p95_v / 1000)
        for place in STUDY.places
        for series, band in (("with SPD", place.with_spd_v), ("without SPD", place.without_spd_v))
        if band is not None
    }

    assert found == expected
    assert {row["uw_kv"] for row in _rows("uw_kv")} == {4.0, 1.5}
    assert {row["range"] for row in rows} >= {"1.15–2.00\u00a0kV", "1.45–2.25\u00a0kV"}


def test_the_title_is_the_answer() -> None:
    title = surge_chart.spec(small_design())["title"]

    assert title["text"] == "With the SPD, this surge can pass the withstand at: Router."
    assert STUDY.surge in title["subtitle"]


def test_below_everywhere_is_said_so() -> None:
    within = replace(STUDY, places=STUDY.places[:1])
    title = surge_chart.spec(with_study(small_design(), within))["title"]

    assert title["text"] == "With the SPD, every band stays below its withstand."


def test_without_an_spd_one_bar_a_place_is_left() -> None:
    bare = replace(STUDY, places=tuple(replace(p, with_spd_v=None) for p in STUDY.places))
    design = with_study(small_design(), bare)

    assert {row["series"] for row in _rows("low_kv", design)} == {"without SPD"}
    assert surge_chart.headline(bare.places).startswith("Without an SPD")


def test_the_axis_starts_at_nothing_and_holds_every_bar() -> None:
    scales = {
        json.dumps(layer["encoding"]["x"]["scale"])
        for layer in surge_chart.spec(small_design())["layer"]
        if "scale" in layer["encoding"]["x"]
    }
    (scale,) = (json.loads(text) for text in scales)

    assert scale["domain"][0] == 0
    assert scale["domain"][1] > 8.75


def test_the_chart_keeps_to_a_handful_of_places() -> None:
    others = tuple(
        PlaceResult(f"p{n}", f"Thing {n}", 2500, "", Band(1, 1, 9000), Band(1, 1, 100.0 * n), ())
        for n in range(12)
    )
    places = surge_chart.chosen_places(replace(STUDY, places=(STUDY.places[0], *others)))

    assert [place.place for place in places] == ["board", "p8", "p9", "p10", "p11"]


@pytest.mark.parametrize("theme", ["light", "dark", "high light", "high dark"])
def test_the_page_gets_the_chart_in_its_own_colours(theme: str) -> None:
    text = json.dumps(surge_chart.spec(small_design(), theme))

    assert tokens(theme)["adverse"] in text
    assert "$schema" not in text


@pytest.mark.slow
def test_the_svg_is_whole_and_says_its_figures() -> None:
    svg = surge_chart.build(small_design())
    words = "".join(ET.fromstring(svg).itertext())  # noqa: S314 (our own file)

    for said in ("The board", "Router", "withstand 4\u00a0kV", "1.15–2.00\u00a0kV", "10 kV"):
        assert said in words
    assert "IBM Plex Sans" in svg
    assert surge_chart.build(small_design()) == svg


def _rows(field: str, design: Design | None = None) -> Iterator[dict[str, Any]]:
    for layer in surge_chart.spec(design or small_design())["layer"]:
        yield from (row for row in layer["data"]["values"] if field in row)
