"""Curves of a surge: what is drawn is what the study solved."""

from functools import lru_cache
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from boardwright.core.errors import FieldError
from boardwright.documents.surge.curves import (
    WINDOWS,
    Curves,
    Plot,
    Tick,
    build_svg,
    current,
    curves,
    nice_step,
    paper,
    values_up,
    voltage,
    window_of,
)
from tests.documents.golden import example
from tests.documents.small import small_design

pytestmark = pytest.mark.slow


@lru_cache(maxsize=4)
def _run(name: str, place: str = "") -> Curves:
    return curves(example(name), place)


def _window(key: str) -> Plot:
    run = _run("semi")
    return voltage(run, window_of(run, key))


def test_the_place_nearest_to_its_withstand_is_shown_and_another_on_demand() -> None:
    assert _run("semi").place.appliance == "Router and broadband box"
    assert _run("semi", "Kitchen sockets").place.appliance == "Fridge-freezer"


@pytest.mark.parametrize("name", ["semi", "cottage"])
def test_the_drawn_peak_is_the_studys_typical_one(name: str) -> None:
    run = _run(name)
    plot = voltage(run, window_of(run, ""))
    band = run.place.with_spd_v
    trace = next(each for each in plot.traces if each.words == run.place.appliance)
    low_kv, high_kv = (
        float(tick.label.partition("\u00a0")[0].replace("\u2212", "-")) for tick in _ends(plot)
    )

    assert band is not None
    assert trace.dot_share is not None
    peak_v = 1000 * (low_kv + trace.dot_share[1] * (high_kv - low_kv))
    # The band is rounded to 50 V; a gap's sparkover stands between two samples.
    assert peak_v == pytest.approx(band.typical_v, abs=60)


def _ends(plot: Plot) -> tuple[Tick, Tick]:
    return plot.up[0], plot.up[-1]


def test_without_a_wish_the_window_holds_the_peak() -> None:
    for name in ("semi", "cottage", "flat"):
        run = _run(name)
        plot = voltage(run, window_of(run, ""))

        assert all(trace.dot_share for trace in plot.traces if trace.words == run.place.appliance)


def test_log_time_gives_each_power_of_ten_the_same_room() -> None:
    ticks = {tick.label: tick.at_share for tick in _window("log").across}

    assert ticks["1"] - ticks["0.1"] == pytest.approx(ticks["10"] - ticks["1"], abs=2e-4)


def test_every_window_keeps_its_curves_within_the_plot() -> None:
    for window in WINDOWS:
        for plot in (voltage(_run("cottage"), window), current(_run("cottage"), window)):
            points = np.array([point for trace in plot.traces for point in trace.points])
            assert points.min() >= 0
            assert points.max() <= 1


def test_a_window_that_is_not_there_is_named() -> None:
    with pytest.raises(FieldError, match=r"time: found 'week', expected front, ringing"):
        window_of(_run("semi"), "week")


def test_the_current_is_the_spds_and_reaches_what_the_study_says() -> None:
    run, stress = _run("semi"), example("semi").chosen.study.spd
    plot = current(run, window_of(run, "whole"))

    assert stress is not None
    assert plot.traces[0].dot_share is not None
    assert plot.traces[0].dot_share[1] * 2000 == pytest.approx(stress.current_a, rel=0.01)


def test_the_pictures_are_sound_svg_with_a_text_alternative() -> None:
    for picture in paper(example("semi")):
        root = ET.fromstring(picture["svg"])  # noqa: S314 - our own
        assert root.get("aria-label") == picture["alt"]
        assert picture["title"] in picture["alt"]
        assert root.findall("{http://www.w3.org/2000/svg}polyline")


def test_no_label_at_the_lines_ends_covers_another() -> None:
    root = ET.fromstring(build_svg(_window("whole")))  # noqa: S314 - our own
    texts = [
        e for e in root.findall("{http://www.w3.org/2000/svg}text") if not e.get("text-anchor")
    ]
    heights = sorted(float(text.get("y", 0)) for text in texts)

    assert len(heights) == 4
    assert all(np.diff(heights) > 12)


def test_a_design_whose_study_names_other_places_shows_the_board() -> None:
    assert curves(small_design()).place.place == "board"


@pytest.mark.parametrize(
    ("span", "step"), [(2.0, 0.5), (1.0, 0.2), (7.0, 2.0), (0.04, 0.01), (10.0, 2.0)]
)
def test_an_axis_has_three_to_seven_round_steps(span: float, step: float) -> None:
    assert nice_step(span) == pytest.approx(step)


def test_the_unit_stands_once_on_the_last_tick() -> None:
    labels = [tick.label for tick in values_up(-0.5, 1.0, 0.5, "kV")]

    assert labels == ["\u22120.5", "0", "0.5", "1\u00a0kV"]
