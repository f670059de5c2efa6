"""The surge page: the answer, each place's band against its withstand, what moves it."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.core.findings import Finding
from boardwright.design import Design
from boardwright.documents.surge.surge_chart import chosen_places, headline, name
from boardwright.documents.words.figures import change, quantity, sentence, source, volts_between
from boardwright.surge.study import Band, InputEffect, PlaceResult
from boardwright.web.views.curves import CurvesView, curves_view
from boardwright.web.views.findings import Panel, panel
from boardwright.web.views.sliders import SlidersView, sliders_view
from boardwright.web.views.wear import WearView, wear_view


@dataclass(frozen=True, slots=True)
class Bar:
    """A band on the axis: where it starts and how long it is, in per cent of the axis."""

    words: str
    range: str
    start: str
    length: str
    fitted: bool
    beyond: bool


@dataclass(frozen=True, slots=True)
class Mover:
    """One input, and what its low and its high end add to the peak."""

    words: str
    low: str
    high: str


@dataclass(frozen=True, slots=True)
class PlaceRow:
    """One place: its bars, the bracket at its withstand, its sentence."""

    place: str
    name: str
    bars: tuple[Bar, ...]
    limit: str
    limit_at: str
    sentence: str
    movers: tuple[Mover, ...]


@dataclass(frozen=True, slots=True)
class Tick:
    """One tick of the axis."""

    at: str
    label: str


@dataclass(frozen=True, slots=True)
class SurgeView:
    """All that the surge page shows."""

    answer: str
    surge: str
    need: str
    places: tuple[PlaceRow, ...]
    ticks: tuple[Tick, ...]
    sliders: SlidersView
    lead: str
    method: str
    cautions: tuple[str, ...]
    curves: CurvesView
    wear: WearView | None
    findings: Panel


def surge_view(design: Design, time: str = "", place: str = "") -> SurgeView:
    """Return what the surge page shows; ``time`` and ``place`` choose its curves."""
    study = design.chosen.study
    places = chosen_places(study)
    full_kv = _full_kv(places)
    return SurgeView(
        answer=headline(places),
        surge=study.surge,
        need=f"{sentence(design.need.basis)} {source(design.need.rule)}.",
        places=tuple(_place(place, full_kv) for place in places),
        ticks=_ticks(full_kv),
        sliders=sliders_view(design, places, full_kv * 1000),
        lead=sentence(study.lead_sentence),
        method=f"{study.outcome.value} Method: {study.method}.",
        cautions=study.cautions,
        curves=curves_view(design, time, place),
        wear=wear_view(design),
        findings=panel(design.findings, _of_surges),
    )


def _of_surges(finding: Finding) -> bool:
    return finding.check.startswith(("surge.", "spd."))


def _full_kv(places: tuple[PlaceResult, ...]) -> int:
    """Return the axis's end: the first whole kilovolt past everything shown."""
    largest_v = [place.without_spd_v.p95_v for place in places] + [place.uw_v for place in places]
    return int(max(largest_v, default=0) / 1000) + 1


def _place(place: PlaceResult, full_kv: int) -> PlaceRow:
    bands = ((place.with_spd_v, True), (place.without_spd_v, False))
    return PlaceRow(
        place=place.place,
        name=name(place),
        bars=tuple(
            _bar(band, place.uw_v, full_kv, fitted=fitted) for band, fitted in bands if band
        ),
        limit=quantity(place.uw_v, "V"),
        limit_at=_percent(place.uw_v, full_kv),
        sentence=sentence(place.sentence),
        movers=tuple(_mover(effect) for effect in place.movers),
    )


def _bar(band: Band, uw_v: float, full_kv: int, *, fitted: bool) -> Bar:
    return Bar(
        words="with SPD" if fitted else "without SPD",
        range=volts_between(band.p5_v, band.p95_v),
        start=_percent(band.p5_v, full_kv),
        length=_percent(band.p95_v - band.p5_v, full_kv),
        fitted=fitted,
        # Only what is planned can fail: the bare home is there to compare with.
        beyond=fitted and band.p95_v > uw_v,
    )


def _mover(effect: InputEffect) -> Mover:
    return Mover(
        words=sentence(effect.words).rstrip("."),
        low=change(effect.at_low_v, "V"),
        high=change(effect.at_high_v, "V"),
    )


def _ticks(full_kv: int) -> tuple[Tick, ...]:
    step = 1 if full_kv <= 8 else 2  # noqa: PLR2004 - closer labels would touch on a phone
    values = range(0, full_kv + 1, step)
    last = values[-1]
    return tuple(
        Tick(_percent(kv * 1000, full_kv), f"{kv} kV" if kv == last else f"{kv}") for kv in values
    )


def _percent(value_v: float, full_kv: int) -> str:
    return f"{value_v / full_kv / 10:.2f}%"
