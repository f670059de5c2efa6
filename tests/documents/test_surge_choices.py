"""The surge's choices as a paper, as data, in one quick run, and for the householder."""

import json
from functools import cache

import pytest

from boardwright.core.errors import FieldError
from boardwright.documents.shelf import shelf, whole_shelf
from boardwright.documents.surge.choices import Choices, choices, choices_json
from boardwright.documents.surge.plain_words import plain_words
from boardwright.documents.surge.reach import reach_plot
from boardwright.documents.surge.surge_choices import FILE, answer, choices_text
from boardwright.documents.surge.what_if import WhatIf, what_if
from tests.documents.golden import example

pytestmark = pytest.mark.slow


@cache
def _choices(name: str) -> Choices:
    return choices(example(name), draws=40, seed=2)


def _band(found: WhatIf, place: str) -> tuple[float, float, float]:
    band = next(each.band for each in found.places if each.place == place)
    return band.p5_v, band.typical_v, band.p95_v


def test_the_paper_answers_first_and_promises_nothing() -> None:
    text = choices_text(_choices("semi"), "3 Alder Close")
    words = " ".join(text.split())

    assert words.index("can pass the withstand at: Router") < words.index("Leads and place")
    assert "SPD Type 3" in words
    assert "prove dead" in words
    assert "safe" not in words.lower().replace("safe isolation", "")
    assert max(map(len, text.splitlines())) <= 100


def test_it_stands_on_the_shelf_and_no_plan_waits_for_it() -> None:
    whole = {document.name: document for document in whole_shelf()}

    assert whole["surge-choices"].on_request
    assert whole["surge-choices"].file == FILE
    assert set(whole) - {document.name for document in shelf()} == {"surge-choices"}


def test_a_home_with_nothing_above_says_so() -> None:
    said = answer(_choices("three-phase"))

    assert said.startswith("As designed, every place on L2, the line nearest to its withstand,")
    assert "stays within its rated impulse voltage" in said


def test_the_data_holds_every_figure_of_the_paper() -> None:
    data = json.loads(choices_json(_choices("semi")))

    assert {each["key"] for each in data["leads_and_places"]} >= {"as routed", "through", "none"}
    assert data["clearing"][0]["ways"][0]["spds"]
    assert data["spread"]["places"][0]["place"] == "board"
    assert data["spread"]["seed"] == 2


def test_it_says_how_far_it_is_and_never_goes_back() -> None:
    heard: list[tuple[str, float]] = []
    choices(example("semi"), draws=20, told=lambda words, done: heard.append((words, done)))

    fractions = [done for _, done in heard]
    assert len(heard) == 4
    assert fractions == sorted(fractions)


def test_the_reach_is_drawn_through_its_points() -> None:
    found = _choices("semi")
    plot = reach_plot(found.reaches[0], found.rule_m)
    upper = plot.traces[0]

    assert upper.points[-1][0] == 1.0
    assert len(upper.points) == len(found.reaches[0].points)
    assert upper.dot_share in upper.points
    assert "Fridge-freezer (12\u00a0m)" in plot.title


def test_nothing_changed_leaves_the_designs_own_bands() -> None:
    for name in ("semi", "flat", "three-phase"):
        design, found = example(name), what_if(example(name))
        for place in design.chosen.study.places:
            band = place.with_spd_v
            assert band is not None
            assert _band(found, place.place) == (band.p5_v, band.typical_v, band.p95_v)


def test_longer_leads_and_cables_raise_what_is_left() -> None:
    design = example("semi")
    peaks_v = [
        _band(what_if(design, lead_m=lead_m), "board")[1] for lead_m in (0.1, 0.5, 1.0, 2.0, 3.0)
    ]
    fridge_v = [
        _band(what_if(design, cable_m=cable_m, place="Kitchen sockets"), "Kitchen sockets")[1]
        for cable_m in (10.0, 30.0, 60.0)
    ]

    assert peaks_v == sorted(peaks_v)
    assert fridge_v == sorted(fridge_v)


def test_one_quick_run_agrees_with_the_choices_solved_in_full() -> None:
    """Two solvers and two ways to a band: within 100 V, twice the rounding."""
    half = next(each for each in _choices("semi").weighed if each.variant.key == "0.5 m")
    quick = what_if(example("semi"), lead_m=0.5)

    for band in half.places:
        ends = (band.band.p5_v, band.band.typical_v, band.band.p95_v)
        assert _band(quick, band.place) == pytest.approx(ends, abs=100)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"lead_m": -1.0}, r"lead_m: found -1\.0, expected 0 to 5 m"),
        ({"lead_m": float("nan")}, r"lead_m: found nan"),
        ({"cable_m": 1e6}, r"cable_m: found 1000000\.0, expected 0\.5 to 200 m"),
        ({"cable_m": 5.0, "place": "attic"}, r"place: found 'attic', expected one of"),
    ],
)
def test_a_length_out_of_range_is_refused(asked: dict[str, float], said: str) -> None:
    with pytest.raises(FieldError, match=said):
        what_if(example("semi"), **asked)  # type: ignore[arg-type]


def test_the_householder_reads_no_word_of_the_trade() -> None:
    for name in ("semi", "flat", "three-phase", "cottage"):
        words = plain_words(example(name))

        assert not {"SPD", "kV", "impulse", "withstand", "PE", "µs", "varistor"} & {*words.split()}
        assert "a strike on the house is far larger" in words


def test_the_householder_is_told_what_is_above_and_what_it_is_built_for() -> None:
    words = plain_words(example("semi"))

    assert "the router and broadband box, up to 2,300 volts and built for 1,500" in words
    assert "The fridge-freezer and the television are built to take that" in words
