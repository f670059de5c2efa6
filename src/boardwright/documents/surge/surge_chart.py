"""The surge left at each place as a band against what the equipment withstands."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from boardwright.design import Design
from boardwright.documents.look.fonts import FAMILY, font_folder
from boardwright.documents.look.tokens import tokens
from boardwright.documents.words.figures import quantity, volts_between
from boardwright.surge.study import PlaceResult, SurgeStudy

TITLE = "Surge against withstand"
FILE = "surge.svg"

PLACES = 5
"""Places in one chart: the board and the four that come nearest to their withstand."""

_WIDTH = 470
_MARGIN = 230
_BLOCK = 3.4
"""Height of one place, in rows of 20 px: its name, with the SPD, without, and air."""

_ROW_PX = 20
_TICKS = 8
"""Most steps of 1 kV that stay apart on the axis; beyond, every second is named."""

_BRACKET = "M-0.45,-1H0V1H-0.45"

Spec = dict[str, Any]


def build(design: Design) -> str:
    """Return the chart as SVG."""
    return _drawn(json.dumps(spec(design)))


@lru_cache(maxsize=4)
def _drawn(spec_json: str) -> str:
    """Draw a specification; the file and the pack ask for the same one."""
    import vl_convert

    vl_convert.register_font_directory(str(font_folder()))
    return str(vl_convert.vegalite_to_svg(spec_json))


def spec(design: Design, theme: str = "light") -> Spec:
    """Return the chart as a Vega-Lite specification, for this file and for the page.

    Every place has a solid bar with the SPD and an open one without, each with its range in
    words, and a bracket at the rated impulse voltage. ``theme`` is one of the tokens' themes.
    """
    study = design.chosen.study
    places = chosen_places(study)
    rows = [row for n, place in enumerate(places) for row in _rows(place, n * _BLOCK)]
    # Paper is white whatever the screen's ground.
    colours = {**tokens(theme), **({"surface": "#FFFFFF"} if theme == "light" else {})}
    height = len(places) * _BLOCK
    return {
        "description": described(design),
        "width": _WIDTH,
        "height": round(height * _ROW_PX),
        "padding": {"left": 0, "top": 4, "right": 18, "bottom": 4},
        "background": colours["surface"],
        "title": _title(places, study),
        "config": _config(colours),
        "layer": _layers(rows, places, colours),
    }


def described(design: Design) -> str:
    """Return the chart in words, for those who cannot see it."""
    places = chosen_places(design.chosen.study)
    return " ".join([headline(places), *(_in_words(place) for place in places)])


def chosen_places(study: SurgeStudy) -> tuple[PlaceResult, ...]:
    """Return the board and the places nearest to their withstand, in the home's order."""
    board, *others = study.places
    nearest = sorted(others, key=lambda place: -_p95_v(place) / place.uw_v)[: PLACES - 1]
    return (board, *(place for place in others if place in nearest))


def headline(places: tuple[PlaceResult, ...]) -> str:
    """Return what the bands say of the whole, in one sentence."""
    above = [place for place in places if _p95_v(place) > place.uw_v]
    fitted = "With the SPD" if any(place.with_spd_v for place in places) else "Without an SPD"
    if not above:
        return f"{fitted}, every band stays below its withstand."
    names = ", ".join(name(place) for place in above)
    return f"{fitted}, this surge can pass the withstand at: {names}."


def name(place: PlaceResult) -> str:
    """Return the place as a person calls it."""
    return place.appliance or "The board"


def _in_words(place: PlaceResult) -> str:
    bare, fitted = place.without_spd_v, place.with_spd_v
    with_spd = f"{volts_between(fitted.p5_v, fitted.p95_v)} with the SPD, " if fitted else ""
    without = volts_between(bare.p5_v, bare.p95_v)
    return f"{name(place)}: {with_spd}{without} without, withstand {quantity(place.uw_v, 'V')}."


def _p95_v(place: PlaceResult) -> float:
    return (place.with_spd_v or place.without_spd_v).p95_v


def _rows(place: PlaceResult, top: float) -> Iterator[Spec]:
    for line, (words, band) in enumerate(
        (("with SPD", place.with_spd_v), ("without SPD", place.without_spd_v)), start=1
    ):
        if band is not None:
            yield {
                "series": words,
                "beyond": band is place.with_spd_v and band.p95_v > place.uw_v,
                "low_kv": band.p5_v / 1000,
                "high_kv": band.p95_v / 1000,
                "range": volts_between(band.p5_v, band.p95_v),
                "top": top + line + 0.18,
                "foot": top + line + 0.82,
                "middle": top + line + 0.5,
            }


def _full_kv(rows: list[Spec], places: tuple[PlaceResult, ...]) -> int:
    largest = max([row["high_kv"] for row in rows] + [place.uw_v / 1000 for place in places])
    full = int(largest) + 1
    return full if full <= _TICKS else full + full % 2


