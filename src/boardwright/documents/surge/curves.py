"""Voltage and current against time in the middle run of a surge study, ready to be drawn.

Everything here is a share of the plot's width or height, from its left or its foot, so that
paper and page each set it to their own size.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from textwrap import shorten

import numpy as np

from boardwright.core.errors import FieldError
from boardwright.design import Design
from boardwright.documents.drawing.template import template
from boardwright.documents.look.tokens import tokens
from boardwright.documents.surge.home import line_of, used
from boardwright.documents.surge.surge_chart import name
from boardwright.documents.words.figures import number, quantity
from boardwright.surge.assumptions import load_assumptions
from boardwright.surge.bands import BOARD, STANDARD_SURGE, ends_of, places_of
from boardwright.surge.build import LIVE_VARISTOR, network_of
from boardwright.surge.elements import Node
from boardwright.surge.solver import Solution, solve
from boardwright.surge.study import PlaceResult
from boardwright.surge.waveforms import Array

END_S = 60e-6


@dataclass(frozen=True, slots=True)
class Window:
    """The part of time that is shown; ``log`` spreads each power of ten alike."""

    key: str
    words: str
    start_s: float
    end_s: float
    log: bool = False


WINDOWS = (
    Window("front", "First 3 µs", 0.0, 3e-6),
    Window("ringing", "12 µs", 0.0, 12e-6),
    Window("whole", "60 µs", 0.0, END_S),
    Window("log", "Log time", 0.05e-6, END_S, log=True),
)


@dataclass(frozen=True, slots=True)
class Tick:
    """One tick of an axis."""

    at_share: float
    label: str


@dataclass(frozen=True, slots=True)
class Trace:
    """One line: its points, and the dot at its peak where that is in view."""

    words: str
    pattern: str
    points: tuple[tuple[float, float], ...]
    dot_share: tuple[float, float] | None

    @property
    def end_share(self) -> float:
        """Where the line leaves the plot, from its foot."""
        return self.points[-1][1]


@dataclass(frozen=True, slots=True)
class Limit:
    """A rated impulse voltage across the plot."""

    words: str
    at_share: float


@dataclass(frozen=True, slots=True)
class Plot:
    """One picture with its axes; ``title`` says what it shows, ``alt`` all of it in words."""

    key: str
    title: str
    alt: str
    traces: tuple[Trace, ...]
    limits: tuple[Limit, ...]
    across: tuple[Tick, ...]
    up: tuple[Tick, ...]


@dataclass(frozen=True, slots=True)
class Curves:
    """The middle run of a study: what stands at a place, and what the SPD carries."""

    solution: Solution
    place: PlaceResult
    fitted: bool


_PATTERNS = ("plain", "dashed", "dotted")


def curves(design: Design, place: str = "") -> Curves:
    """Return the run behind the study's typical figures.

    ``place`` is a place of the study by its name; left out, the one nearest to its withstand.
    """
    _, home = line_of(design, place)
    solution = solve(network_of(home, STANDARD_SURGE.wave, load_assumptions()), END_S)
    there = places_of(home)
    shown = [each for each in design.chosen.study.places if each.place in there]
    nearest = max(shown[1:] or shown, key=used)
    picked = next((each for each in shown if each.place == place), nearest)
    return Curves(solution, picked, home.spd is not None)


def window_of(run: Curves, key: str) -> Window:
    """Return the window of a name, or without one the shortest that holds the place's peak.

    Raises
    ------
    FieldError
        There is no such window.
    """
    if not key:
        peak_s = _peak_s(run, _strained(run, run.place.place))
        return next(each for each in WINDOWS if peak_s <= each.end_s * _WELL_WITHIN)
    found = next((each for each in WINDOWS if each.key == key), None)
    if found is None:
        raise FieldError("time", key, ", ".join(each.key for each in WINDOWS))
    return found


_WELL_WITHIN = 0.8


def _peak_s(run: Curves, wave: Array) -> float:
    return float(run.solution.t_s[int(np.abs(wave).argmax())])


def voltage(run: Curves, window: Window) -> Plot:
    """Return the voltages: at the SPD's own terminals, at the board, at the place."""
    place = run.place
    waves = {"the board": _strained(run, BOARD)}
    if run.fitted:
        ends = Node("SPD", "L"), Node("SPD", "PE" if _to_earth(place) else "N")
        waves = {"the SPD's own terminals": run.solution.voltage_v(*ends), **waves}
    if place.place != BOARD:
        waves[name(place)] = _strained(run, place.place)
    last = list(waves)[-1]
    when = _moment(_peak_s(run, waves[last]))
    title = f"{_capital(last)}: highest {when} after the surge begins"
    limit = (f"withstand {quantity(place.uw_v, 'V')}", place.uw_v)
    return _plot(
        run, window, ("voltage", title, "V", {k: v / 1000 for k, v in waves.items()}), limit
    )


def current(run: Curves, window: Window) -> Plot:
    """Return the current through the SPD."""
    wave = np.abs(run.solution.current_a(LIVE_VARISTOR)) / 1000
    title = f"Through the SPD: highest {_moment(_peak_s(run, wave))} after the surge begins"
    return _plot(run, window, ("current", title, "A", {"through the SPD": wave}), None)


def paper(design: Design) -> list[dict[str, str]]:
    """Return the pictures of the pack: voltage while it peaks, current to its end."""
    run = curves(design)
    plots = [voltage(run, window_of(run, ""))]
    if run.fitted:
        plots.append(current(run, window_of(run, "whole")))
    return [{"title": plot.title, "alt": plot.alt, "svg": build_svg(plot)} for plot in plots]


