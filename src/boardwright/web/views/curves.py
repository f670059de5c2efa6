"""Curves on the surge page: which part of time and which place stands in the address."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlencode

from boardwright.core.errors import FieldError
from boardwright.design import Design
from boardwright.documents.surge.curves import (
    WINDOWS,
    Plot,
    Trace,
    Window,
    current,
    curves,
    voltage,
    window_of,
)
from boardwright.documents.surge.surge_chart import chosen_places, name

SIDE = 1000
"""Width and height of a plot's own coordinates; the page stretches them."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One part of time or one place to choose, as a link."""

    words: str
    href: str
    now: bool


@dataclass(frozen=True, slots=True)
class Line:
    """One line as the page draws it."""

    words: str
    pattern: str
    points: str
    dot: tuple[str, str] | None


@dataclass(frozen=True, slots=True)
class At:
    """Something at a height or a width of the plot, in per cent, with its words."""

    at: str
    words: str


@dataclass(frozen=True, slots=True)
class Picture:
    """One plot in the page's terms."""

    title: str
    alt: str
    lines: tuple[Line, ...]
    limits: tuple[At, ...]
    across: tuple[At, ...]
    up: tuple[At, ...]


@dataclass(frozen=True, slots=True)
class CurvesView:
    """The plots, and what else can be chosen."""

    pictures: tuple[Picture, ...]
    times: tuple[Choice, ...]
    places: tuple[Choice, ...]
    asked: bool


def curves_view(design: Design, time: str, place: str) -> CurvesView:
    """Return the curves of one part of time at one place.

    Raises
    ------
    FieldError
        There is no such part of time, or no such place.
    """
    shown = chosen_places(design.chosen.study)
    if place and place not in {each.place for each in shown}:
        raise FieldError("place", place, ", ".join(each.place for each in shown))
    run = curves(design, place)
    window = window_of(run, time)
    plots = [voltage(run, window)]
    if run.fitted:
        plots.append(current(run, window))
    return CurvesView(
        pictures=tuple(picture(plot) for plot in plots),
        times=tuple(_time(each, window, run.place.place) for each in WINDOWS),
        places=tuple(
            Choice(name(each), _href(time, each.place), each.place == run.place.place)
            for each in shown
        ),
        asked=bool(time or place),
    )


def _time(each: Window, now: Window, place: str) -> Choice:
    return Choice(each.words, _href(each.key, place), each is now)


def _href(time: str, place: str) -> str:
    asked = {"time": time, "place": place}
    return f"?{urlencode({key: value for key, value in asked.items() if value})}#curves"


def picture(plot: Plot) -> Picture:
    """Return a plot in the page's terms."""
    return Picture(
        plot.title,
        plot.alt,
        tuple(_line(trace) for trace in plot.traces),
        tuple(At(_from_top(limit.at_share), limit.words) for limit in plot.limits),
        tuple(At(f"{tick.at_share:.2%}", tick.label) for tick in plot.across),
        tuple(At(_from_top(tick.at_share), tick.label) for tick in plot.up),
    )


def _line(trace: Trace) -> Line:
    points = " ".join(f"{x * SIDE:.1f},{(1 - y) * SIDE:.1f}" for x, y in trace.points)
    dot = (f"{trace.dot_share[0]:.2%}", _from_top(trace.dot_share[1])) if trace.dot_share else None
    return Line(trace.words, trace.pattern, points, dot)


def _from_top(share: float) -> str:
    return f"{1 - share:.2%}"