def _title(places: tuple[PlaceResult, ...], study: SurgeStudy) -> Spec:
    return {
        "text": headline(places),
        "subtitle": f"{study.surge} between line and earth at the origin. "
        "Each bar spans the 5 % to 95 % points.",
        "anchor": "start",
        "frame": "bounds",
        "offset": 14,
    }


def _config(colours: Mapping[str, str]) -> Spec:
    ink = colours["ink"]
    return {
        "font": FAMILY,
        "view": {"stroke": None},
        "title": {
            "color": ink,
            "fontSize": 16,
            "fontWeight": 600,
            "subtitleColor": colours["ink-2"],
            "subtitleFontSize": 12,
            "subtitlePadding": 5,
        },
        "text": {"color": ink, "fontSize": 13, "baseline": "middle"},
        "axis": {
            "labelColor": ink,
            "labelFontSize": 12,
            "domainColor": ink,
            "domainWidth": 1.5,
            "tickColor": ink,
            "tickSize": 7,
            "title": None,
        },
    }


def _layers(
    rows: list[Spec], places: tuple[PlaceResult, ...], colours: Mapping[str, str]
) -> list[Spec]:
    ink, ground = colours["ink"], colours["surface"]
    along, down = _along(_full_kv(rows, places)), _down(len(places) * _BLOCK)
    limits = [_limit(place, n * _BLOCK) for n, place in enumerate(places)]
    bar = {"x": {"field": "low_kv", **along}, "x2": {"field": "high_kv"}}
    bar |= {"y": {"field": "top", **down}, "y2": {"field": "foot"}}
    at_row = {"y": {"field": "middle", **down}}
    at_limit = {"x": {"field": "uw_kv", **along}, "y": {"field": "bracket", **down}}
    open_bar = {"color": ground, "stroke": ink, "strokeWidth": 1.5}
    return [
        _bars([r for r in rows if r["series"] == "without SPD"], open_bar, bar),
        _bars([r for r in rows if r["series"] == "with SPD"], {"color": ink}, bar),
        # A fail has its colour here too, and its name in the title for the grey printer.
        _bars([r for r in rows if r["beyond"]], {"color": colours["adverse"]}, bar),
        _words(rows, "series", {"align": "left"}, at_row | {"x": {"value": -_MARGIN}}),
        _words(rows, "range", {"align": "right"}, at_row | {"x": {"value": -16}}),
        _words(
            limits,
            "name",
            {"align": "left", "fontWeight": 600},
            at_row | {"x": {"value": -_MARGIN}},
        ),
        _brackets(limits, {"stroke": ground, "strokeWidth": 4.5}, at_limit),
        _brackets(limits, {"stroke": ink, "strokeWidth": 2.5}, at_limit),
        _words(limits, "withstand", {"fontSize": 12}, at_row | {"x": {"field": "uw_kv", **along}}),
    ]


def _along(full_kv: int) -> Spec:
    scale = {"domain": [0, full_kv], "nice": False}
    return {"type": "quantitative", "scale": scale, "axis": _axis(full_kv)}


def _down(height: float) -> Spec:
    scale = {"domain": [0, height], "reverse": True, "nice": False}
    return {"type": "quantitative", "scale": scale, "axis": None}


def _limit(place: PlaceResult, top: float) -> Spec:
    return {
        "name": name(place),
        "withstand": f"withstand {quantity(place.uw_v, 'V')}",
        "uw_kv": place.uw_v / 1000,
        "middle": top + 0.45,
        "bracket": top + 2,
    }


def _bars(rows: list[Spec], look: Spec, encoding: Spec) -> Spec:
    return {
        "data": {"values": rows},
        "mark": {"type": "rect", "opacity": 1, **look},
        "encoding": encoding,
    }


def _brackets(limits: list[Spec], look: Spec, encoding: Spec) -> Spec:
    shape = {"shape": _BRACKET, "size": 1500, "filled": False, "opacity": 1}
    return {
        "data": {"values": limits},
        "mark": {"type": "point", **shape, **look},
        "encoding": encoding,
    }


def _words(rows: list[Spec], field: str, look: Spec, encoding: Spec) -> Spec:
    return {
        "data": {"values": rows},
        "mark": {"type": "text", "clip": False, **look},
        "encoding": {**encoding, "text": {"field": field}},
    }


def _axis(full_kv: int) -> Spec:
    step = 1 if full_kv <= _TICKS else 2
    values = list(range(0, full_kv + 1, step))
    last = values[-1]
    return {
        "values": values,
        "grid": False,
        "labelFlush": False,
        "labelExpr": f"datum.value == {last} ? datum.value + ' kV' : '' + datum.value",
    }