def build_svg(plot: Plot, theme: str = "light") -> str:
    """Return a plot as a picture of its own."""
    ink = {**tokens(theme), **({"surface": "#FFFFFF"} if theme == "light" else {})}
    return template("curves.svg.jinja").render(plot=plot, ink=ink, ends=_ends(plot)) + "\n"


def _ends(plot: Plot) -> list[tuple[str, float, str]]:
    """Return each line's label, pushed apart from the others, and the pattern that names it.

    A limit has no pattern: its bracket stands where its words are.
    """
    ends = [(trace.end_share, trace.words, trace.pattern) for trace in plot.traces]
    ends += [(limit.at_share, limit.words, "") for limit in plot.limits]
    placed, floor = [], -1.0
    for at, words, pattern in sorted(ends):
        floor = max(at, floor + _LABEL_SHARE)
        placed.append((shorten(words, _LABEL_LETTERS, placeholder=" …"), floor, pattern))
    over = max(0.0, floor - 1.0)
    return [(words, at - over, pattern) for words, at, pattern in placed]


_LABEL_LETTERS = 28
_LABEL_SHARE = 0.09
"""Least distance of two labels at the lines' ends, as a share of the plot's height."""


def _strained(run: Curves, place: str) -> Array:
    to_earth, to_neutral = ends_of(place)
    return run.solution.voltage_v(*(to_earth if _to_earth(run.place) else to_neutral))


def _to_earth(place: PlaceResult) -> bool:
    return place.mode != "line to neutral"


def _plot(
    run: Curves,
    window: Window,
    what: tuple[str, str, str, Mapping[str, Array]],
    limit: tuple[str, float] | None,
) -> Plot:
    key, title, unit, waves = what
    t_s = run.solution.t_s
    seen = (t_s >= window.start_s) & (t_s <= window.end_s)
    low, high = _range([wave[seen] for wave in waves.values()], limit)
    step = nice_step(high - low)
    low, high = math.floor(low / step) * step, math.ceil(high / step) * step

    def up(value: float) -> float:
        return round((value - low) / (high - low), 4)

    traces = tuple(
        Trace(
            words,
            pattern,
            tuple(
                (_across(float(t), window), up(float(v)))
                for t, v in zip(t_s[seen], wave[seen], strict=True)
            ),
            _dot(t_s, wave, window, up),
        )
        for pattern, (words, wave) in zip(_PATTERNS, waves.items(), strict=False)
    )
    limits = (Limit(limit[0], up(limit[1] / 1000)),) if limit and limit[1] / 1000 <= high else ()
    spoken = ", ".join(waves)
    return Plot(
        key,
        f"{title}.",
        f"{title}. {_capital(key)} against time: {spoken}; {window.words.lower()}.",
        traces,
        limits,
        tuple(_times(window)),
        values_up(low, high, step, f"k{unit}"),
    )


def _dot(t_s: Array, wave: Array, window: Window, up: object) -> tuple[float, float] | None:
    at = int(np.abs(wave).argmax())
    if not window.start_s <= t_s[at] <= window.end_s or not callable(up):
        return None
    return _across(float(t_s[at]), window), up(float(wave[at]))


def _range(waves: Sequence[Array], limit: tuple[str, float] | None) -> tuple[float, float]:
    low = min(0.0, *(float(wave.min()) for wave in waves))
    high = max(float(wave.max()) for wave in waves)
    limit_k = limit[1] / 1000 if limit else 0.0
    # A limit far above all would press the curves flat against the foot.
    return low, max(high, limit_k) if limit_k < 2 * high else high


def nice_step(span: float) -> float:
    """Return a step of 1, 2 or 5 that parts a span into three to seven."""
    raw = span / 5
    power = 10 ** math.floor(math.log10(raw))
    return float(next(m * power for m in (1, 2, 5, 10) if m * power >= raw))


def _across(moment_s: float, window: Window) -> float:
    if window.log:
        span = math.log(window.end_s / window.start_s)
        return round(math.log(max(moment_s, window.start_s) / window.start_s) / span, 4)
    return round((moment_s - window.start_s) / (window.end_s - window.start_s), 4)


def _times(window: Window) -> Iterator[Tick]:
    if window.log:
        moments_us = [0.1, 1.0, 10.0, window.end_s * 1e6]
    else:
        step = nice_step((window.end_s - window.start_s) * 1e6)
        moments_us = [n * step for n in range(int(window.end_s * 1e6 / step + 1e-9) + 1)]
    for at, moment_us in enumerate(moments_us):
        unit = "\u00a0µs" if at == len(moments_us) - 1 else ""
        yield Tick(_across(moment_us * 1e-6, window), f"{number(moment_us)}{unit}")


def values_up(low: float, high: float, step: float, unit: str) -> tuple[Tick, ...]:
    """Return the ticks of an upright axis, the unit on the last."""
    count = round((high - low) / step)
    labels = [number(round(low + n * step, 6)) for n in range(count + 1)]
    labels[-1] = f"{labels[-1]}\u00a0{unit}"
    return tuple(Tick(n / count, label) for n, label in enumerate(labels))


def _moment(when_s: float) -> str:
    return f"{number(when_s * 1e6, 2)}\u00a0µs"


def _capital(words: str) -> str:
    return words[0].upper() + words[1:]
